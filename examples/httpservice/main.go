// Httpservice answers a posted job file with its work sheet.
//
// The idea: the library touches no file, clock or network, so a service around it is only what
// every service needs: a bound on what comes in, times after which it gives up, one way to say
// what is wrong, and an orderly end. Nothing is kept between requests.
//
//	httpservice -listen ADDR [-rules FILE]
//
// The rules are the shop's, by which the work will be judged; the sheets aim by them.
// POST /sheet takes a job file (application/json, at most 1 MiB) and gives the sheet as JSON, as a
// page or as text, whichever the Accept field prefers, in the language that Accept-Language prefers. Errors are
// problem details (RFC 9457). Without -listen it only says how it is started. It ends with 0 after an interrupt, 1 when it can't serve, 2 when it
// was called wrongly.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"example.com/snugturn/service"
)

const usage = `httpservice -listen ADDR [-rules FILE]    serves work sheets, for example on 127.0.0.1:8080

  curl -H "Content-Type: application/json" --data-binary @job.json http://127.0.0.1:8080/sheet

and with -H "Accept: text/html" for a page to print, or "Accept: text/plain" for a terminal.

Nothing protects it but these bounds: put it behind what you trust for encryption and sign-on.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

func run(ctx context.Context, args []string, out, problems io.Writer) int {
	flags := flag.NewFlagSet("httpservice", flag.ContinueOnError)
	flags.SetOutput(problems)
	address := flags.String("listen", "", "`ADDR` to listen on, such as 127.0.0.1:8080")
	var rules service.Rules
	flags.Func("rules", "the shop's rules `FILE`, by which the work will be judged (default: none, and no sheet promises a pass)", func(name string) (err error) {
		rules, err = readRules(name)
		return err
	})
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return 0
	} else if err != nil {
		return 2
	}
	if *address == "" {
		fmt.Fprint(out, usage)
		return 0
	}
	listener, err := net.Listen("tcp", *address)
	if err != nil {
		fmt.Fprintln(problems, "httpservice:", err)
		return 1
	}
	fmt.Fprintln(out, "listening on", listener.Addr())
	if err := serve(ctx, listener, rules); err != nil {
		fmt.Fprintln(problems, "httpservice:", err)
		return 1
	}
	return 0
}

// readRules takes no more of a file than rules can have.
func readRules(name string) (service.Rules, error) {
	f, err := os.Open(name)
	if err != nil {
		return service.Rules{}, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxBody+1))
	if err != nil {
		return service.Rules{}, err
	}
	return service.ReadRules(data)
}

// newServer gives up on a client that dawdles, so that it can't hold a connection for ever.
func newServer(rules service.Rules) *http.Server {
	return &http.Server{
		Handler:           handler(rules),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      20 * time.Second,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    16 << 10,
	}
}

// serve answers until the context ends, then lets running requests finish.
func serve(ctx context.Context, listener net.Listener, rules service.Rules) error {
	server := newServer(rules)
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.Background(), 15*time.Second)
	defer cancel()
	return server.Shutdown(grace)
}
