package oracles

import (
	"os"
	"os/exec"
	"testing"
)

// The table that drain's own tests read is what factors.py prints today. Source: oracle-fuel.
func TestFactors(t *testing.T) {
	want, err := os.ReadFile("../../drain/testdata/factors.tsv")
	if err != nil {
		t.Fatal(err)
	}
	got, err := exec.Command("python3", "factors.py").Output()
	if err != nil || string(got) != string(want) {
		t.Errorf("%v; python3 factors.py >../../drain/testdata/factors.tsv", err)
	}
}
