package turn

import (
	"strings"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Instruction is how far to tighten: from a least to a most turn, counted from a datum. The datum
// is part of it. Hand tight is not gasket contact: by how much differs from hand to hand, half a
// turn and more (common practice, no source).
//
// The zero value is no instruction: it has no datum, and refuses to be encoded.
type Instruction struct {
	least, most Turn
	datum       Datum
}

// NewInstruction makes an instruction of its parts.
//
// Errors: *units.ParseError: units.ErrRange where the least exceeds the most or the most is no turn at
// all, ErrNoDatum for a datum that isn't one of the constants.
func NewInstruction(least, most Turn, datum Datum) (Instruction, error) {
	switch {
	case !datums.Has(datum):
		return Instruction{}, refuse("instruction", datum.String(), "no datum", datums.List(), ErrNoDatum)
	case least.Compare(most) > 0:
		return Instruction{}, refuse("instruction", least.String()+" to "+most.String(), "the least exceeds the most", "the least turn first", units.ErrRange)
	case most == Turn{}:
		return Instruction{}, refuse("instruction", most.String(), "nothing to turn", "a turn above zero", units.ErrRange)
	}
	return Instruction{least: least, most: most, datum: datum}, nil
}

// Least is the least turn that does.
func (in Instruction) Least() Turn { return in.least }

// Most is the most turn allowed; the least where the instruction is one turn and no range.
func (in Instruction) Most() Turn { return in.most }

// Datum is what the turn is counted from.
func (in Instruction) Datum() Datum { return in.datum }

// Aim is the turn to stop at: the middle between the least and the most, from which the reading may
// be out by the same either way.
//
// Errors: *units.ParseError (units.ErrRange) where the middle is finer than a millionth of a turn;
// ErrNoDatum for the zero Instruction.
func (in Instruction) Aim() (Turn, error) {
	if _, err := NewInstruction(in.least, in.most, in.datum); err != nil {
		return Turn{}, err
	}
	sum, fine := in.least.plus(+1, in.most)
	aim, finer := lowest(sum.num, 2*sum.den())
	if fine && finer && aim.num <= maxTurns*aim.den() {
		return aim, nil
	}
	return aim.bounded(fine && finer, "half way from "+in.least.String()+" to "+in.most.String())
}

// Allows reports whether a turn that stopped at the aim passes even though the reading may be out by
// so much either way: the window is at least twice as wide.
func (in Instruction) Allows(out Turn) bool {
	width := in.most.Rat()
	width.Sub(width, in.least.Rat())
	twice := out.Rat()
	return twice.Add(twice, twice).Cmp(width) <= 0
}

// Widen widens the instruction by tolerances: less below its least turn (never below zero), more
// above its most.
//
// Errors: *units.ParseError (units.ErrRange) where a limit would be finer than a millionth of a turn or
// pass 100 turns; ErrNoDatum for the zero Instruction.
func (in Instruction) Widen(less, more Turn) (Instruction, error) {
	least, ok := in.least.plus(-1, less)
	if least.num < 0 {
		least = Turn{}
	}
	least, err := least.bounded(ok, in.least.String()+" less "+less.String())
	if err != nil {
		return Instruction{}, err
	}
	most, err := in.most.Add(more)
	if err != nil {
		return Instruction{}, err
	}
	return NewInstruction(least, most, in.datum)
}

// String is "3/4 to 1 turn after gasket contact"; [ParseInstruction] reads it back.
func (in Instruction) String() string { return string(in.append(nil)) }

func (in Instruction) append(dst []byte) []byte {
	if in.least != in.most {
		dst = append(in.least.appendNumber(dst), " to "...)
	}
	dst = append(in.most.append(dst), " after "...)
	return append(dst, in.datum.String()...)
}

// AppendText appends what String writes.
//
// Errors: *units.ParseError (ErrNoDatum) for the zero Instruction.
func (in Instruction) AppendText(dst []byte) ([]byte, error) {
	if _, err := NewInstruction(in.least, in.most, in.datum); err != nil {
		return dst, err
	}
	return in.append(dst), nil
}

// MarshalText is AppendText into a new slice.
func (in Instruction) MarshalText() ([]byte, error) { return in.AppendText(nil) }

// UnmarshalText reads what [ParseInstruction] reads; on an error in stays as it was.
func (in *Instruction) UnmarshalText(text []byte) error {
	parsed, err := ParseInstruction(clip(text))
	if err == nil {
		*in = parsed
	}
	return err
}

// ParseInstruction reads how far to tighten and from where: "3/4 to 1 turn after gasket contact",
// "¾–1 turn past contact", "after gasket contact, tighten a further 3/4 turn", "2 flats from
// finger tight". "clockwise" in it is refused: it would need a viewpoint (see [Sense]).
//
// Errors: *units.ParseError as [Parse]; ErrNoDatum, with the choices as its Candidates, where no
// datum is named.
func ParseInstruction(text string) (Instruction, error) {
	p, err := newParser("instruction", text)
	if err != nil {
		return Instruction{}, err
	}
	in := Instruction{}
	if p.accept("after", "from", "once", "when") {
		if in.datum, err = p.datum(); err != nil {
			return Instruction{}, err
		}
	}
	p.orders()
	start := p.peek().at
	if in.least, in.most, err = p.span(); err != nil {
		return Instruction{}, err
	}
	p.accept("more", "further")
	if in.datum == 0 {
		if next := p.peek(); isLink(next.text) {
			p.i++
		} else if next.kind != tokenEnd {
			return Instruction{}, p.unexpected(next)
		}
		if in.datum, err = p.datum(); err != nil {
			return Instruction{}, err
		}
	}
	if err := p.end(); err != nil {
		return Instruction{}, err
	}
	if _, err := NewInstruction(in.least, in.most, in.datum); err != nil {
		return Instruction{}, p.bad(start, "nothing to turn", "a turn above zero", units.ErrRange)
	}
	return in, nil
}

// MustParseInstruction is ParseInstruction for constants in a program; it panics on an error.
func MustParseInstruction(text string) Instruction {
	in, err := ParseInstruction(text)
	if err != nil {
		panic(err)
	}
	return in
}

// orders passes the words that only say that something is to be done.
func (p *parser) orders() {
	for p.accept(",", "then", "tighten", "rotate", "turn", "it", "filter", "canister", "by", "another", "further", "additional", "extra") {
	}
	if next := p.ahead(1).text; next == "further" || next == "additional" || next == "extra" {
		if p.accept("a", "an") {
			p.i++
		}
	}
}

// datum reads the words up to a comma, an order to tighten, or the end.
func (p *parser) datum() (Datum, error) {
	at := p.peek().at
	var words []string
	for {
		t := p.peek()
		if t.text == "-" {
			p.i++
			continue
		}
		if t.kind != tokenWord || t.text == "tighten" || t.text == "turn" || t.text == "rotate" {
			break
		}
		if isClock(t.text) {
			return 0, p.unexpected(t)
		}
		p.i++
		switch t.text {
		case "the", "a", "an", "is", "are", "has", "first", "initial", "being":
		default:
			words = append(words, t.text)
		}
	}
	phrase := strings.Join(words, " ")
	if d, err := datums.Parse(phrase); err == nil {
		return Datum(d), nil
	}
	problem := "no datum: it doesn't say where the turn is counted from"
	if phrase != "" {
		problem = "no datum known here: " + plain.Quote(phrase)
	}
	e := p.bad(at, problem, "", ErrNoDatum)
	e.Candidates = datums.All()
	return 0, e
}
