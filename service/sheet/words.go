package sheet

import (
	_ "embed"
	"strings"
)

//go:embed words/en.txt
var english string

// sentences are what the codes of the sheet and of findings say in English.
var sentences = func() map[string]string {
	all := map[string]string{}
	for line := range strings.Lines(english) {
		if code, words, found := strings.Cut(strings.TrimSpace(line), ": "); found && line[0] != '#' {
			all[code] = words
		}
	}
	return all
}()
