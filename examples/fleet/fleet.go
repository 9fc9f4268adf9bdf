package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/nats-io/nats.go/jetstream"

	"example.com/snugturn/drain"
	"example.com/snugturn/service"
	"example.com/snugturn/units"
)

// The streams. A reading is in one of them at a time: to be judged, or judged, or refused.
const (
	readings = "READINGS" // readings.<shop>: a work queue; what is done is gone
	records  = "RECORDS"  // records.<shop>.<month>.<hash>: one message a subject, for ever
	refused  = "REFUSED"  // refused.<shop>.<hash>: what the library won't judge, and why
)

// Streams makes the streams where they aren't there yet, so many copies of each.
func streams(ctx context.Context, js jetstream.JetStream, copies int) error {
	once := func(name string) jetstream.StreamConfig {
		return jetstream.StreamConfig{Name: name, Subjects: []string{strings.ToLower(name) + ".>"}, Replicas: copies, Compression: jetstream.S2Compression,
			MaxMsgsPerSubject: 1, Discard: jetstream.DiscardNew, DiscardNewPerSubject: true}
	}
	queue := jetstream.StreamConfig{Name: readings, Subjects: []string{"readings.*"}, Replicas: copies, Retention: jetstream.WorkQueuePolicy}
	for _, config := range []jetstream.StreamConfig{queue, once(records), once(refused)} {
		if err := retry(ctx, func(ctx context.Context) error { _, err := js.CreateOrUpdateStream(ctx, config); return err }); err != nil {
			return fmt.Errorf("stream %s: %w", config.Name, err)
		}
	}
	return nil
}

// retry tries again until it works or the context ends: while a cluster elects a leader, answers don't come.
func retry(ctx context.Context, try func(context.Context) error) error {
	for {
		one, cancel := context.WithTimeout(ctx, 2*time.Second)
		err := try(one)
		cancel()
		if err == nil || ctx.Err() != nil {
			return errors.Join(err, ctx.Err())
		}
		time.Sleep(100 * time.Millisecond)
	}
}

// token is a shop's name as a part of a subject, which may hold no blank and no point; shopOf reads it.
func token(shop string) string { return hex.EncodeToString([]byte(shop)) }

func shopOf(subject string) string {
	name, _ := hex.DecodeString(strings.Split(subject, ".")[1])
	return string(name)
}

func hash(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }

// exists is the engine's answer to a second message on a subject that takes one: error 10077 of its API.
func exists(err error) bool {
	var api *jetstream.APIError
	return errors.As(err, &api) && api.ErrorCode == 10077
}

// store publishes until the stream has the message, and counts one that it had already as stored.
func store(ctx context.Context, js jetstream.JetStream, subject string, data []byte) error {
	return retry(ctx, func(ctx context.Context) error {
		if _, err := js.Publish(ctx, subject, data, jetstream.WithMsgID(subject)); !exists(err) {
			return err
		}
		return nil
	})
}

// send puts a shop's reading into the queue. The same one sent again in short order is dropped there; later
// it is judged again, to the same record, which is stored once.
func send(ctx context.Context, js jetstream.JetStream, shop string, reading []byte) error {
	subject := "readings." + token(shop)
	return retry(ctx, func(ctx context.Context) error {
		_, err := js.Publish(ctx, subject, reading, jetstream.WithMsgID(subject+hash(reading)))
		return err
	})
}

// judge holds plans, which any number of workers may share.
type judge map[string]*service.Plan

func key(job string, revision int) string { return fmt.Sprintf("%q, revision %d", job, revision) }

func newJudge(rulesText []byte, jobs ...[]byte) (judge, error) {
	rules, err := service.ReadRules(rulesText)
	plans := judge{}
	for _, data := range jobs {
		if err != nil {
			break
		}
		var job service.Job
		if job, err = service.ReadJob(data); err == nil {
			plans[key(job.ID, job.Revision)], err = service.NewPlan(job, rules)
		}
	}
	return plans, err
}

// record judges a reading: the record's bytes, the same wherever and whenever it is done, and its month and hash
// as the end of a subject.
func (j judge) record(reading []byte) (record []byte, subject string, err error) {
	done, err := service.ReadAsDone(reading)
	if err != nil {
		return nil, "", err
	}
	plan := j[key(done.Job, done.Revision)]
	if plan == nil {
		return nil, "", fmt.Errorf("job %s isn't known", key(done.Job, done.Revision))
	}
	review, err := plan.Review(done)
	if err == nil {
		record, err = review.Record()
	}
	var sealed struct{ SHA256 string }
	if err == nil {
		err = json.Unmarshal(record, &sealed)
	}
	return record, done.Date.String()[:len("2026-03")] + "." + sealed.SHA256, err
}

// work judges readings until the context ends. A reading is acknowledged when the stream of records has
// acknowledged its record, and not before; what is left unacknowledged is handed out again, to whoever asks.
// Drop, if not nil, says which acknowledgements to withhold: that is for tests.
func (j judge) work(ctx context.Context, js jetstream.JetStream, wait time.Duration, drop func() bool) error {
	var queue jetstream.Consumer
	err := retry(ctx, func(ctx context.Context) (err error) {
		queue, err = js.CreateOrUpdateConsumer(ctx, readings, jetstream.ConsumerConfig{Durable: "judges", AckPolicy: jetstream.AckExplicitPolicy, AckWait: wait})
		return err
	})
	for err == nil && ctx.Err() == nil {
		batch, fetchErr := queue.Fetch(50, jetstream.FetchMaxWait(time.Second))
		if fetchErr != nil {
			time.Sleep(100 * time.Millisecond) // an election; the reading stays where it is
			continue
		}
		for msg := range batch.Messages() {
			if err := j.one(ctx, js, msg, drop); err != nil {
				return err
			}
		}
	}
	if ctx.Err() != nil {
		return nil
	}
	return err
}

// one judges one reading. The error is that of the context: trouble of the machinery is waited out.
func (j judge) one(ctx context.Context, js jetstream.JetStream, msg jetstream.Msg, drop func() bool) error {
	shop := token(shopOf(msg.Subject()))
	record, subject, refusal := j.record(msg.Data())
	if refusal != nil {
		why, _ := json.Marshal(map[string]string{"reading": string(msg.Data()), "problem": refusal.Error()})
		if err := store(ctx, js, "refused."+shop+"."+hash(msg.Data()), why); err != nil {
			return err
		}
		_ = msg.TermWithReason("refused") // where it doesn't get through the reading comes again, and is refused again
		return nil
	}
	if err := store(ctx, js, "records."+shop+"."+subject, record); err != nil {
		return err
	}
	if drop == nil || !drop() {
		_ = msg.Ack() // where it doesn't get through the reading comes again, and its record is there
	}
	return nil
}

// month is what the records of a shop's month come to. In what order they are added changes nothing.
type month struct {
	jobs, complete, unknown int // unknown counts wastes of which nobody knows how much
	waste                   drain.Estimate[units.MassUnit]
}

// view is every month, by "shop, 2026-03".
type view map[string]*month

func (v view) add(shop string, data []byte) error {
	var record struct {
		AsDone   struct{ Date string }
		Complete bool
		Totals   []service.WasteTotal
	}
	if err := json.Unmarshal(data, &record); err != nil {
		return err
	}
	at := shop + ", " + record.AsDone.Date[:len("2026-03")]
	m := v[at]
	if m == nil {
		zero := units.Kilogram.Of(0)
		m = &month{waste: drain.Estimate[units.MassUnit]{Low: zero, Best: zero, High: zero, From: drain.Assumed}}
		v[at] = m
	}
	m.jobs++
	if record.Complete {
		m.complete++
	}
	for _, total := range record.Totals {
		sum, err := drain.Sum(units.Kilogram, m.waste, total.Mass)
		switch {
		case total.Basis == service.NotStated:
			m.unknown++
		case err != nil:
			return err
		default:
			m.waste = sum
		}
	}
	return nil
}

func (v view) String() string {
	var lines []string
	for at, m := range v {
		lines = append(lines, fmt.Sprintf("%s: %d jobs, %d complete, waste %v, and %d wastes of unknown mass\n", at, m.jobs, m.complete, m.waste.RoundIn(units.Kilogram, 3), m.unknown))
	}
	slices.Sort(lines)
	return strings.Join(lines, "")
}

// look reads every record there is and adds them up.
func look(ctx context.Context, js jetstream.JetStream) (view, error) {
	v := view{}
	all, err := js.OrderedConsumer(ctx, records, jetstream.OrderedConsumerConfig{})
	if err != nil {
		return nil, err
	}
	for {
		info, err := all.Info(ctx)
		if err != nil || info.NumPending == 0 {
			return v, err
		}
		batch, err := all.Fetch(min(500, int(info.NumPending)))
		if err != nil {
			return nil, err
		}
		for msg := range batch.Messages() {
			if err := v.add(shopOf(msg.Subject()), msg.Data()); err != nil {
				return nil, err
			}
		}
		if err := batch.Error(); err != nil {
			return nil, err
		}
	}
}
