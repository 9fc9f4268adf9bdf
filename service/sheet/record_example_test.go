package sheet_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strings"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

// A record holds codes; a language has the words.
func ExampleWords_Record() {
	text, err := os.ReadFile("../testdata/other-release.json") // invented
	if err != nil {
		fmt.Println(err)
		return
	}
	record, err := service.ReadRecord(text)
	if err != nil {
		fmt.Println(err)
		return
	}
	words, err := sheet.English().Record(record)
	if err != nil {
		fmt.Println(err)
		return
	}
	first, _, _ := strings.Cut(words, "What was judged")
	fmt.Print(first)
	// Output:
	// BY ANOTHER RELEASE, 0.0.9, and not verified: its hash is right, and this
	// release, 0.1.0, judged it again.
	//    -   stations[0].seated, seat: pass before, now seated
	//    -   stations[1].leaks.late, leak.hot: pass before, now no line
	//    -   stations[1].leaks.hot, leak.hot: no line before, now pass
	// Job T-1, revision 1, done 2026-03-09: complete, NOT AS PLANNED
}

// A sheet's JSON is read back by this form and refused where it is newer. Fields that aren't known are passed over.
func ExampleSheet_UnmarshalJSON() {
	job, _ := service.ReadJob(invented())
	plan, _ := service.NewPlan(job, service.Rules{})
	data, _ := sheet.English().Sheet(plan, false).JSON()
	var read sheet.Sheet
	err := json.Unmarshal([]byte(strings.Replace(string(data), `"version"`, `"novelty": [], "version"`, 1)), &read)
	fmt.Println(read.Job, len(read.Pages), err)
	err = json.Unmarshal([]byte(strings.Replace(string(data), `"version": 1`, `"version": 2`, 1)), &read)
	fmt.Println(errors.Is(err, service.ErrNewerVersion), err)
	// Output:
	// T-1 5 <nil>
	// true version: written for version 2, this program reads version 1; want a newer program, or a sheet of version 1
}

// English governs; the others are translated from it.
func ExampleLanguages() {
	fmt.Println(sheet.Languages())
	// Output: [en es]
}
