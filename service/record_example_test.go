package service_test

import (
	"bytes"
	"crypto/ed25519"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"example.com/snugturn/service"
)

// A record is kept, and judged again whenever somebody asks. Its layout doesn't matter.
func ExampleReadRecord() {
	text, err := inventedReview().Record()
	if err != nil {
		fmt.Println(err)
		return
	}
	var indented bytes.Buffer
	if err := json.Indent(&indented, text, "", "  "); err != nil {
		fmt.Println(err)
		return
	}
	record, err := service.ReadRecord(indented.Bytes())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("by release %s, verified: %t, complete: %t\n", record.Release, record.Verified, record.Complete)
	again, _ := record.MarshalJSON()
	fmt.Println("the same bytes:", bytes.Equal(again, text))
	review, _ := record.Review()
	fmt.Println("verdicts that came out otherwise:", len(service.Differences(record.Lines, review.Lines)))
	fmt.Println("judged by, among others:", record.Clauses[0].Message, record.Clauses[0].Sources)

	_, err = service.ReadRecord([]byte(strings.Replace(string(text), `"value":"21"`, `"value":"22"`, 1)))
	fmt.Println("one reading changed:", errors.Is(err, service.ErrAltered))
	// Output:
	// by release 0.1.0, verified: true, complete: true
	// the same bytes: true
	// verdicts that came out otherwise: 0
	// judged by, among others: torque/guarded-by-U [ILAC-G8:09/2019, 4.2.2, w = U]
	// one reading changed: true
}

// The hash in a record is anybody's to take. Who wants to know who wrote it, and that nobody changed it on purpose,
// signs the canonical bytes with a key of the shop's, and keeps the signature with the record.
func ExampleReview_Record() {
	public, private, err := ed25519.GenerateKey(nil) // once; the private key is the shop's to guard
	if err != nil {
		fmt.Println(err)
		return
	}
	text, err := inventedReview().Record()
	if err != nil {
		fmt.Println(err)
		return
	}
	signature := ed25519.Sign(private, text)

	// Later, out of whatever it was kept in: the record first, then the signature over its canonical bytes.
	record, err := service.ReadRecord(text)
	if err != nil {
		fmt.Println(err)
		return
	}
	signed, _ := record.MarshalJSON()
	fmt.Println("verified:", record.Verified, "signed by the shop:", ed25519.Verify(public, signed, signature))

	// Judged anew after another reading, it is a good record, and not the one that was signed.
	review := inventedReview()
	review.Done.KeyCycles = nil
	plan, _ := service.NewPlan(review.Job, review.Rules)
	forged, _ := plan.Review(review.Done)
	text, _ = forged.Record()
	record, err = service.ReadRecord(text)
	signed, _ = record.MarshalJSON()
	fmt.Println("verified:", record.Verified, err, "signed by the shop:", ed25519.Verify(public, signed, signature))
	// Output:
	// verified: true signed by the shop: true
	// verified: true <nil> signed by the shop: false
}

// What a second look at the gap changed.
func ExampleDifferences() {
	before := inventedReview()
	done := before.Done
	open := false
	done.Stations[0].Seated = &open
	plan, _ := service.NewPlan(before.Job, before.Rules)
	after, err := plan.Review(done)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, d := range service.Differences(inventedReview().Lines, after.Lines) {
		fmt.Println(d)
	}
	// Output:
	// stations[0].torque, torque: pass before, now undecided
	// stations[0].seated, seat: seated before, now fail
}
