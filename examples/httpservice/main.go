// Httpservice answers posted job files, readings and records over HTTP: what a plan finds, the work sheet, the record
// of a review, and whether a record is still what was written.
//
// The idea: the library touches no file, clock or network, so a service around it is only what every service needs: a
// bound on what comes in, on what is worked on at once and on what waits to be sent, times after which it gives up,
// one way to say what is wrong, and an orderly end. Nothing is kept between requests.
//
//	httpservice -listen ADDR [-rules FILE] [-drain TIME]
//
// The rules are the shop's: the sheets aim by them and reviews judge by them. The endpoints are in openapi.json, which
// GET /v1/openapi.json gives. Errors are problem details (RFC 9457). Without -listen it only says how it is started.
// It logs to standard error, a line a request. It ends with 0 after an interrupt, 1 when it can't serve, 2 when it
// was called wrongly.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"

	"example.com/snugturn/service"
)

const usage = `httpservice -listen ADDR [-rules FILE] [-drain TIME]

  curl -H "Content-Type: application/json" --data-binary @job.json http://127.0.0.1:8080/v1/sheet

POST /v1/plan, /v1/sheet, /v1/review, /v1/record/verify; GET /healthz and, for all of it, /v1/openapi.json.
Sign-on, TLS, compression and metrics belong to the proxy in front, which also takes in what slow clients send and
read; without one, listen on 127.0.0.1 only.
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)    // a second signal ends it at once
	debug.SetMemoryLimit(400 << 20) // up to here garbage is collected at leisure
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

func run(ctx context.Context, args []string, out, problems io.Writer) int {
	flags := flag.NewFlagSet("httpservice", flag.ContinueOnError)
	flags.SetOutput(problems)
	address := flags.String("listen", "", "`ADDR` to listen on, such as 127.0.0.1:8080")
	drain := flags.Duration("drain", 3*time.Second, "`TIME` from a signal to stop until no new connection is taken, for whoever asks /healthz to see it")
	var rules service.Rules
	flags.Func("rules", "the shop's rules `FILE`, by which the work will be judged (default: none, no sheet promises a pass and nothing is reviewed)", func(name string) (err error) {
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
	s := newServer(rules, slog.New(slog.NewJSONHandler(problems, nil)))
	listener, err := net.Listen("tcp", *address)
	if err == nil {
		fmt.Fprintln(out, "listening on", listener.Addr())
		err = s.serve(ctx, listener, *drain)
	}
	if err != nil {
		fmt.Fprintln(problems, "httpservice:", err)
		return 1
	}
	return 0
}

func readRules(name string) (rules service.Rules, err error) {
	data, err := os.ReadFile(name)
	if err == nil {
		rules, err = service.ReadRules(data)
	}
	return rules, err
}

// serve answers until the context ends. Then /healthz says so and all else goes on, connections ending with their
// answers, until the drain time is over; what is under way by then is finished. The times of a body and of an answer are
// set by the request: an answer has its time from when it is written and not from when it was asked for.
func (s *server) serve(ctx context.Context, listener net.Listener, drain time.Duration) error {
	server := &http.Server{Handler: s, ReadHeaderTimeout: 5 * time.Second, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10,
		ErrorLog: slog.NewLogLogger(s.log.Handler(), slog.LevelWarn)}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	s.draining.Store(true)
	s.log.Info("draining", "time", drain)
	time.Sleep(drain)
	grace, cancel := context.WithTimeout(context.Background(), s.wait+s.writeTime)
	defer cancel()
	return server.Shutdown(grace)
}
