package units

import (
	"strconv"
	"unicode/utf8"

	"example.com/snugturn/internal/rational"
)

// Shops write inches and turns as fractions: 3/4 in, 1½ in, 2-1/8". A fraction is read where it is
// written as rules and sockets are marked, in lowest terms over 2, 4, 8, 16, 32 or 64, or is one
// character. 20/25 may as well be 20 to 25, and 1/3 doesn't end as a decimal: both are refused.

const wantFraction = "a fraction in lowest terms over 2, 4, 8, 16, 32 or 64, such as 3/4 or 1½, or the decimal"

// maxTerm bounds numerators and denominators; the finest scale there is has 1/64 in.
const maxTerm = 9999

// startsFraction tells cheaply whether a fraction may follow whole digits that end at text[i].
func startsFraction(text string, i int) bool {
	if i >= len(text) {
		return false
	}
	switch c := text[i]; {
	case c == '/', c >= utf8.RuneSelf:
		return true
	case c == ' ', c == '-':
		return i+1 < len(text) && ('0' <= text[i+1] && text[i+1] <= '9' || text[i+1] >= utf8.RuneSelf)
	}
	return false
}

// scanFraction reads what is behind the digits text[first:i], which are whole: "/4", "½",
// " 1/2" or "-1/2". Where no fraction is there, end is i.
func scanFraction(text string, first, i int, digits u128) (n number, end int, problem *ParseError) {
	bad := func(what string, err error) (number, int, *ParseError) {
		return number{}, 0, &ParseError{Offset: first, Problem: what, Want: wantFraction, Err: err}
	}
	character := false
	whole, at := digits, i
	var num, den uint64
	if slash := slashAt(text, i); slash > i && i > first {
		whole, num = u128{}, min(digits.lo, maxTerm+1)
		if digits.hi != 0 {
			num = maxTerm + 1
		}
		den, end = termAt(text, slash)
	} else {
		joined := text[i] == '-'
		if i > first {
			at = skipJoint(text, i)
		}
		if num, den, end = fractionAt(text, at); end == at {
			return number{}, i, nil
		}
		if den != 0 && num >= den {
			return bad("a whole number with a fraction of one or more", ErrSyntax)
		}
		_, _, past := vulgarAt(text, at)
		character = past > at
		if joined && digits.isZero() {
			_, _, problem := bad("a mixed number of nothing and a fraction", ErrAmbiguous)
			problem.Candidates = []string{"0 to " + text[at:end], text[at:end]}
			return number{}, 0, problem
		}
	}
	switch {
	case den == 0:
		return bad("a fraction without a denominator", ErrSyntax)
	case max(num, den) > maxTerm:
		return bad("a term of the fraction above 9999", ErrRange)
	}
	if !character && !marked(num, den) {
		_, _, problem := bad("no fraction of a rule or a scale", ErrAmbiguous)
		problem.Candidates = twoReadings(num, den)
		return number{}, 0, problem
	}
	n, ends, fits := fractionOf(whole, num, den)
	switch {
	case !ends:
		return bad("the fraction never ends as a decimal", ErrRange)
	case !fits:
		return bad("more than 34 significant digits", ErrRange)
	}
	return n, end, nil
}

// marked reports whether a fraction is in lowest terms and over what rules and sockets are marked in.
func marked(num, den uint64) bool {
	switch den {
	case 2, 4, 8, 16, 32, 64:
		return num%2 == 1
	case 3: // which doesn't end, and is refused for that
		return num%3 != 0
	}
	return false
}

// twoReadings are what "20/25" may mean.
func twoReadings(num, den uint64) []string {
	n, d := strconv.FormatUint(num, 10), strconv.FormatUint(den, 10)
	between := " to "
	if num >= den {
		between = " or "
	}
	return []string{n + between + d, "the fraction " + n + "/" + d}
}

// skipJoint passes what is between a whole number and its fraction.
func skipJoint(text string, i int) int {
	if text[i] == '-' {
		return i + 1
	}
	return skipBlank(text, i)
}

// fractionAt reads "½" or "1/2"; end is i where neither is there.
func fractionAt(text string, i int) (num, den uint64, end int) {
	if num, den, end = vulgarAt(text, i); end > i {
		return num, den, end
	}
	num, top := termAt(text, i)
	slash := slashAt(text, top)
	if top == i || slash == top {
		return 0, 0, i
	}
	den, end = termAt(text, slash)
	return num, den, end
}

// fractionOf is whole + num/den, which is in lowest terms and not whole, whether that ends as a decimal, and whether 34 digits
// hold it.
func fractionOf(whole u128, num, den uint64) (n number, ends, fits bool) {
	places := 1
	for pow10[places]%den != 0 {
		if places++; places > 6 { // the finest that ends are 64ths
			return number{}, false, false
		}
	}
	coef, fits := whole.shift10(places)
	if fits {
		coef, fits = coef.plus(u128{0, num * (pow10[places] / den)})
	}
	return number{coef: coef, places: uint8(places)}, true, fits && coef.less(pow10wide[maxDigits])
}

// vulgarAt reads one of the fraction characters; end is i where none is there.
func vulgarAt(text string, i int) (num, den uint64, end int) {
	r, size := utf8.DecodeRuneInString(text[i:])
	if num, den := rational.Vulgar(r); den != 0 {
		return uint64(num), uint64(den), i + size
	}
	return 0, 0, i
}

// slashAt passes a slash, ASCII or U+2044.
func slashAt(text string, i int) int {
	const fractionSlash = "⁄"
	switch {
	case i < len(text) && text[i] == '/':
		return i + 1
	case i+len(fractionSlash) <= len(text) && text[i:i+len(fractionSlash)] == fractionSlash:
		return i + len(fractionSlash)
	}
	return i
}

// termAt reads digits; one above maxTerm stands for all above it.
func termAt(text string, i int) (term uint64, end int) {
	for ; i < len(text) && '0' <= text[i] && text[i] <= '9'; i++ {
		term = min(term*10+uint64(text[i]-'0'), maxTerm+1)
	}
	return term, i
}
