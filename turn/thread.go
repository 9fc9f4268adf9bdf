package turn

import (
	"cmp"
	"errors"
	"math/big"
	"strconv"
	"strings"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Thread is a single-start thread of the 60° profile, inch (ASME B1.1) or metric (ISO 261). Its
// lead is its pitch. The zero value is no thread: it advances by nothing.
type Thread struct {
	metric   bool
	diameter [2]int64 // nominal, inches or millimetres, lowest terms
	pitch    [2]int64 // inches or millimetres, lowest terms; {1, 14} for 14 to the inch
	series   string   // "UNF"; empty for metric threads
	class    string   // "2A", "6H"
	hand     Hand
	number   int8   // of a numbered inch size, plus one
	written  string // the series that was written, where the size has another
}

// series names the inch threads by their standard series: ASME B1.1, seen in a copy.
var series = map[string]string{
	"1-12": "UNF", "1-14": "UNS", "1-16": "UN", "13/16-12": "UN", "13/16-16": "UN", "13/16-20": "UNEF",
	"3/4-16": "UNF", "7/8-14": "UNF",

	"1/4-20": "UNC", "5/16-18": "UNC", "3/8-16": "UNC", "7/16-14": "UNC", "1/2-13": "UNC",
	"9/16-12": "UNC", "5/8-11": "UNC", "3/4-10": "UNC", "7/8-9": "UNC", "1-8": "UNC",
	"1 1/8-7": "UNC", "1 1/4-7": "UNC", "1 3/8-6": "UNC", "1 1/2-6": "UNC", "1 3/4-5": "UNC", "2-4.5": "UNC", "2 1/4-4.5": "UNC",
	"2 1/2-4": "UNC", "2 3/4-4": "UNC", "3-4": "UNC", "3 1/4-4": "UNC", "3 1/2-4": "UNC", "3 3/4-4": "UNC", "4-4": "UNC",
	"1/4-28": "UNF", "5/16-24": "UNF", "3/8-24": "UNF", "7/16-20": "UNF", "1/2-20": "UNF",
	"9/16-18": "UNF", "5/8-18": "UNF", "1 1/8-12": "UNF", "1 1/4-12": "UNF", "1 3/8-12": "UNF",
	"1 1/2-12": "UNF",

	"1/4-32": "UNEF", "5/16-32": "UNEF", "3/8-32": "UNEF", "7/16-28": "UNEF", "1/2-28": "UNEF",
	"9/16-24": "UNEF", "5/8-24": "UNEF", "11/16-24": "UNEF", "3/4-20": "UNEF", "7/8-20": "UNEF",
	"15/16-20": "UNEF", "1-20": "UNEF", "1 1/16-18": "UNEF", "1 1/8-18": "UNEF", "1 1/4-18": "UNEF", "1 5/16-18": "UNEF",
	"1 3/8-18": "UNEF", "1 7/16-18": "UNEF", "1 1/2-18": "UNEF", "1 9/16-18": "UNEF", "1 5/8-18": "UNEF", "1 11/16-18": "UNEF",

	"#1-64": "UNC", "#2-56": "UNC", "#3-48": "UNC", "#4-40": "UNC", "#5-40": "UNC", "#6-32": "UNC",
	"#8-32": "UNC", "#10-24": "UNC", "#12-24": "UNC",
	"#0-80": "UNF", "#1-72": "UNF", "#2-64": "UNF", "#3-56": "UNF", "#4-48": "UNF", "#5-44": "UNF",
	"#6-40": "UNF", "#8-36": "UNF", "#10-32": "UNF", "#12-28": "UNF",
	"#12-32": "UNEF",
}

// misnamed are sizes that are commonly written with a series whose pitch is another.
var misnamed = map[string]string{"1-14": "UNF"}

// pipes are the sizes and pitches of pipe threads that no inch series has, to 2 in: ASME B1.20.1 and ISO 228, seen
// in a copy.
var pipes = map[string]string{
	"1/16-27": "NPT", "1/8-27": "NPT", "1/4-18": "NPT", "3/8-18": "NPT", "1/2-14": "NPT or BSP", "3/4-14": "NPT or BSP",
	"1-11.5": "NPT", "1 1/4-11.5": "NPT", "1 1/2-11.5": "NPT", "2-11.5": "NPT",
	"1/16-28": "BSP", "1/8-28": "BSP", "1/4-19": "BSP", "3/8-19": "BSP", "5/8-14": "BSP",
	"1-11": "BSP", "1 1/8-11": "BSP", "1 1/4-11": "BSP", "1 1/2-11": "BSP", "1 3/4-11": "BSP", "2-11": "BSP",
}

// coarse is the pitch of an ISO metric thread that states none, in hundredths of a millimetre, by tenths of its
// diameter. ISO 261, seen in a copy.
var coarse = map[int64]int64{
	10: 25, 11: 25, 12: 25, 14: 30, 16: 35, 18: 35, 20: 40, 22: 45, 25: 45, 30: 50, 35: 60, 40: 70, 45: 75, 50: 80, 60: 100, 70: 100,
	80: 125, 90: 125, 100: 150, 110: 150, 120: 175, 140: 200, 160: 200, 180: 250, 200: 250, 220: 250, 240: 300, 270: 300, 300: 350,
	330: 350, 360: 400, 390: 400, 420: 450, 450: 450, 480: 500, 520: 500, 560: 550, 600: 550, 640: 600, 680: 600,
}

const wantThread = `a thread such as "1-14 UNS", "13/16-16 UN", "M20x1.5" or "1-12 UNF-LH"`

// ParseThread reads a designation: "1-14 UNS", "13/16-16", "1 1/8-12 UNF-2B", "1-12 UNF-LH",
// "6-32", "#10-28 UNS" (numbered sizes), "M20x1.5", "M20-1.5", "M20 × 1.5-6H", "M16" (coarse by
// table, M1 to M68). LH makes it left hand; nothing makes it right hand. A series that is commonly misnamed,
// such as 13/16-16 UNF, is read and put right; [Thread.Note] says so. One whose own pitch is another
// is a question, as in 1-12 UNC: one of the two is wrong. So is the pitch of a pipe thread without
// a series, as in 1/8-27.
//
// Errors: *units.ParseError: units.ErrSyntax, units.ErrRange (above 6 in or 150 mm, 3 to 80
// threads to the inch, pitches of 0.2 mm to 8 mm), units.ErrUnknownUnit for pipe threads, which
// are tapered or of another profile, and for M sizes without a pitch that the table lacks;
// units.ErrAmbiguous with Candidates for the questions.
func ParseThread(text string) (Thread, error) {
	p, err := newParser("thread", text)
	if err != nil {
		return Thread{}, err
	}
	var th Thread
	if t := p.peek(); t.kind == tokenWord && t.text == "m" {
		p.i++
		th, err = p.metric()
	} else {
		th, err = p.unified()
	}
	if err != nil {
		return Thread{}, err
	}
	if err := p.tail(&th); err != nil {
		return Thread{}, err
	}
	return p.named(th)
}

// MustParseThread is ParseThread for constants in a program; it panics on an error.
func MustParseThread(text string) Thread {
	th, err := ParseThread(text)
	if err != nil {
		panic(err)
	}
	return th
}

// metric reads what follows the M.
func (p *parser) metric() (Thread, error) {
	th := Thread{metric: true, hand: RightHand}
	t := p.peek()
	if t.kind != tokenNumber {
		return th, p.bad(t.at, "no diameter after the M", wantThread, units.ErrSyntax)
	}
	p.i++
	d, err := p.number(t)
	if err != nil {
		return th, err
	}
	if d.num <= 0 || d.num > 150*d.den {
		return th, p.bad(t.at, "no diameter of a thread", "a diameter up to 150 mm", units.ErrRange)
	}
	th.diameter = lowestTerms(d.num, d.den)
	if !p.accept("x", "×", "*") && !p.dashedPitch() {
		tenths := lowestTerms(10*d.num, d.den)
		hundredths, ok := coarse[tenths[0]]
		if !ok || tenths[1] != 1 {
			return th, p.bad(p.peek().at, "no coarse pitch known here for this size", "the pitch, as in M20x1.5", units.ErrUnknownUnit)
		}
		th.pitch = lowestTerms(hundredths, 100)
		return th, nil
	}
	t = p.peek()
	if t.kind != tokenNumber {
		return th, p.bad(t.at, "no pitch", "a pitch in millimetres, as in M20x1.5", units.ErrSyntax)
	}
	p.i++
	pitch, err := p.number(t)
	if err != nil {
		return th, err
	}
	if pitch.num*5 < pitch.den || pitch.num > 8*pitch.den || pitch.num*d.den >= d.num*pitch.den {
		return th, p.bad(t.at, "no pitch of such a thread", "0.2 mm to 8 mm", units.ErrRange)
	}
	th.pitch = lowestTerms(pitch.num, pitch.den)
	return th, nil
}

// dashedPitch passes the hyphen of "M20-1.5"; that of "M20-6H" leads to a class.
func (p *parser) dashedPitch() bool {
	dash, number, letter := p.peek(), p.ahead(1), p.ahead(2)
	if dash.text != "-" || number.kind != tokenNumber || letter.kind == tokenWord && !letter.spaced {
		return false
	}
	p.i++
	return true
}

// unified reads "13/16-16": a diameter in inches, a hyphen, threads to the inch.
func (p *parser) unified() (Thread, error) {
	th := Thread{hand: RightHand}
	start := p.peek().at
	isNumbered := p.accept("#") || p.accept("no")
	p.accept(".")
	if k := p.peek().kind; k == tokenWord || k == tokenEnd {
		return th, p.noThread()
	}
	// "1-14" is no mixed number here, but "1-1/8-7" is.
	d, err := p.amount()
	if err != nil {
		var syntax *units.ParseError
		if errors.As(err, &syntax) {
			syntax.Want = wantThread
		}
		return th, err
	}
	p.accept(`"`, "″", "in")
	if isPipe(p.peek().text) {
		return th, p.noThread()
	}
	if t := p.peek(); !p.accept("-", "–", "x", "×") {
		return th, p.bad(t.at, "no threads to the inch", wantThread, units.ErrSyntax)
	}
	if th.pitch, err = p.inchPitch(); err != nil {
		return th, err
	}
	th.diameter = lowestTerms(d.num, d.den)
	isNumbered = isNumbered || series["#"+th.size()] != ""
	switch {
	case isNumbered && (d.den != 1 || d.num > 12 || d.num == 7 || d.num == 9 || d.num == 11):
		return th, p.bad(start, "no numbered size", "#0 to #6, #8, #10 or #12", units.ErrRange)
	case isNumbered:
		th.number = int8(d.num) + 1
		th.diameter = lowestTerms(60+13*d.num, 1000) // thousandths of an inch: ASME B1.1, seen in a copy
	case d.num <= 0 || d.num > 6*d.den:
		return th, p.bad(d.at, "no diameter of a thread", "a diameter up to 6 in, or # before a numbered size", units.ErrRange)
	}
	return th, nil
}

// inchPitch reads the threads to the inch, and gives the pitch.
func (p *parser) inchPitch() ([2]int64, error) {
	t := p.peek()
	if t.kind != tokenNumber {
		return [2]int64{}, p.bad(t.at, "no threads to the inch", wantThread, units.ErrSyntax)
	}
	perInch, err := p.amount()
	if err != nil {
		return [2]int64{}, err
	}
	if perInch.num < 3*perInch.den || perInch.num > 80*perInch.den {
		return [2]int64{}, p.bad(t.at, "no number of threads to the inch", "3 to 80", units.ErrRange)
	}
	return lowestTerms(perInch.den, perInch.num), nil
}

func isPipe(word string) bool {
	switch word {
	case "npt", "nptf", "nps", "npsm", "npsf", "bsp", "bspp", "bspt", "g", "r", "rc", "rp":
		return true
	}
	return false
}

func (p *parser) noThread() error {
	t := p.peek()
	if isPipe(t.text) {
		return p.bad(t.at, "a pipe thread, tapered or of another profile", wantThread, units.ErrUnknownUnit)
	}
	return p.bad(t.at, "no thread known here", wantThread, units.ErrSyntax)
}

// tail reads the series, the class and the hand, in any order in which they are written.
func (p *parser) tail(th *Thread) error {
	for p.peek().kind != tokenEnd {
		if p.accept("-", "(", ")") {
			continue
		}
		t := p.peek()
		switch {
		case !th.metric && th.series == "" && p.accept("un", "unc", "unf", "unef", "uns"):
			th.series = strings.ToUpper(t.text)
		case p.accept("lh", "left"):
			th.hand = LeftHand
			p.accept("-")
			p.accept("hand")
		case p.accept("rh", "right"):
			p.accept("-")
			p.accept("hand")
		case t.kind == tokenNumber && p.ahead(1).kind == tokenWord && !p.ahead(1).spaced && th.class == "" && len(t.text) == 1 && len(p.ahead(1).text) == 1:
			th.class = p.text[t.at : t.at+2] // as written: 6H is of internal threads, 6g of external ones
			if p.i += 2; !th.metric {
				th.class = strings.ToUpper(th.class)
			}
		case isPipe(t.text):
			return p.noThread()
		default:
			return p.bad(t.at, plain.Quote(t.text)+" is out of place", wantThread, units.ErrSyntax)
		}
	}
	if last := p.toks[p.i-1]; last.text == "-" {
		return p.bad(last.at, "nothing after the hyphen", wantThread, units.ErrSyntax)
	}
	return nil
}

func lowestTerms(num, den int64) [2]int64 {
	a, b := num, den
	for b != 0 {
		a, b = b, a%b
	}
	return [2]int64{num / a, den / a}
}

// named puts the series right, or asks.
func (p *parser) named(th Thread) (Thread, error) {
	if th.metric {
		return th, nil
	}
	size := th.size()
	known := series[size]
	ask := func(problem string, candidates ...string) (Thread, error) {
		e := p.bad(0, problem, wantThread, units.ErrAmbiguous)
		e.Candidates = candidates
		return Thread{}, e
	}
	switch pipe, own := pipes[size], th.ownSize(); {
	case th.series == "" && known == "" && pipe != "":
		return ask("the pitch of a pipe thread, without its series", size+" UNS", size+" "+pipe+", which isn't read here")
	case th.series == "":
		th.series = known
	case own != "" && own != size && misnamed[size] != th.series:
		return ask(size+" isn't "+th.series, own+" "+th.series, size+" "+cmp.Or(known, "UNS"))
	case known != "" && known != th.series:
		th.written, th.series = th.series, known
	}
	return th, nil
}

// ownSize is the size that a thread's series has in its diameter, "1-8" for 1-12 UNC; nothing where the
// table has none.
func (th Thread) ownSize() string {
	size := th.size()
	diameter := size[:strings.LastIndexByte(size, '-')+1]
	for own, of := range series {
		if of == th.series && strings.HasPrefix(own, diameter) && (of == "UNC" || of == "UNF" || of == "UNEF") {
			return own
		}
	}
	return ""
}

// size is "13/16-16", "#6-32" or "M20x1.5".
func (th Thread) size() string {
	if th.diameter[1] == 0 {
		return "no thread"
	}
	d := Turn{num: th.diameter[0], fin: th.diameter[1] - 1}
	if th.metric {
		return "M" + decimalText(th.diameter) + "x" + decimalText(th.pitch)
	}
	perInch := string(Turn{num: th.pitch[1], fin: th.pitch[0] - 1}.appendNumber(nil))
	if places(th.pitch[0]) <= 6 {
		perInch = decimalText([2]int64{th.pitch[1], th.pitch[0]})
	}
	if th.number > 0 {
		return "#" + strconv.Itoa(int(th.number)-1) + "-" + perInch
	}
	return string(d.appendNumber(nil)) + "-" + perInch
}

// decimalText writes a fraction that came from a decimal of at most six places.
func decimalText(f [2]int64) string {
	return big.NewRat(f[0], f[1]).FloatString(places(f[1]))
}

// String is the designation in full: "13/16-16 UN", "1-12 UNF-2A-LH", "M20x1.5-LH".
// [ParseThread] reads it back, without what it was misnamed.
func (th Thread) String() string {
	text := th.size()
	if th.series != "" {
		text += " " + th.series
	}
	if th.class != "" {
		text += "-" + th.class
	}
	if th.hand == LeftHand {
		text += "-LH"
	}
	return text
}

// MarshalText is what String writes. Errors: *units.ParseError (units.ErrSyntax) for the zero Thread.
func (th Thread) MarshalText() ([]byte, error) {
	if th.hand == 0 {
		return nil, refuse("thread", th.String(), "no thread", wantThread, units.ErrSyntax)
	}
	return []byte(th.String()), nil
}

// UnmarshalText reads what [ParseThread] reads; on an error th stays as it was.
func (th *Thread) UnmarshalText(text []byte) error {
	parsed, err := ParseThread(clip(text))
	if err == nil {
		*th = parsed
	}
	return err
}

// Hand is the thread's hand.
func (th Thread) Hand() Hand { return th.hand }

// Misnamed is the series that the designation was written with, "UNF" for 1-14, where its size has another and that
// was put right; nothing where nothing was.
func (th Thread) Misnamed() string { return th.written }

// millimetres is a fraction in the thread's unit, in millimetres: 25.4 mm make an inch (NIST SP
// 811, App. B.8).
func (th Thread) millimetres(f [2]int64) *big.Rat {
	if f[1] == 0 {
		return new(big.Rat)
	}
	x := big.NewRat(f[0], f[1])
	if !th.metric {
		x.Mul(x, units.Factor(units.Inch, units.Millimetre))
	}
	return x
}

// Lead is how far one turn advances, in millimetres, exactly: 127/70 for 14 threads to the inch.
func (th Thread) Lead() *big.Rat { return th.millimetres(th.pitch) }

// Diameter is the nominal diameter in millimetres, exactly.
func (th Thread) Diameter() *big.Rat { return th.millimetres(th.diameter) }

// Advance is how far the thread moves along its axis in t, in millimetres: lead times turn, exact
// where that is a decimal, else rounded half-even to 12 places.
func (th Thread) Advance(t Turn) units.Length {
	return millimetres(th.advance(t))
}

func (th Thread) advance(t Turn) *big.Rat { return new(big.Rat).Mul(th.Lead(), t.Rat()) }

// millimetres prints a fraction as a length: with the places it has, or 12 where they don't end.
func millimetres(x *big.Rat) units.Length {
	n := 12
	if d := x.Denom(); d.IsInt64() {
		if p := places(d.Int64()); p < 30 {
			n = p
		}
	}
	length, _ := units.FromRat(x, units.Millimetre, n, units.ToNearestEven) // at most 100 turns of 8.5 mm
	return length
}

// share is which part of a gasket's height, as it was before contact, a turn presses together:
// advance over height, exactly. More than one is more than the gasket has.
//
// Errors: *units.ParseError (units.ErrRange) for a height of zero or less.
func (th Thread) share(t Turn, height units.Length) (*big.Rat, error) {
	if height.Sign() <= 0 || !height.Valid() {
		return nil, refuse("gasket height", height.String(), "no height", "a height above zero", units.ErrRange)
	}
	x := th.advance(t)
	return x.Quo(x, height.RatIn(units.Millimetre)), nil
}

// Contact says when a gasket came into contact, against when it was expected to. The zero value
// is none.
type Contact uint8

// The findings of a count to contact.
const (
	ContactExpected Contact = iota + 1 // within the tolerance of the count
	SecondGasket                       // early by about a gasket's height: an old gasket likely stayed on the head
	EarlyContact                       // early by something else: dirt, a wrong gasket, a thread that binds
	MissingGasket                      // late by about a gasket's height: it likely isn't there
	MissedContact                      // late by less: contact likely passed unnoticed, so the turn starts too late
	LateContact                        // late by more than a gasket: a wrong canister or a wrong count
)

// ContactCount compares the turns counted from the first thread to gasket contact with those expected. Whatever
// isn't ContactExpected is a reason to stop and look before tightening.
type ContactCount struct {
	Contact Contact
	Early   bool         // before it was expected
	Turns   Turn         // early or late by this much
	Advance units.Length // and along the axis
}

// String is "early by 2 1/4 turns, 4.082 mm: second gasket likely; stop and look".
func (a ContactCount) String() string {
	if a.Turns == (Turn{}) {
		return a.Contact.String()
	}
	text := "late by "
	if a.Early {
		text = "early by "
	}
	text += a.Turns.String() + ", " + a.Advance.Round(min(3, a.Advance.Places()), units.ToNearestEven).String() + ": " + a.Contact.String()
	if a.Contact != ContactExpected {
		text += "; stop and look"
	}
	return text
}

// JudgeContact says whether contact came when it should, and what it suggests if not. The count
// may be out by within either way; so may the comparison with the gasket's height. Common
// practice, no source: a canister that meets its head a gasket's height early has met a second
// gasket.
//
// Errors: *units.ParseError (units.ErrRange) for a gasket of no height.
func (th Thread) JudgeContact(expected, counted, within Turn, gasket units.Length) (ContactCount, error) {
	if _, err := th.share(within, gasket); err != nil {
		return ContactCount{}, err
	}
	early := counted.Compare(expected) < 0
	by, ok := counted.plus(-1, expected)
	if early {
		by, ok = expected.plus(-1, counted)
	}
	if _, err := by.bounded(ok, expected.String()+", "+counted.String()); err != nil {
		return ContactCount{}, err
	}
	a := ContactCount{Early: early, Turns: by, Advance: th.Advance(by)}
	// How far the advance is from the gasket's height, against how far the count may be out.
	rest := th.advance(by)
	rest.Sub(rest, gasket.RatIn(units.Millimetre))
	slack := th.advance(within)
	likeGasket := new(big.Rat).Abs(rest).Cmp(slack) <= 0
	switch {
	case by.Compare(within) <= 0:
		a.Contact = ContactExpected
	case early && likeGasket:
		a.Contact = SecondGasket
	case early:
		a.Contact = EarlyContact
	case likeGasket:
		a.Contact = MissingGasket
	case rest.Sign() < 0:
		a.Contact = MissedContact
	default:
		a.Contact = LateContact
	}
	return a, nil
}

// Match is how threads go together: what happens when a canister is put on a stud. The zero value is none.
type Match uint8

// The matches.
const (
	Fits          Match = iota + 1 // the same diameter, pitch and hand
	SpinsHome                      // near and loose: may spin home, tighten, and let go under pressure
	ShouldBind                     // near and tight: should not start; forced, it spoils both threads
	DoesNotEngage                  // too loose for the threads to meet
	OtherThread                    // unlike in pitch, diameter or hand
)

// On says what a canister of thread th does on a stud: threads that are nearly alike are
// dangerous in one direction. Only Fits is fit for use. Pitches count as near within a tenth of
// the stud's, and a smaller canister as near within a tenth of the stud's diameter (common
// practice, no source).
// A looser canister still engages while the stud is larger than the canister's minor diameter,
// D - 5√3/8·P (the basic profile of ISO 68-1 and ASME B1.1, from memory), where
// 5√3/8 is taken as 1.0825, rounded down, so that the doubtful case counts as not engaging.
func (th Thread) On(stud Thread) Match {
	d, lead := th.Diameter(), th.Lead()
	e, other := stud.Diameter(), stud.Lead()
	if th.hand == 0 || stud.hand == 0 {
		return 0
	}
	sameHand := th.hand == stud.hand
	apart := new(big.Rat).Sub(lead, other)
	near := apart.Abs(apart).Cmp(new(big.Rat).Mul(other, big.NewRat(1, 10))) <= 0
	minor := new(big.Rat).Sub(d, new(big.Rat).Mul(lead, big.NewRat(10825, 10000)))
	floor := new(big.Rat).Mul(e, big.NewRat(9, 10))
	switch {
	case sameHand && d.Cmp(e) == 0 && apart.Sign() == 0:
		return Fits
	case e.Cmp(minor) <= 0:
		return DoesNotEngage
	case !sameHand || !near:
		return OtherThread
	case d.Cmp(e) > 0:
		return SpinsHome
	case d.Cmp(floor) >= 0:
		return ShouldBind
	}
	return OtherThread
}
