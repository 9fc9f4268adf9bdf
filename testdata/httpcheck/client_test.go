package httpcheck

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"strings"
	"testing"

	_ "github.com/oapi-codegen/runtime" // for client_gen_test.go, which isn't kept
)

func read(t *testing.T, name string, into any) {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, into); err != nil {
		t.Fatal(name, err)
	}
}

// The generated client reads the demonstration files into its types and gets its answers in them. Source: openapi-clients.
func TestGoClient(t *testing.T) {
	ctx := context.Background()
	c, err := NewClientWithResponses(os.Getenv("HTTPSERVICE_URL"))
	if err != nil {
		t.Fatal(err)
	}
	var job, bench Job
	var done AsDone
	read(t, example+"servicesheet/demo.json", &job)
	read(t, "../../service/testdata/bench.json", &bench)
	read(t, "../../service/testdata/asdone.json", &done)

	plan, err := c.PlanWithResponse(ctx, job)
	if err != nil || plan.JSON200 == nil || len(plan.JSON200.Findings) == 0 || len(plan.JSON200.Wants) == 0 {
		t.Fatalf("%v: %s", err, plan.Body)
	}
	if plan.JSON200.Findings[0].Code == "" || plan.JSON200.Wants[0].Verdict != "not recorded" {
		t.Errorf("%+v", plan.JSON200)
	}
	spanish := "es"
	sheet, err := c.SheetWithResponse(ctx, &SheetParams{AcceptLanguage: &spanish}, job)
	if err != nil || sheet.JSON200 == nil || sheet.JSON200.Lang != "es" || len(sheet.JSON200.Pages) == 0 {
		t.Fatalf("%v: %.500s", err, sheet.Body)
	}
	review, err := c.ReviewWithResponse(ctx, ReviewRequest{Job: bench, AsDone: done})
	if err != nil || review.JSON200 == nil || len(review.JSON200.Lines) == 0 {
		t.Fatalf("%v: %s", err, review.Body)
	}
	verify := func(text []byte) *VerifyRecordResponse {
		answer, err := c.VerifyRecordWithBodyWithResponse(ctx, "application/json", bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		return answer
	}
	if v := verify(review.Body); v.JSON200 == nil || v.JSON200.Outcome != "verified" || v.JSON200.Sha256 != review.JSON200.Sha256 {
		t.Errorf("%s", v.Body)
	}
	// What the client read and writes again is still the record.
	again, err := json.Marshal(review.JSON200)
	if err != nil {
		t.Fatal(err)
	}
	if v := verify(again); v.JSON200 == nil || v.JSON200.Outcome != "verified" {
		t.Errorf("%s", v.Body)
	}
	review.JSON200.AsPlanned = !review.JSON200.AsPlanned
	if again, err = json.Marshal(review.JSON200); err != nil {
		t.Fatal(err)
	}
	if v := verify(again); v.ApplicationproblemJSON422 == nil || (*v.ApplicationproblemJSON422.Errors)[0].Code != "altered" {
		t.Errorf("%s", v.Body)
	}
	job.Stations = nil
	refused, err := c.PlanWithResponse(ctx, job)
	if err != nil || refused.ApplicationproblemJSON422 == nil || !strings.HasPrefix((*refused.ApplicationproblemJSON422.Errors)[0].Pointer, "/stations") {
		t.Fatalf("%v: %s", err, refused.Body)
	}
}
