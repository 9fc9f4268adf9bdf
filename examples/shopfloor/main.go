// Shopfloor is a job on a phone: which step is next, which mark stood at the index, what the wrench was set to, and
// what the review says of it, while the foreman sees a line for each job, the worst first.
//
// The idea: what is asked for, what it is judged by and every sentence of it are the library's. A program on top of it
// keeps answers and shows pages, and what it must get right is only that: nothing that was confirmed is lost, nothing is
// overwritten, and a form that was sent twice counts once.
//
//	shopfloor [-listen ADDR] [-origin URL] [FOLDER]
//
// It needs arguments:
//
//	shopfloor -list
//
// FOLDER has jobs/*.json, the job files, and rules.json, the shop's rules; entries go into its entries, a file each. Without
// one it makes a folder with invented jobs. It listens on 127.0.0.1:8090 unless told otherwise. It knows no passwords: whoever
// can reach it can write, so on a network an authenticating TLS proxy belongs in front of it, and -origin says by which
// address browsers reach that: https://shop.example. -list prints the foreman's list and ends.
//
// It ends with 0 after an interrupt, 1 when it can't serve, 2 when it was called wrongly.
package main

import (
	"context"
	"embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"example.com/snugturn/service"
)

//go:embed demo
var demo embed.FS

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

func run(ctx context.Context, args []string, out, problems io.Writer) int {
	flags := flag.NewFlagSet("shopfloor", flag.ContinueOnError)
	flags.SetOutput(problems)
	listen := flags.String("listen", "127.0.0.1:8090", "`ADDR` to listen on; for more than this machine put an authenticating TLS proxy in front")
	origin := flags.String("origin", "", "`URL` by which browsers reach the proxy in front, such as https://shop.example")
	list := flags.Bool("list", false, "print the foreman's list and end")
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return 0
	} else if err != nil || flags.NArg() > 1 {
		fmt.Fprintln(problems, "shopfloor [-listen ADDR] [-origin URL] [FOLDER]")
		return 2
	}
	if err := work(ctx, flags.Arg(0), *listen, *origin, *list, out, problems); err != nil {
		fmt.Fprintln(problems, "shopfloor:", err)
		return 1
	}
	return 0
}

func work(ctx context.Context, folder, listen, origin string, list bool, out, problems io.Writer) error {
	invented := folder == ""
	if invented {
		made, err := os.MkdirTemp("", "shopfloor")
		if err != nil {
			return err
		}
		if list {
			defer os.RemoveAll(made)
		}
		if err := makeDemo(made); err != nil {
			return err
		}
		folder = made
	} else if _, err := os.Stat(filepath.Join(folder, madeUp)); err == nil {
		invented = true // the folder of an earlier run
	}
	public, err := url.Parse(origin)
	if err != nil || origin != "" && public.Host == "" {
		return fmt.Errorf("-origin %q: want an address such as https://shop.example", origin)
	}
	rules, err := readRules(filepath.Join(folder, "rules.json"))
	if err != nil {
		return err
	}
	s, err := openStore(folder)
	if err != nil {
		return err
	}
	defer s.close()
	host, _, err := net.SplitHostPort(listen)
	if err != nil {
		return err
	}
	loopback := loopbackHost(host)
	f := newFloor(s, rules, invented, loopback, slog.New(slog.NewTextHandler(problems, nil)))
	f.public = public.Host
	if list {
		return f.print(out)
	}
	listener, err := net.Listen("tcp", listen)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "open http://%s in a browser; entries go to %s\n", listener.Addr(), folder)
	if invented {
		fmt.Fprintln(out, "The jobs are invented, and not for any engine.")
	}
	if !canSyncFolders {
		fmt.Fprintln(out, "This system can't sync a folder by itself: the name of the last entry is safe when the system has written it.")
	}
	if !loopback {
		fmt.Fprintln(out, "Everybody who reaches this address can write: an authenticating TLS proxy belongs in front of it.")
	}
	return serve(ctx, f, listener)
}

func serve(ctx context.Context, f *floor, listener net.Listener) error {
	server := &http.Server{Handler: f, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 20 * time.Second, WriteTimeout: 20 * time.Second,
		IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10, ErrorLog: slog.NewLogLogger(f.log.Handler(), slog.LevelWarn)}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	return server.Shutdown(grace)
}

// readRules reads the shop's rules. Without them nothing could be judged.
func readRules(name string) (rules service.Rules, err error) {
	data, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return rules, fmt.Errorf("%w: the shop's rules, by which work is judged, are a file of the folder", err)
	}
	if err == nil {
		rules, err = service.ReadRules(data)
	}
	return rules, err
}

// madeUp is a file of a folder whose jobs are invented.
const madeUp = "invented"

// makeDemo writes the invented jobs into a folder.
func makeDemo(folder string) error {
	if err := os.WriteFile(filepath.Join(folder, madeUp), []byte("The jobs in this folder are invented, and not for any engine.\n"), 0o640); err != nil {
		return err
	}
	return fs.WalkDir(demo, "demo", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		to := filepath.Join(folder, filepath.FromSlash(strings.TrimPrefix(path, "demo")))
		if d.IsDir() {
			return os.MkdirAll(to, 0o750)
		}
		data, err := demo.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(to, data, 0o640)
	})
}

// print is the foreman's list for a terminal.
func (f *floor) print(out io.Writer) error {
	jobs, err := f.jobs()
	if err != nil {
		return err
	}
	if f.invented {
		fmt.Fprintln(out, "Invented jobs, not for any engine.")
	}
	for _, r := range f.rows(jobs) {
		next := ""
		if r.Next != "" {
			next = "; next: " + r.Next
		}
		name := r.J.File
		if r.J.Err == nil {
			name = r.J.Job.Machine + ", " + r.J.Job.ID
		}
		if _, err := fmt.Fprintf(out, "%s  %s: %s%s\n", r.Sign, name, r.Why, next); err != nil {
			return err
		}
	}
	return nil
}
