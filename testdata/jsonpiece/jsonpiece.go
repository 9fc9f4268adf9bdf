// Package jsonpiece is for fuzz tests of what reads JSON.
package jsonpiece

import (
	"encoding/json"
	"regexp"
)

// keys and values of a JSON text, but for lists and objects.
var pieces = regexp.MustCompile(`"(?:\\.|[^"\\])*"|-?\d+(?:\.\d+)?|true|false`)

// Put puts a text in the place of one piece of a JSON text: as it is if it is JSON, else as a string. So a search finds
// what is wrong behind the first reader, too.
func Put(data string, piece uint16, text string) string {
	all := pieces.FindAllStringIndex(data, -1)
	if text == "" || len(all) == 0 {
		return data
	}
	if !json.Valid([]byte(text)) {
		quoted, _ := json.Marshal(text) // a string always can
		text = string(quoted)
	}
	at := all[int(piece)%len(all)]
	return data[:at[0]] + text + data[at[1]:]
}
