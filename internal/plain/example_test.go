package plain_test

import (
	"fmt"

	"example.com/snugturn/internal/plain"
)

func ExampleQuote() {
	fmt.Println(plain.Quote("5 gal\n\x1b[2K: accepted"))
	fmt.Println(plain.Quote("W-1\u200b"), plain.Hidden("W-1\u200b"), plain.Visible('\u200b'))
	fmt.Println(plain.Blank("\u3164"), plain.Cut("the fifty-first byte of a text is where an error stops quoting"))
	// Output:
	// "5 gal\n\x1b[2K: accepted"
	// "W-1\u200b" \u200b false
	// true the fifty-first byte of a text is where an error…
}
