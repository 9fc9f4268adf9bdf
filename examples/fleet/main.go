// Fleet judges the readings of many shops as a work queue, and stores each record once.
//
// The idea: the same readings give the same record, byte for byte, wherever they are judged. So a queue that
// hands a reading out at least once, and a stream that takes one message a subject with the record's hash as
// the subject's last part, come to exactly one record a reading, whatever is sent twice or killed midway.
//
//	go run .                                              an invented demonstration, on an engine in this process
//	go run . -servers URL[,URL...] -send SHOP < readings  one reading a line
//	go run . -servers URL[,URL...] -job FILE -rules FILE -work
//	go run . -servers URL[,URL...] -view                  what each shop's month has come to
package main

import (
	"bufio"
	"bytes"
	"context"
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
)

//go:embed demo.json
var demoJob []byte

//go:embed demo-rules.json
var demoRules []byte

//go:embed demo.ndjson
var demoReadings []byte

// largest is a message of the engine: a record of 1 MiB with its head.
const largest = 2 << 20

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:], os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "fleet:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string, in io.Reader, out io.Writer) error {
	flags := flag.NewFlagSet("fleet", flag.ContinueOnError)
	servers := flags.String("servers", "", "`URLs` of the engine's nodes, parted by commas")
	copies := flags.Int("copies", 1, "copies of each stream, where the streams aren't there yet")
	shop := flags.String("send", "", "send the readings on standard input, of this `SHOP`")
	working := flags.Bool("work", false, "judge readings until interrupted")
	viewing := flags.Bool("view", false, "print what each month has come to")
	rulesFile := flags.String("rules", "", "rules `FILE` to judge by")
	var jobs [][]byte
	flags.Func("job", "job `FILE`; may be given again", func(name string) error {
		data, err := os.ReadFile(name)
		jobs = append(jobs, data)
		return err
	})
	if err := flags.Parse(args); err != nil {
		return err
	}
	if len(args) == 0 {
		return demonstration(ctx, out)
	}
	if *servers == "" || flags.NArg() > 0 {
		return errors.New("want -servers with -send, -work or -view; without arguments: a demonstration")
	}
	js, end, err := connect(*servers)
	if err != nil {
		return err
	}
	defer end()
	if err := streams(ctx, js, *copies); err != nil {
		return err
	}
	switch {
	case *shop != "":
		return sendAll(ctx, js, *shop, in)
	case *working:
		rules, err := os.ReadFile(*rulesFile)
		if err != nil {
			return err
		}
		plans, err := newJudge(rules, jobs...)
		if err != nil {
			return err
		}
		return plans.work(ctx, js, 30*time.Second, nil)
	case *viewing:
		v, err := look(ctx, js)
		fmt.Fprint(out, v)
		return err
	}
	return errors.New("want one of -send, -work and -view")
}

func connect(servers string, more ...nats.Option) (jetstream.JetStream, func(), error) {
	nc, err := nats.Connect(servers, append(more, nats.MaxReconnects(-1), nats.ReconnectWait(100*time.Millisecond), nats.RetryOnFailedConnect(true))...)
	if err != nil {
		return nil, nil, err
	}
	js, err := jetstream.New(nc)
	return js, nc.Close, err
}

func sendAll(ctx context.Context, js jetstream.JetStream, shop string, in io.Reader) error {
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		if line := bytes.TrimSpace(lines.Bytes()); len(line) > 0 {
			if err := send(ctx, js, shop, line); err != nil {
				return err
			}
		}
	}
	return lines.Err()
}

// embedded is an engine in this process, without a port.
func embedded(dir string) (*server.Server, error) {
	s, err := server.NewServer(&server.Options{DontListen: true, JetStream: true, StoreDir: dir, NoSigs: true, MaxPayload: largest})
	if err == nil {
		if s.Start(); !s.ReadyForConnections(10 * time.Second) {
			err = errors.New("the engine didn't start")
		}
	}
	return s, err
}

// demonstration sends three invented readings twice over from two shops, and one that can't be read.
func demonstration(ctx context.Context, out io.Writer) error {
	dir, err := os.MkdirTemp("", "fleet")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	engine, err := embedded(dir)
	if err != nil {
		return err
	}
	defer engine.Shutdown()
	js, end, err := connect("", nats.InProcessServer(engine))
	if err != nil {
		return err
	}
	defer end()
	plans, err := newJudge(demoRules, demoJob)
	if err := errors.Join(err, streams(ctx, js, 1)); err != nil {
		return err
	}
	for _, shop := range []string{"North (invented)", "South (invented)", "North (invented)"} {
		if err := sendAll(ctx, js, shop, bytes.NewReader(append([]byte("{\n"), demoReadings...))); err != nil {
			return err
		}
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	for range 2 {
		go plans.work(ctx, js, 30*time.Second, nil)
	}
	if err := drained(ctx, js); err != nil {
		return err
	}
	v, err := look(ctx, js)
	no, other := js.Stream(ctx, refused)
	if err := errors.Join(err, other); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s%d readings refused\n", v, no.CachedInfo().State.Msgs)
	return nil
}

// drained waits until no reading is left. What the streams hold decides, and not what workers counted: the
// answer to an acknowledgement can be lost.
func drained(ctx context.Context, js jetstream.JetStream) error {
	return retry(ctx, func(ctx context.Context) error {
		s, err := js.Stream(ctx, readings)
		if err == nil && s.CachedInfo().State.Msgs > 0 {
			err = errors.New("readings are left")
		}
		return err
	})
}
