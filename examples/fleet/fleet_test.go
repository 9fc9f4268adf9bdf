package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The test's own binary is a node or a worker where the environment says so: processes that can be killed.
func TestMain(m *testing.M) {
	var err error
	switch os.Getenv("FLEET_TEST") {
	case "":
		os.Exit(m.Run())
	case "node":
		err = node(os.Args[1], os.Args[2], os.Args[3], os.Args[4:])
	case "worker":
		err = worker(os.Args[1], os.Args[2] == "forgetful")
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// node is one of a cluster, until its standard input ends; a line there asks for what its streams hold.
func node(name, dir, port string, routes []string) error {
	client, err := strconv.Atoi(port)
	if err != nil {
		return err
	}
	options := &server.Options{ServerName: name, Host: "127.0.0.1", Port: client, StoreDir: dir, JetStream: true, NoSigs: true, MaxPayload: largest}
	options.Cluster = server.ClusterOpts{Name: "fleet", Host: "127.0.0.1"}
	for i, route := range routes { // the first is its own
		at, err := url.Parse(route)
		if err != nil {
			return err
		}
		if i == 0 {
			options.Cluster.Port, err = strconv.Atoi(at.Port())
		} else {
			options.Routes = append(options.Routes, at)
		}
		if err != nil {
			return err
		}
	}
	s, err := server.NewServer(options)
	if err != nil {
		return err
	}
	s.Start()
	for lines := bufio.NewScanner(os.Stdin); lines.Scan(); {
		info, err := s.Jsz(&server.JSzOptions{Accounts: true, Streams: true})
		if err != nil {
			return err
		}
		held := map[string]string{}
		for _, account := range info.AccountDetails {
			for _, stream := range account.Streams {
				held[stream.Name] = fmt.Sprintf("%d messages on %d subjects, %d to %d", stream.State.Msgs, stream.State.NumSubjects, stream.State.FirstSeq, stream.State.LastSeq)
			}
		}
		if err := json.NewEncoder(os.Stdout).Encode(held); err != nil {
			return err
		}
	}
	s.Shutdown()
	return nil
}

func plans() (judge, error) { return newJudge(demoRules, demoJob) }

// worker judges until its standard input ends; a forgetful one withholds every tenth acknowledgement.
func worker(servers string, forgetful bool) error {
	j, err := plans()
	if err != nil {
		return err
	}
	js, end, err := connect(servers)
	if err != nil {
		return err
	}
	defer end()
	ctx, stop := context.WithCancel(context.Background())
	go func() {
		io.Copy(io.Discard, os.Stdin)
		stop()
	}()
	n := 0
	return j.work(ctx, js, 5*time.Second, func() bool { n++; return forgetful && n%10 == 0 })
}

// process is one that the test has started.
type process struct {
	*exec.Cmd
	in  io.WriteCloser
	out *bufio.Reader
}

func start(t *testing.T, role string, args ...string) *process {
	p := &process{Cmd: exec.Command(os.Args[0], args...)}
	p.Env = append(os.Environ(), "FLEET_TEST="+role)
	p.Stderr = os.Stderr
	var err error
	p.in, err = p.StdinPipe()
	require.NoError(t, err)
	out, err := p.StdoutPipe()
	require.NoError(t, err)
	p.out = bufio.NewReader(out)
	require.NoError(t, p.Start())
	t.Cleanup(func() { p.Process.Kill(); p.Wait() })
	return p
}

func (p *process) kill(t *testing.T) {
	require.NoError(t, p.Process.Kill())
	p.Wait()
}

// held is what a node's own copies of the streams hold.
func (p *process) held(t *testing.T) (held map[string]string) {
	_, err := io.WriteString(p.in, "state\n")
	require.NoError(t, err)
	line, err := p.out.ReadBytes('\n')
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(line, &held))
	return held
}

func freePort(t *testing.T) string {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	_, port, err := net.SplitHostPort(l.Addr().String())
	require.NoError(t, err)
	return port
}

// howMany readings there are: FLEET_READINGS=20000 go test . takes minutes.
func howMany(t *testing.T) int {
	n, err := strconv.Atoi(os.Getenv("FLEET_READINGS"))
	if err != nil {
		return 1000
	}
	return n
}

// made are so many invented readings of five shops, over three months, no two alike.
func made(n int) map[string][][]byte {
	demo := bytes.Split(bytes.TrimSpace(demoReadings), []byte("\n"))
	all := map[string][][]byte{}
	for i := range n {
		shop := fmt.Sprintf("Shop %d (invented)", i%5)
		reading := bytes.Replace(demo[i%len(demo)], []byte(`"by": "invented"`), fmt.Appendf(nil, `"by": "invented, %d"`, i), 1)
		reading = bytes.Replace(reading, []byte(`"2026-03-`), fmt.Appendf(nil, `"2026-0%d-`, 3+i/7%3), 1)
		all[shop] = append(all[shop], reading)
	}
	return all
}

// Three nodes, each a process; every reading sent twice; one worker forgets acknowledgements; midway another
// worker and the leader of the queue are killed, and the node comes back. In the end every reading is judged, each
// record is there once, every node holds the same, and each month is what reviewbatch makes of the same readings.
func TestKilledMidway(t *testing.T) {
	n := howMany(t)
	ctx, stop := context.WithTimeout(context.Background(), 10*time.Minute)
	defer stop()
	dir := t.TempDir()
	names := []string{"n0", "n1", "n2"}
	var ports, routes, urls []string
	for range names {
		ports = append(ports, freePort(t))
		routes = append(routes, "nats://127.0.0.1:"+freePort(t))
		urls = append(urls, "nats://127.0.0.1:"+ports[len(ports)-1])
	}
	nodes := map[string]*process{}
	begin := func(i int) {
		args := []string{names[i], filepath.Join(dir, names[i]), ports[i], routes[i]}
		for j, route := range routes {
			if j != i {
				args = append(args, route)
			}
		}
		nodes[names[i]] = start(t, "node", args...)
	}
	for i := range names {
		begin(i)
	}
	servers := strings.Join(urls, ",")
	js, end, err := connect(servers)
	require.NoError(t, err)
	defer end()
	require.NoError(t, streams(ctx, js, 3))

	steady, victim := start(t, "worker", servers, "forgetful"), start(t, "worker", servers, "")
	all := made(n)
	var sent atomic.Int64
	var senders sync.WaitGroup
	for shop, lines := range all {
		for range 2 {
			senders.Add(1)
			go func() {
				defer senders.Done()
				for _, line := range lines {
					if assert.NoError(t, send(ctx, js, shop, line)) {
						sent.Add(1)
					}
				}
			}()
		}
	}
	state := func(stream string) (s *jetstream.StreamInfo) {
		require.NoError(t, retry(ctx, func(ctx context.Context) error {
			one, err := js.Stream(ctx, stream)
			if err == nil {
				s = one.CachedInfo()
			}
			return err
		}))
		return s
	}
	for state(records).State.Msgs < uint64(n*2/5) {
		time.Sleep(20 * time.Millisecond)
	}
	victim.kill(t)
	leader := state(readings).Cluster.Leader
	atKill := state(records).State.Msgs // what asks after the kill may wait for another leader
	nodes[leader].kill(t)
	killed := time.Now()
	require.Less(t, atKill, uint64(n), "killed midway")
	time.Sleep(2 * time.Second)
	begin(int(leader[1] - '0'))
	replacement := start(t, "worker", servers, "")
	senders.Wait()
	require.EqualValues(t, 2*n, sent.Load())
	require.NoError(t, drained(ctx, js))
	t.Logf("%d readings sent twice; %d records when %s was killed, all %d %v later", n, atKill, leader, n, time.Since(killed).Round(100*time.Millisecond))

	assert.EqualValues(t, n, state(records).State.Msgs, "each record once")
	assert.Zero(t, state(refused).State.Msgs)
	want := fmt.Sprintf("%d messages on %d subjects, ", n, n)
	assert.Eventually(t, func() bool {
		a, b, c := nodes["n0"].held(t), nodes["n1"].held(t), nodes["n2"].held(t)
		return strings.HasPrefix(a[records], want) && a[records] == b[records] && b[records] == c[records]
	}, time.Minute, 200*time.Millisecond, "every node holds the same")

	var v view
	require.NoError(t, retry(ctx, func(context.Context) (err error) { // the node that came back may have no leader to ask yet
		v, err = look(ctx, js)
		return err
	}))
	batch, hashes := reviewbatch(t, all)
	assert.Equal(t, batch.String(), v.String())
	assert.Equal(t, n, len(hashes))
	stored := map[string]bool{}
	subjects, err := must(js.Stream(ctx, records)).Info(ctx, jetstream.WithSubjectFilter("records.>"))
	require.NoError(t, err)
	for subject := range subjects.State.Subjects {
		stored[subject[strings.LastIndex(subject, ".")+1:]] = true
	}
	assert.Equal(t, hashes, stored, "record by record")
	for _, p := range []*process{steady, replacement} {
		p.in.Close()
		assert.NoError(t, p.Wait())
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// reviewbatch judges the same readings by the batch program: what their months come to, and the hash of each record.
func reviewbatch(t *testing.T, all map[string][][]byte) (view, map[string]bool) {
	program := filepath.Join(t.TempDir(), "reviewbatch")
	out, err := exec.Command("go", "build", "-C", "../..", "-o", program, "./examples/reviewbatch").CombinedOutput()
	require.NoError(t, err, string(out))
	v, hashes := view{}, map[string]bool{}
	for shop, lines := range all {
		batch := exec.Command(program, "-records", "-job", "demo.json", "-rules", "demo-rules.json")
		batch.Stdin = bytes.NewReader(append(bytes.Join(lines, []byte("\n")), '\n'))
		out, err := batch.Output()
		require.NoError(t, err)
		for line := range bytes.Lines(out) {
			var answer struct {
				Record       json.RawMessage
				RecordSHA256 string
			}
			require.NoError(t, json.Unmarshal(line, &answer))
			require.NoError(t, v.add(shop, answer.Record))
			hashes[answer.RecordSHA256] = true
		}
	}
	return v, hashes
}

// The demonstration, as README.md shows it.
func TestDemonstration(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, run(context.Background(), nil, nil, &out))
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	assert.Contains(t, string(readme), out.String())
}

// A reading that the library refuses goes to a stream of its own and isn't judged again; the next one is.
func TestRefusals(t *testing.T) {
	engine, err := embedded(t.TempDir())
	require.NoError(t, err)
	defer engine.Shutdown()
	js, end, err := connect("", nats.InProcessServer(engine))
	require.NoError(t, err)
	defer end()
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	require.NoError(t, streams(ctx, js, 1))
	good, _, _ := bytes.Cut(demoReadings, []byte("\n"))
	other := bytes.Replace(good, []byte("DEMO-1"), []byte("DEMO-2"), 1)
	const shop = "Ü. *>\t1 (invented)"
	for _, reading := range [][]byte{[]byte("{"), other, good, bytes.Replace(good, []byte("21 N·m"), []byte("21"), 1), good} {
		require.NoError(t, send(ctx, js, shop, reading))
	}
	j, err := plans()
	require.NoError(t, err)
	working, stopWork := context.WithCancel(ctx)
	ended := make(chan error)
	go func() { ended <- j.work(working, js, 5*time.Second, nil) }()
	require.NoError(t, drained(ctx, js))
	stopWork()
	require.NoError(t, <-ended)
	no, err := js.Stream(ctx, refused)
	require.NoError(t, err)
	assert.EqualValues(t, 3, no.CachedInfo().State.Msgs)
	msg, err := no.GetLastMsgForSubject(ctx, "refused."+token(shop)+"."+hash(other))
	require.NoError(t, err)
	assert.Contains(t, string(msg.Data), `job \"DEMO-2\", revision 1 isn't known`)
	v, err := look(ctx, js)
	require.NoError(t, err)
	require.Len(t, v, 1)
	assert.Equal(t, 1, v[shop+", 2026-03"].jobs)
}

// The subject takes one record, also long after the engine has forgotten the message's ID.
func TestStoredOnce(t *testing.T) {
	engine, err := embedded(t.TempDir())
	require.NoError(t, err)
	defer engine.Shutdown()
	js, end, err := connect("", nats.InProcessServer(engine))
	require.NoError(t, err)
	defer end()
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	defer stop()
	require.NoError(t, streams(ctx, js, 1))
	for i := range 3 {
		_, err := js.Publish(ctx, "records.aa.2026-03.ff", []byte("{}"), jetstream.WithMsgID(strconv.Itoa(i)))
		assert.Equal(t, i > 0, exists(err), "%v", err)
		require.NoError(t, store(ctx, js, "records.aa.2026-03.ff", []byte("{}")))
	}
	s, err := js.Stream(ctx, records)
	require.NoError(t, err)
	assert.EqualValues(t, 1, s.CachedInfo().State.Msgs)
}

func TestCalledWrongly(t *testing.T) {
	for _, args := range [][]string{{"-work"}, {"-servers", "nats://127.0.0.1:1", "more"}, {"-colour"}} {
		assert.Error(t, run(context.Background(), args, nil, io.Discard), args)
	}
}
