package plain

import "strings"

// sameShape are characters that many prints don't tell apart; upsideDown those that are each other
// when a part is seen from the other side. Common practice, no source.
var (
	sameShape  = strings.NewReplacer("O", "0", "o", "0", "I", "1", "l", "1", "i", "1", "|", "1", "S", "5", "s", "5", "Z", "2", "z", "2")
	upsideDown = map[string]string{"9": "6", "W": "M", "w": "M", "m": "M"}
)

// Alike finds two labels that may be taken for each other, "" where there are none. A longer label
// isn't taken for another one upside down: its characters change places too.
func Alike(labels []string) (one, other string) {
	seen := map[string]string{}
	for _, label := range labels {
		key := sameShape.Replace(label)
		if turned, ok := upsideDown[key]; ok {
			key = turned
		}
		if first, ok := seen[key]; ok {
			return first, label
		}
		seen[key] = label
	}
	return "", ""
}
