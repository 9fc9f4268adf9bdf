package units

import (
	"math/bits"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"
)

// A row of a kind's table: all that is known about one unit. The tables drive parsing, printing,
// codes, documentation and tests; nothing about a unit is anywhere else.
type row struct {
	symbol   string // how it is printed, and always read back
	name     string // in words
	usual    bool   // one of the few that an error names as examples; without any, the first three
	num, den uint64 // this unit, in units of the kind's first row, exactly
	ucum     string // UCUM case-sensitive code, "" where there is none
	rec20    string // UN/CEFACT Recommendation 20 code, "" where there is none
	// caveat says what is to be known about a code, or why there is none.
	caveat map[codeSystem]string
	// spellings are further ways to write it, as foldUnit leaves them: a "·" stands for any dot,
	// hyphen, blank or asterisk between words. Letter case is ignored, but for spellings that
	// begin with "=", which are taken to the letter, as the symbol is.
	spellings []string
}

// kind is one kind of quantity with its units.
type kind struct {
	name   string // "torque"
	typ    string // "TorqueUnit"
	rows   []row
	traps  []trap
	ratios []ratio // len(rows)²: from row i to row j at i·len(rows)+j
	once   sync.Once
	index  map[string]entry
}

// trap is a spelling that must not be guessed at, with the reason or the choices.
type trap struct {
	spelling   string
	candidates []string // symbols of units of this kind, or words
	why        string
}

// ratio is num/den·10^exp10 in lowest terms; den has no factor 2 or 5, so that a division by it
// ends exactly when den is 1.
type ratio struct {
	num, den uint64
	exp10    int8
}

// newKind works out every pair of a table once.
func newKind(name, typ string, rows []row, traps ...trap) *kind {
	k := &kind{name: name, typ: typ, rows: rows, traps: traps}
	k.ratios = make([]ratio, len(rows)*len(rows))
	for i, from := range rows {
		for j, to := range rows {
			k.ratios[i*len(rows)+j] = newRatio(from, to)
		}
	}
	return k
}

// newRatio is from/to. Both fractions are small enough that nothing passes 64 bits; a test holds
// every pair of every table against math/big.
func newRatio(from, to row) ratio {
	a, b := lowest(from.num, to.num)
	c, d := lowest(to.den, from.den)
	a, d = lowest(a, d)
	c, b = lowest(c, b)
	// Move tens out before anything is multiplied, then twos and fives out of the denominator.
	a, tensA := withoutTens(a)
	b, tensB := withoutTens(b)
	c, tensC := withoutTens(c)
	d, tensD := withoutTens(d)
	num, den, exp10 := a*c, b*d, tensA-tensB+tensC-tensD
	for ; den%2 == 0; den /= 2 {
		num *= 5
		exp10--
	}
	for ; den%5 == 0; den /= 5 {
		num *= 2
		exp10--
	}
	num, tens := withoutTens(num)
	return ratio{num, den, int8(exp10 + tens)}
}

func withoutTens(n uint64) (rest uint64, tens int) {
	for ; n%10 == 0; n /= 10 {
		tens++
	}
	return n, tens
}

func lowest(a, b uint64) (uint64, uint64) {
	g := gcd(a, b)
	return a / g, b / g
}

// gcd is Stein's, on positive words.
func gcd(a, b uint64) uint64 {
	twos := bits.TrailingZeros64(a | b)
	a >>= bits.TrailingZeros64(a)
	for b != 0 {
		b >>= bits.TrailingZeros64(b)
		if a > b {
			a, b = b, a
		}
		b -= a
	}
	return a << twos
}

// ratio from unit i to unit j; not ok where either is no unit of this kind.
func (k *kind) ratio(i, j uint8) (ratio, bool) {
	if r := k.pair(i, j); r != nil {
		return *r, true
	}
	return ratio{num: 1, den: 1}, false
}

// pair is ratio, not copied; nil where either is no unit of this kind.
func (k *kind) pair(i, j uint8) *ratio {
	if n := len(k.rows); int(i) < n && int(j) < n {
		return &k.ratios[int(i)*n+int(j)]
	}
	return nil
}

func (k *kind) has(u uint8) bool { return int(u) < len(k.rows) }

// symbol never fails: a unit out of range prints as what it is.
func (k *kind) symbol(u uint8) string {
	if k.has(u) {
		return k.rows[u].symbol
	}
	return k.typ + "(" + strconv.Itoa(int(u)) + ")"
}

// inRange reports whether n of unit u stays below 10^24 of the kind's first unit.
func (k *kind) inRange(n number, u uint8) bool {
	if n.coef.digits()-int(n.places) <= maxWhole-12 { // no unit is as large as 10^12 of the first
		return true
	}
	r, ok := k.ratio(u, 0)
	limit := number{coef: pow10wide[maxWhole]}
	n.neg = false
	return ok && n.cmpScaled(limit, r) < 0
}

// within is n, or the largest whole number of unit u that is in range.
func (k *kind) within(n number, u uint8, exact bool) (number, bool) {
	if k.inRange(n, u) {
		return n, exact
	}
	r, _ := k.ratio(0, u)
	last := number{coef: pow10wide[maxWhole].minus(u128{0, 1})}
	last, _ = last.scaledTo(r, 0, ToNegativeInf)
	return last.signed(n.neg), false
}

// entry is what a spelling stands for.
type entry struct {
	unit  uint8
	exact bool // only with its letters as they are
	trap  *trap
}

// lookup finds a unit by how somebody wrote it.
func (k *kind) lookup(text string) (entry, bool) {
	k.once.Do(k.buildIndex)
	if e, ok := k.index[text]; ok { // canonical symbols, and spellings that fold to themselves
		return e, true
	}
	if unreadable(text) {
		return entry{}, false
	}
	return k.lookupFolded(foldUnit(text))
}

// unreadable reports whether a text is a spelling of nothing, and not worth folding.
func unreadable(text string) bool { return len(text) > maxUnit || !utf8.ValidString(text) }

// lookupFolded is lookup of what foldUnit made.
func (k *kind) lookupFolded(folded string) (entry, bool) {
	k.once.Do(k.buildIndex)
	if e, ok := k.index[folded]; ok {
		return e, true
	}
	e, ok := k.index[strings.ToLower(folded)]
	return e, ok && !e.exact
}

func (k *kind) buildIndex() {
	k.index = make(map[string]entry, 12*len(k.rows))
	put := func(spelling string, e entry) {
		if spelling[0] == '=' {
			e.exact = true
			spelling = spelling[1:]
		}
		if first, taken := k.index[spelling]; !taken || first.exact && !e.exact {
			k.index[spelling] = e
		}
	}
	for i := range k.traps {
		put(k.traps[i].spelling, entry{trap: &k.traps[i]})
	}
	for i, r := range k.rows {
		e := entry{unit: uint8(i)}
		put("="+r.symbol, e)
		put("="+foldUnit(r.symbol), e)
		for _, s := range r.spellings {
			put(s, e)
		}
		put(strings.ToLower(foldUnit(r.name)), e)
		put(strings.ToLower(foldUnit(r.name))+"s", e)
	}
}
