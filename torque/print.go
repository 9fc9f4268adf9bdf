package torque

import (
	"math/big"
	"strings"
	"unicode/utf8"

	"example.com/snugturn/internal/misread"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// PrintedLimit is a limit, or a single value, printed in two units or more: "145-190 in-lb (16-21 N·m)",
// "190 in-lb (21 N·m, 16 ft-lb)". The first stated governs: "the first stated value is the
// requirement", and what follows in parentheses may be approximate (16 CFR 1211.3, a rule for
// garage door operators, read here as an analogy).
type PrintedLimit struct {
	_     [0]func()
	sides []side // none in the zero PrintedLimit, else two or more
}

// side is what a print says in one unit.
type side struct {
	band                Band
	nominal             units.Torque // where it is a single value; the band is then the zero one
	lowDoubt, highDoubt *big.Rat     // how far the printed limits may be off, in their units
	derived             bool         // the limits are worked out of a value and its tolerance
}

// values are the numbers of a side that stand against those of the other.
func (s side) values() []printed {
	if !s.band.Valid() {
		return []printed{{s.nominal, halfPlace(s.nominal)}}
	}
	high := printed{s.band.high, s.highDoubt}
	if s.band.low.Sign() == 0 {
		return []printed{high}
	}
	return []printed{{s.band.low, s.lowDoubt}, high}
}

func (s side) unit() units.TorqueUnit { return s.values()[0].value.Unit() }

func (s side) valid() bool { return s.band.Valid() || s.nominal.Sign() > 0 }

// printed is a number that stands for everything within its doubt.
type printed struct {
	value units.Torque
	doubt *big.Rat // in value's unit
}

// in is what the number stands for, in another unit.
func (p printed) in(unit units.TorqueUnit) interval {
	factor := units.Factor(p.value.Unit(), unit)
	i := around(p.value.RatIn(p.value.Unit()), p.doubt)
	return interval{i.lo.Mul(i.lo, factor), i.hi.Mul(i.hi, factor)}
}

const (
	printWhat = "printed torque"
	wantPrint = `a limit in one unit and the same in others after it, such as "145-190 in-lb (16-21 N·m)" or "190 in-lb (21 N·m, 16 ft-lb)"`
)

// ParsePrintedLimit reads a limit or a single value printed in two units or more: those behind the first stand in
// parentheses, brackets or braces, with commas, semicolons or " / " between them, or behind " / "
// without any. Each side is in one of the forms of [ParseBand], or a nominal value alone.
//
// Errors: *units.ParseError, as ParseBand; a print in one unit only, in the same unit twice, or
// with a band on one side and a value on the other doesn't follow the grammar.
func ParsePrintedLimit(text string) (PrintedLimit, error) {
	refuse := func(at int, problem, want string) (PrintedLimit, error) {
		return PrintedLimit{}, misread.Error(printWhat, text, at, problem, want, units.ErrSyntax)
	}
	if len(text) > maxText {
		return PrintedLimit{}, misread.Error(printWhat, text, maxText, "longer than 192 bytes", "a shorter text", units.ErrRange)
	}
	plain := unwrapTolerance(text)
	spans, end := splitPrint(plain)
	if len(spans) < 2 {
		return refuse(len(text), "no second unit in parentheses", wantPrint)
	}
	rest := trimBlanks(plain[end:])
	maximum := isOneOf(strings.ToLower(rest), "max", "max.", "maximum")
	if rest != "" && !maximum {
		if startsWithSign(rest) {
			return refuse(end, "a tolerance after more than one unit", `it on each side, such as "25 N·m ± 10 % (18 ft-lb ± 10 %)"`)
		}
		return refuse(end, "unexpected text after the second unit", wantPrint)
	}
	sides := make([]side, len(spans))
	for i, s := range spans {
		part := bandText{text: plain[:s.to], quoted: text, start: s.from, loose: true}
		var err error
		if sides[i], err = part.side(); err != nil {
			return PrintedLimit{}, err
		}
		maximum = maximum || i == 0 && part.maximum
	}
	if maximum {
		for i := range sides {
			sides[i] = sides[i].asMaximum()
		}
	}
	if !sides[0].valid() {
		return refuse(0, "the first value is zero", wantPrint)
	}
	for i := range sides {
		if problem := mismatch(sides[:i], sides[i]); problem != "" {
			return refuse(spans[i].from, problem, wantPrint)
		}
	}
	return PrintedLimit{sides: sides}, nil
}

// mismatch says why a side can't state again what those before it state; nothing where it can.
func mismatch(before []side, b side) string {
	for _, a := range before {
		if a.band.Valid() != b.band.Valid() || len(a.values()) != len(b.values()) {
			return "one side is a band and the other is not"
		}
		if a.unit() == b.unit() {
			return "both sides are in " + a.unit().String()
		}
	}
	return ""
}

// closing is the mark that closes what an opening one opens; 0 for any other byte.
func closing(mark byte) byte {
	switch mark {
	case '(':
		return ')'
	case '[':
		return ']'
	case '{':
		return '}'
	}
	return 0
}

// splitPrint finds the sides, and where the last one ends; fewer than two where there is no second, or
// what opens it isn't closed.
func splitPrint(text string) (sides []span, end int) {
	from, closer, closed := 0, byte(0), false
	for i := range len(text) {
		mark := closing(text[i])
		switch {
		case closer != 0 && text[i] == closer:
			sides = append(sides, span{from, i})
			from, closer, closed = i+1, 0, true
		case closer == 0 && mark != 0 && closed && trimBlanks(text[from:i]) != "":
			return sides, from
		case closer == 0 && mark != 0:
			if !closed {
				sides = append(sides, span{from, i})
			}
			from, closer = i+1, mark
		case (closer != 0 || !closed) && separates(text, i, closer != 0):
			sides = append(sides, span{from, i})
			from = i + 1
		}
	}
	switch {
	case closer != 0:
		return nil, 0
	case !closed:
		return append(sides, span{from, len(text)}), len(text)
	}
	return sides, from
}

// separates reports whether the byte at i is between two sides: a slash with blanks round it, or a
// comma or a semicolon in parentheses. What is followed by a sign belongs to a tolerance, "+5, -0".
func separates(text string, i int, inside bool) bool {
	digit := func(i int) bool { return 0 <= i && i < len(text) && '0' <= text[i] && text[i] <= '9' }
	switch text[i] {
	case '/':
		if before, _ := utf8.DecodeLastRuneInString(text[:i]); !plain.IsBlank(before) {
			return false
		}
		if behind, _ := utf8.DecodeRuneInString(text[i+1:]); !plain.IsBlank(behind) {
			return false
		}
	case ',':
		if !inside || digit(i-1) && digit(i+1) {
			return false
		}
	case ';':
		if !inside {
			return false
		}
	default:
		return false
	}
	return !startsWithSign(strings.TrimLeftFunc(text[i+1:], plain.IsBlank))
}

// side reads one side of a print.
func (p *bandText) side() (side, error) {
	band, err := p.read()
	if err != nil {
		return side{}, p.parseError(err)
	}
	return side{band: band, nominal: p.nominal, lowDoubt: p.lowDoubt, highDoubt: p.highDoubt, derived: p.derived}, nil
}

// asMaximum is the side with a single value as the maximum it is meant for.
func (s side) asMaximum() side {
	if s.band.Valid() || s.nominal.Sign() <= 0 {
		return s
	}
	return side{band: Band{low: s.nominal.Unit().Of(0), high: s.nominal}, lowDoubt: new(big.Rat), highDoubt: halfPlace(s.nominal)}
}

// Band is the governing band, the first stated, of a print whose units agree.
//
// Errors: *units.ParseError: ErrDisagree where they don't agree, ErrNoTolerance where the print
// is a single value (with its tolerance, [PlusMinusPercent] of the comparison's First is the band),
// units.ErrRange for the zero PrintedLimit.
func (p PrintedLimit) Band() (Band, error) {
	if !p.valid() {
		return Band{}, p.refuse("the zero PrintedLimit has no limits", "a PrintedLimit made by ParsePrintedLimit", units.ErrRange)
	}
	if f := p.Compare(); f.Agreement == Disagrees {
		return Band{}, p.refuse(f.String(), "the right limit from whoever wrote the sheet", ErrDisagree)
	}
	first := p.sides[0]
	if !first.band.Valid() {
		return Band{}, p.refuse(first.nominal.String()+" without a tolerance", "its tolerance too, or both limits", ErrNoTolerance)
	}
	return first.band, nil
}

func (p PrintedLimit) refuse(problem, want string, err error) error {
	return refuse(printWhat, p.String(), problem, want, err)
}

func (p PrintedLimit) valid() bool { return len(p.sides) > 0 }

// String is the print in one form: "145 to 190 in-lb (16 to 21 N·m)", "190 in-lb (21 N·m, 16 ft-lb)".
func (p PrintedLimit) String() string {
	if !p.valid() {
		return "invalid printed limit"
	}
	others := make([]string, len(p.sides)-1)
	for i, s := range p.sides[1:] {
		others[i] = s.String()
	}
	return p.sides[0].String() + " (" + strings.Join(others, ", ") + ")"
}

func (s side) String() string {
	if s.band.Valid() {
		return s.band.String()
	}
	return s.nominal.String()
}

// Agreement says how the units of a print stand to each other. The zero value is none.
type Agreement uint8

// The verdicts.
const (
	noAgreement Agreement = iota
	// Agrees: what the printed numbers stand for overlaps.
	Agrees
	// SharesThirdUnit: it overlaps, but neither number is the other one converted; both are a
	// round value of a third unit.
	SharesThirdUnit
	// Disagrees: no torque is printed as both numbers.
	Disagrees
)

// Comparison is what comparing the units of a print shows.
type Comparison struct {
	Agreement Agreement
	// First and Second are the two numbers it rests on: of several pairs that disagree the one
	// farthest apart. First is the first stated value, unless that agrees with all others and two of
	// those disagree.
	First, Second units.Torque
	// Converted is First in Second's unit, to nearest, with one place more than Second.
	Converted units.Torque
	// Gap is how far apart what the two numbers stand for is, rounded up, in Second's unit; zero
	// where they don't disagree.
	Gap units.Torque
	// Third is the unit both come from, and ThirdValues the round values there, one for each
	// pair, with the verdict SharesThirdUnit.
	Third       units.TorqueUnit
	ThirdValues []units.Torque
	// Shop says that the two overlap only if one was made from the other with 1.356 N·m for a
	// foot-pound or 0.113 N·m for an inch-pound, 1.34 parts in 10000 too high.
	Shop bool
}

// String says what was found, in one line.
func (f Comparison) String() string {
	switch f.Agreement {
	case Disagrees:
		return f.First.String() + " is " + f.Converted.String() + ", not " + f.Second.String() + ": apart by " + f.Gap.String()
	case SharesThirdUnit:
		values := make([]string, len(f.ThirdValues))
		for i, q := range f.ThirdValues {
			values[i] = q.String()
		}
		return "both come from " + strings.Join(values, " and ")
	}
	return f.Agreement.String()
}

// Compare compares the units, each with each. A printed number stands for everything within half of its
// last place (with ±, for what the places of both numbers allow; a percentage is exact); the first
// is converted, exactly, and has to overlap the second. Equality after rounding would refuse good
// sheets. A band that is the first one rounded inward, as [Band.Inward] does, agrees however few
// places that leaves it. No number passes through a float.
func (p PrintedLimit) Compare() Comparison {
	if !p.valid() {
		return Comparison{}
	}
	var worst Comparison
	farthest := new(big.Rat) // in newton metres
	weigh := func(found Comparison, gap *big.Rat) {
		gap.Mul(gap, units.Factor(found.Second.Unit(), units.NewtonMetre))
		if found.rank() > worst.rank() || gap.Cmp(farthest) > 0 {
			worst, farthest = found, gap
		}
	}
	others := p.sides[1:]
	for _, b := range others {
		weigh(compare(p.sides[0], b))
	}
	if worst.Agreement == Disagrees {
		return worst
	}
	for i, b := range others {
		for _, a := range others[:i] {
			if a.isInward(p.sides[0]) || b.isInward(p.sides[0]) {
				continue // it was made from the first, and says no more than that
			}
			if found, gap := compare(a, b); found.Agreement == Disagrees {
				weigh(found, gap)
			}
		}
	}
	return worst
}

// rank orders findings by how much there is to say.
func (f Comparison) rank() int {
	rank := 2 * int(f.Agreement)
	if f.Shop {
		rank++
	}
	return rank
}

// compare compares two sides, and gives how far they are apart in the second one's unit; zero
// where they aren't.
func compare(first, second side) (Comparison, *big.Rat) {
	a, b := first.values(), second.values()
	found := Comparison{Agreement: Agrees, First: a[0].value, Second: b[0].value}
	// Only numbers that were printed can be told to be each other's conversion.
	farthest, derived, same := new(big.Rat), first.derived || second.derived, true
	inward := second.isInward(first)
	for i := 0; i < len(a) && !inward; i++ {
		unit := b[i].value.Unit()
		gap := apart(a[i].in(unit), b[i].in(unit))
		if gap.Sign() > 0 && gapAsShops(a[i], b[i]).Sign() <= 0 {
			gap, found.Shop = new(big.Rat), true
		}
		if gap.Cmp(farthest) > 0 {
			farthest = gap
			found.Agreement, found.First, found.Second = Disagrees, a[i].value, b[i].value
		}
		same = same && (roundsTo(a[i].value, b[i].value) || roundsTo(b[i].value, a[i].value))
	}
	to := found.Second
	found.Converted = found.First.RoundIn(to.Unit(), to.Places()+1, units.ToNearestEven)
	if found.Agreement == Disagrees {
		found.Shop = false
		found.Gap, _ = units.FromRat(farthest, to.Unit(), to.Places()+2, units.ToPositiveInf)
	} else if !same && !derived && !found.Shop {
		found.Third, found.ThirdValues = thirdUnit(a, b)
		if found.ThirdValues != nil {
			found.Agreement = SharesThirdUnit
		}
	}
	return found, farthest
}

// isInward reports whether s is the first side's band rounded inward, to the places that s is printed
// with; where those are none, zeros at the end may be the rounding's.
func (s side) isInward(first side) bool {
	if !s.band.Valid() || !first.band.Valid() {
		return false
	}
	for places := max(s.band.low.Places(), s.band.high.Places()); ; places-- {
		low := first.band.low.RoundIn(s.band.low.Unit(), places, units.ToPositiveInf)
		high := first.band.high.RoundIn(s.band.high.Unit(), places, units.ToNegativeInf)
		if low.Equal(s.band.low) && high.Equal(s.band.high) {
			return true
		}
		if places > 0 || high.Sign() == 0 {
			return false
		}
	}
}

// apart is the distance between two intervals; zero or less where they overlap.
func apart(a, b interval) *big.Rat {
	x, y := new(big.Rat).Sub(a.lo, b.hi), new(big.Rat).Sub(b.lo, a.hi)
	if x.Cmp(y) < 0 {
		return y
	}
	return x
}

// shopFactor is how much too high 1.356 N·m for a foot-pound is. 0.113 N·m for an inch-pound, a
// twelfth of it, is too high by as much.
var shopFactor = new(big.Rat).Quo(big.NewRat(1356, 1000), units.Factor(units.FootPound, units.NewtonMetre))

// gapAsShops is how far apart two numbers stand if one may have been made from the other with
// the shop's factor: what is printed in pounds then stands for a little more newton metres.
func gapAsShops(a, b printed) *big.Rat {
	if !isPound(a.value.Unit()) {
		a, b = b, a
	}
	if !isPound(a.value.Unit()) || isPound(b.value.Unit()) {
		return big.NewRat(1, 1)
	}
	unit := b.value.Unit()
	i := a.in(unit)
	return apart(interval{i.lo, i.hi.Mul(i.hi, shopFactor)}, b.in(unit))
}

func isPound(u units.TorqueUnit) bool { return u == units.FootPound || u == units.InchPound }

// roundsTo reports whether b is a, converted and rounded to b's places.
func roundsTo(a, b units.Torque) bool {
	return a.RoundIn(b.Unit(), b.Places(), units.ToNearestEven).Equal(b)
}

// thirdUnit looks for a unit in which every pair has a value of at most two significant digits
// that rounds to both numbers. Where a value of two digits would be found whatever was printed,
// because the grid of such values is finer than what the numbers stand for, it finds nothing. Inch-pounds
// are no third unit to foot-pounds, nor the other way: whoever has the one has the other, and its grid
// hits every second number by chance.
func thirdUnit(a, b []printed) (units.TorqueUnit, []units.Torque) {
	first, second := a[0].value.Unit(), b[0].value.Unit()
	pounds := isPound(first) || isPound(second)
	for _, third := range [...]units.TorqueUnit{units.KilogramForceMetre, units.KilogramForceCentimetre, units.NewtonMetre, units.FootPound, units.InchPound} {
		if third == first || third == second || pounds && isPound(third) {
			continue
		}
		var values []units.Torque
		for i := range a {
			x, y := a[i].in(third), b[i].in(third)
			q, ok := twoDigits(interval{larger(x.lo, y.lo), smaller(x.hi, y.hi)}, third)
			if !ok {
				break
			}
			values = append(values, q)
		}
		if len(values) == len(a) {
			return third, values
		}
	}
	return 0, nil
}

func larger(a, b *big.Rat) *big.Rat {
	if a.Cmp(b) < 0 {
		return b
	}
	return a
}

func smaller(a, b *big.Rat) *big.Rat {
	if b.Cmp(a) < 0 {
		return b
	}
	return a
}

// twoDigits finds a value of at most two significant digits in an interval narrower than the
// steps of such values.
func twoDigits(i interval, unit units.TorqueUnit) (units.Torque, bool) {
	if i.lo.Sign() <= 0 {
		return units.Torque{}, false
	}
	for places := 12; places >= -12; places-- {
		q, err := units.FromRat(i.lo, unit, places, units.ToPositiveInf)
		if err != nil || q.RatIn(unit).Cmp(i.hi) > 0 {
			continue
		}
		step := tenth(places)
		if step.Cmp(new(big.Rat).Sub(i.hi, i.lo)) <= 0 {
			continue
		}
		if digits := new(big.Rat).Quo(q.RatIn(unit), step); digits.Cmp(hundred) < 0 {
			exact, _ := exactTorque(q.RatIn(unit), unit)
			return exact, true
		}
	}
	return units.Torque{}, false
}

// tenth is 10^-places.
func tenth(places int) *big.Rat {
	ten := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(places, -places))), nil))
	if places > 0 {
		return ten.Inv(ten)
	}
	return ten
}

// sheetUnits are those that the scale of a wrench or the sheet of an engine is in: common practice, no
// source.
var sheetUnits = [...]units.TorqueUnit{units.NewtonMetre, units.InchPound, units.FootPound, units.KilogramForceMetre}

// UnitSlips are the units of wrenches and sheets in which the reading's number would lie in the band,
// had it been read in them: 19 in-lb against 145 to 190 in-lb fits in N·m. It is a suspicion for whoever
// took the reading and never a correction. A reading that lies in the band as it stands has none, and
// neither has one within a tenth of a limit, which needs no slip to be explained.
func (b Band) UnitSlips(reading units.Torque) []units.TorqueUnit {
	if !b.Valid() || !reading.Valid() || b.nearly(reading) {
		return nil
	}
	var slips []units.TorqueUnit
	for _, unit := range sheetUnits {
		other, err := units.New(reading.Magnitude(), unit)
		if err == nil && b.Contains(other) {
			slips = append(slips, unit)
		}
	}
	return slips
}

// nearly reports whether a reading lies in the band or within a tenth of one of its limits.
func (b Band) nearly(reading units.Torque) bool {
	x, unit := reading.RatIn(reading.Unit()), reading.Unit()
	low, high := b.low.RatIn(unit), b.high.RatIn(unit)
	return x.Cmp(low.Mul(low, big.NewRat(9, 10))) >= 0 && x.Cmp(high.Mul(high, big.NewRat(11, 10))) <= 0
}

// MarshalJSON is always an error: the text that it was read from is what to store.
//
// Errors: *units.ParseError (units.ErrSyntax).
func (p PrintedLimit) MarshalJSON() ([]byte, error) {
	return nil, misread.Error(printWhat, p.String(), 0, "isn't stored as a whole", "the text that it was read from", units.ErrSyntax)
}
