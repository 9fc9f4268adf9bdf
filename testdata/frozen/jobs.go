package frozen

import (
	"fmt"
	"os"
	"strings"
)

// The files of package service's testdata that the tables' jobs are made of.
var files = map[string]string{
	"demo": "forms/0.1.0/job-demo.json", "bench": "forms/0.1.0/job-bench.json", "cartridge": "jobs/cartridge.json",
	"cover": "jobs/cover-and-cap.json", "three": "jobs/three-stations.json", "two": "jobs/two-stations.json",
	"done": "forms/0.1.0/asdone-demo.json", "rules": "rules.json", "benchdone": "forms/0.1.0/asdone-bench.json",
}

func file(folder, name string) []byte {
	text, err := os.ReadFile(folder + "/" + files[name])
	if err != nil {
		panic(err)
	}
	return text
}

// behind are the edits that begin with a word, without it.
func behind(word string, edits []string) (rest []string) {
	for _, e := range edits {
		if after, ok := strings.CutPrefix(e, word); ok {
			rest = append(rest, after)
		}
	}
	return rest
}

// Job is a job of the folder with those of the edits that begin with a stroke.
func Job(folder, name string, edits []string) []byte {
	return Edit(file(folder, name), behind("/", edits))
}

// Rules are the folder's rules with those of the edits that begin with "rules".
func Rules(folder string, edits []string) []byte {
	return Edit(file(folder, "rules"), behind("rules", edits))
}

// Readings are the demonstration's, or where the edits have "bench" the bench job's, for a job and with those of the edits
// that begin with "done".
func Readings(folder, job string, revision int, edits []string) []byte {
	name := "done"
	for _, e := range edits {
		if e == "bench" {
			name = "benchdone"
		}
	}
	return Edit(file(folder, name), append([]string{`/job="` + job + `"`, fmt.Sprintf("/revision=%d", revision)}, behind("done", edits)...))
}
