package waste

import (
	"cmp"
	"fmt"
	"math/big"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// FormUnit is a unit by the letter of Table II of the instructions to EPA Form 8700-22. The zero
// value is none.
type FormUnit uint8

// The units (EPA Form 8700-22, instructions, Table II).
const (
	FormKilograms   FormUnit = iota + 1 // K
	FormPounds                          // P
	FormLitres                          // L: liquids only
	FormGallons                         // G: US gallons, liquids only
	FormTonnes                          // M: metric tons of 1000 kg, very large bulk only
	FormShortTons                       // T: tons of 2000 lb, very large bulk only
	FormCubicMetres                     // N: very large bulk only
	FormCubicYards                      // Y: very large bulk only
)

// formUnits is Table II. One of the form is num of mass or volume; a cubic yard is 46,656 in³.
var formUnits = [...]struct {
	name          string
	liquids, bulk bool
	mass          units.MassUnit
	volume        units.VolumeUnit
	isVolume      bool
	size          int64 // of the unit beside it
}{
	FormKilograms:   {name: "kilograms", mass: units.Kilogram, size: 1},
	FormPounds:      {name: "pounds", mass: units.Pound, size: 1},
	FormLitres:      {name: "litres", liquids: true, isVolume: true, volume: units.Litre, size: 1},
	FormGallons:     {name: "gallons", liquids: true, isVolume: true, volume: units.USGallon, size: 1},
	FormTonnes:      {name: "metric tons", bulk: true, mass: units.Tonne, size: 1},
	FormShortTons:   {name: "tons of 2000 lb", bulk: true, mass: units.ShortTon, size: 1},
	FormCubicMetres: {name: "cubic metres", bulk: true, isVolume: true, volume: units.CubicMetre, size: 1},
	FormCubicYards:  {name: "cubic yards", bulk: true, isVolume: true, volume: units.CubicInch, size: 36 * 36 * 36},
}

// Valid reports whether u is one of the constants.
func (u FormUnit) Valid() bool { return formUnitCodes.Has(u) }

// Name is the unit in words, "kilograms".
func (u FormUnit) Name() string {
	if !u.Valid() {
		return "no unit"
	}
	return formUnits[u].name
}

// LiquidsOnly reports whether the form keeps the unit for liquids: gallons and litres.
func (u FormUnit) LiquidsOnly() bool { return u.Valid() && formUnits[u].liquids }

// BulkOnly reports whether the form keeps the unit for very large bulk: M, T, N and Y.
func (u FormUnit) BulkOnly() bool { return u.Valid() && formUnits[u].bulk }

// ParseFormUnit reads the letter.
//
// Errors: *units.ParseError (units.ErrSyntax).
func ParseFormUnit(text string) (FormUnit, error) { return formUnitCodes.Parse(text) }

// TieRule says what happens to a quantity exactly between two numbers that can be printed. The
// form's instructions say "nearest" and leave it open; this way a tie never declares too little.
const TieRule = "a tie goes up"

// maxLine is the largest whole number a line takes: nobody's containers hold a billion of anything.
const maxLine = 999_999_999

// Item is one waste that is to stand on a paper, with what is known of it. A mass or a volume that
// isn't known is left as the zero Estimate; at least one must be given.
type Item struct {
	Description string // the generator's words for box 9b
	Stream      Stream
	Containers  []Container // all of one code
	Mass        drain.Estimate[units.MassUnit]
	Volume      drain.Estimate[units.VolumeUnit]
	WasteCodes  []string // as determined by the generator, at most six: the form has room for no more
}

// Line is an item as the form asks for it. The estimate it was rounded from stays beside it: a
// total is taken over estimates, never over lines.
type Line struct {
	Description string                           `json:"description"`
	Stream      Stream                           `json:"stream"`
	Containers  int                              `json:"containers"`
	Container   ContainerCode                    `json:"container"`
	Quantity    int64                            `json:"quantity"` // whole units, nearest; see TieRule
	Unit        FormUnit                         `json:"unit"`
	WasteCodes  []string                         `json:"waste_codes,omitempty"`
	Zero        bool                             `json:"zero"`            // prints 0 where something is there
	Mass        drain.Estimate[units.MassUnit]   `json:"mass,omitzero"`   // what it was rounded from, for a unit of mass
	Volume      drain.Estimate[units.VolumeUnit] `json:"volume,omitzero"` // for a unit of volume
	From        drain.Provenance                 `json:"from"`
	Notes       []string                         `json:"notes,omitempty"`
	Caution     string                           `json:"caution"`
}

// Line rounds an item to whole units of the form, the nearest; [TieRule] says which at a tie
// (EPA Form 8700-22, instructions to items 10 to 13). Nothing passes from mass to volume here: a
// unit of volume needs the volume.
//
// Errors: *Error: ErrMissing without description, containers, or the mass or volume the unit
// needs; ErrLiquidsOnly and ErrBulkOnly for a unit that doesn't suit; ErrCapacity where a volume
// that nobody measured is that of the containers; units.ErrRange for more than the containers
// hold, more than six waste codes, or more than 999,999,999 units. *drain.InputError for an
// estimate that isn't one.
func (i Item) Line(unit FormUnit) (Line, error) {
	if err := i.check(); err != nil {
		return Line{}, err
	}
	if err := i.suits(unit); err != nil {
		return Line{}, err
	}
	l := Line{Description: i.Description, Stream: i.Stream, Containers: len(i.Containers), Container: i.Containers[0].Code,
		Unit: unit, WasteCodes: append([]string(nil), i.WasteCodes...), Caution: Caution}
	if formUnits[unit].isVolume {
		l.Volume, l.From = i.Volume, i.Volume.From
	} else {
		l.Mass, l.From = i.Mass, i.Mass.From
	}
	low, best, high := i.in(unit)
	var tie, ok bool
	if l.Quantity, tie, ok = nearest(best); !ok {
		return Line{}, refuse("form line", "quantity", i.quantity(unit), "too large", "at most 999,999,999 whole units", units.ErrRange)
	}
	if tie {
		l.Notes = append(l.Notes, "exactly between two whole units: "+TieRule)
	}
	least, _, _ := nearest(low)
	if most, _, ok := nearest(high); ok && least != most {
		l.Notes = append(l.Notes, fmt.Sprintf("the estimate leaves room for %d to %d %s", least, most, unit))
	}
	if l.Zero = l.Quantity == 0 && high.Sign() > 0; l.Zero {
		l.Notes = append(l.Notes, i.zeroNote(unit))
	}
	if note := i.fillNote(); note != "" {
		l.Notes = append(l.Notes, note)
	}
	return l, nil
}

// in is the mass or the volume in a unit of the form, exactly.
func (i Item) in(unit FormUnit) (low, best, high *big.Rat) {
	row := formUnits[unit]
	if row.isVolume {
		return each(i.Volume, row.volume, row.size)
	}
	return each(i.Mass, row.mass, row.size)
}

// each is an estimate's three in size times a unit.
func each[U units.Unit](e drain.Estimate[U], unit U, size int64) (low, best, high *big.Rat) {
	in := func(q units.Quantity[U]) *big.Rat {
		x := q.RatIn(unit)
		return x.Mul(x, big.NewRat(1, size))
	}
	return in(e.Low), in(e.Best), in(e.High)
}

// nearest is floor(x + 1/2) for x of zero or more, whether x was a tie, and whether it fits a line.
func nearest(x *big.Rat) (n int64, tie, ok bool) {
	double := new(big.Rat).Mul(x, big.NewRat(2, 1))
	tie = double.IsInt() && double.Num().Bit(0) == 1
	double.Add(double, big.NewRat(1, 1))
	q := new(big.Int).Quo(double.Num(), new(big.Int).Lsh(double.Denom(), 1))
	if !q.IsInt64() || q.Int64() > maxLine {
		return 0, tie, false
	}
	return q.Int64(), tie, true
}

// check is what every paper asks of an item.
func (i Item) check() error {
	const what = "form line"
	switch {
	case len(i.Description) > 256:
		return refuse(what, "description", i.Description, "longer than 256 bytes", "a shorter text", units.ErrRange)
	case plain.Blank(i.Description):
		return refuse(what, "description", i.Description, "none given", "the generator's words for the waste", ErrMissing)
	case !i.Stream.Valid():
		return refuse(what, "stream", i.Stream.String(), "none given", "one of the streams", ErrMissing)
	case len(i.WasteCodes) > 6:
		return refuse(what, "waste codes", fmt.Sprint(len(i.WasteCodes)), "more than the line has room for", "at most six", units.ErrRange)
	case !given(i.Mass) && !given(i.Volume):
		return refuse(what, "quantity", "", "neither mass nor volume given", "one of them, measured or estimated", ErrMissing)
	}
	if err := seen(what, "description", i.Description); err != nil {
		return err
	}
	for _, code := range i.WasteCodes {
		if trimmed, ok := word(code); !ok || trimmed != code || plain.Hidden(code) != "" {
			return refuse(what, "waste codes", code, "no code", "such as D001", units.ErrSyntax)
		}
	}
	if given(i.Mass) {
		if err := check(what, "mass", i.Mass); err != nil {
			return err
		}
	}
	if given(i.Volume) {
		if err := check(what, "volume", i.Volume); err != nil {
			return err
		}
	}
	return i.checkContainers()
}

func (i Item) checkContainers() error {
	const what = "form line"
	if len(i.Containers) == 0 {
		return refuse(what, "containers", "", "none given", "at least one", ErrMissing)
	}
	for n, c := range i.Containers {
		if err := c.Check(); err != nil {
			return err
		}
		if c.Code != i.Containers[0].Code {
			return refuse(what, fmt.Sprintf("containers[%d]", n), c.Code.String(), "another kind than the first",
				i.Containers[0].Code.String()+", or a line of its own", units.ErrRange)
		}
	}
	if err := i.checkMass(); err != nil {
		return err
	}
	capacity, known := i.room(func(c Container) units.Volume { return c.Capacity })
	if !known || !given(i.Volume) {
		return nil
	}
	observed := i.Volume.From == drain.Weighed || i.Volume.From == drain.Measured
	switch order := i.Volume.Best.RatIn(units.Litre).Cmp(capacity); {
	case order > 0:
		return refuse(what, "quantity", i.Volume.Best.String(), "more than the containers hold", "what is in them", units.ErrRange)
	case order == 0 && !observed:
		return refuse(what, "quantity", i.Volume.Best.String(),
			"is the size of the containers, which the form doesn't accept as an estimate", "what is in them", ErrCapacity)
	}
	return nil
}

// checkMass refuses a mass that the containers can't hold: none of its liquid is so dense, or their
// marks allow less even without what they weigh themselves.
func (i Item) checkMass() error {
	if !given(i.Mass) {
		return nil
	}
	tooMuch := refuse("form line", "quantity", i.Mass.Best.String(), "more than the containers hold", "what is in them", units.ErrRange)
	if capacity, known := i.room(func(c Container) units.Volume { return c.Capacity }); known && i.Stream.litres(i.Mass.Best).Cmp(capacity) > 0 {
		return tooMuch
	}
	marks := new(big.Rat)
	for _, c := range i.Containers {
		if c.MostGross.Sign() == 0 {
			return nil
		}
		marks.Add(marks, c.MostGross.RatIn(units.Kilogram))
	}
	if i.Mass.Best.RatIn(units.Kilogram).Cmp(marks) > 0 {
		return tooMuch
	}
	return nil
}

// room adds up a size over the containers, in litres; not known where one container's isn't.
func (i Item) room(size func(Container) units.Volume) (total *big.Rat, known bool) {
	total = new(big.Rat)
	for _, c := range i.Containers {
		v := size(c)
		if v.Sign() == 0 {
			return nil, false
		}
		total.Add(total, v.RatIn(units.Litre))
	}
	return total, true
}

// suits refuses a unit that the form keeps for other waste, or that needs what isn't given.
func (i Item) suits(unit FormUnit) error {
	const what = "form line"
	if !unit.Valid() {
		return refuse(what, "unit", unit.String(), "none given", "K, P, L, G, M, T, N or Y", ErrMissing)
	}
	row := formUnits[unit]
	switch {
	case row.liquids && !i.Stream.Liquid():
		return refuse(what, "unit", unit.String(), "for liquids only, and "+i.Stream.String()+" is none", "K or P", ErrLiquidsOnly)
	case row.bulk && !containers[i.Containers[0].Code].bulk:
		return refuse(what, "unit", unit.String(), "for very large bulk only, and "+i.Containers[0].Code.Name()+" are none", "K, P, L or G", ErrBulkOnly)
	case row.isVolume && !given(i.Volume):
		return refuse(what, "volume", "", "not given, and "+row.name+" need it", "the volume, or a unit of mass", ErrMissing)
	case !row.isVolume && !given(i.Mass):
		return refuse(what, "mass", "", "not given, and "+row.name+" need it", "the mass, or a unit of volume", ErrMissing)
	}
	return nil
}

// quantity is what a unit is given from, for errors.
func (i Item) quantity(unit FormUnit) string {
	if formUnits[unit].isVolume {
		return i.Volume.Best.String()
	}
	return i.Mass.Best.String()
}

// zeroNote says what can be done about a line that prints 0.
func (i Item) zeroNote(unit FormUnit) string {
	var finer []string
	for u := FormKilograms; u.Valid(); u++ {
		if u == unit || i.suits(u) != nil {
			continue
		}
		_, best, _ := i.in(u)
		if n, _, ok := nearest(best); ok && n > 0 {
			finer = append(finer, fmt.Sprintf("%d %s", n, u))
		}
	}
	if len(finer) > 0 {
		return "prints 0 where something is there: it would be " + strings.Join(finer, " or ")
	}
	return "prints 0 where something is there, and no finer unit exists: combine it with more of the same waste, or ask who takes it"
}

// fillNote warns where the contents may pass the fill limit.
func (i Item) fillNote() string {
	limit, known := i.room(func(c Container) units.Volume { return c.FillLimit })
	if !known || i.Volume.High.RatIn(units.Litre).Cmp(limit) <= 0 {
		return ""
	}
	return "may be above the containers' fill limit: don't close or move them so; follow their maker's instructions and the local code"
}

// String is the line for reading, with what it was rounded from, its notes and the [Caution].
func (l Line) String() string { return l.text() + "\n" + Caution }

func (l Line) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n  containers %d %s (%s), quantity %d %s (%s)\n", l.Description,
		l.Containers, l.Container, l.Container.Name(), l.Quantity, l.Unit, l.Unit.Name())
	exact := spread(l.Mass)
	if given(l.Volume) {
		exact = spread(l.Volume)
	}
	fmt.Fprintf(&b, "  nearest whole unit to %s; %s\n", exact, TieRule)
	codes := "the generator's to give"
	if len(l.WasteCodes) > 0 {
		codes = strings.Join(l.WasteCodes, " ")
	}
	fmt.Fprintf(&b, "  waste codes: %s", codes)
	for _, note := range l.Notes {
		fmt.Fprintf(&b, "\n  note: %s", note)
	}
	return b.String()
}

// Form is a number of lines. Its totals don't come from the lines: see [Ledger].
type Form []Line

// String numbers the lines and ends with the [Caution].
func (f Form) String() string {
	var b strings.Builder
	for n, l := range f {
		fmt.Fprintf(&b, "%d. %s\n", n+1, l.text())
	}
	b.WriteString(Caution)
	return b.String()
}

// Consignment is an item as a consignment note asks for it: kilograms, to stated places. That the
// notes ask for kilograms is from memory; read yours.
type Consignment struct {
	Description string                         `json:"description"`
	Stream      Stream                         `json:"stream"`
	Containers  int                            `json:"containers"`
	Container   ContainerCode                  `json:"container"`
	Kilograms   units.Mass                     `json:"kilograms"` // nearest; see TieRule
	Zero        bool                           `json:"zero"`      // prints 0 where something is there
	Mass        drain.Estimate[units.MassUnit] `json:"mass"`      // what it was rounded from
	Codes       []string                       `json:"codes,omitempty"`
	Caution     string                         `json:"caution"`
}

// Consign rounds an item's mass to kilograms with 0 to 3 places, the nearest; [TieRule] says which
// at a tie.
//
// Errors: as [Item.Line], and *Error (units.ErrRange) for other places.
func (i Item) Consign(places int) (Consignment, error) {
	if places < 0 || places > 3 {
		return Consignment{}, refuse("consignment", "places", fmt.Sprint(places), "too few or too many", "0 to 3", units.ErrRange)
	}
	if err := cmp.Or(i.check(), i.suits(FormKilograms)); err != nil {
		return Consignment{}, err
	}
	steps := [...]int64{1, 10, 100, 1000}[places]
	n, _, ok := nearest(new(big.Rat).Mul(i.Mass.Best.RatIn(units.Kilogram), big.NewRat(steps, 1)))
	if !ok {
		return Consignment{}, refuse("consignment", "mass", i.Mass.Best.String(), "too large", "at most 999,999,999 of the last place", units.ErrRange)
	}
	kg, err := units.FromRat(big.NewRat(n, steps), units.Kilogram, places, units.ToNearestEven)
	if err != nil {
		return Consignment{}, err
	}
	return Consignment{Description: i.Description, Stream: i.Stream, Containers: len(i.Containers), Container: i.Containers[0].Code,
		Kilograms: kg, Zero: n == 0 && i.Mass.High.Sign() > 0, Mass: i.Mass,
		Codes: append([]string(nil), i.WasteCodes...), Caution: Caution}, nil
}

// String is the line for reading and the [Caution].
func (c Consignment) String() string {
	text := fmt.Sprintf("%s\n  %d × %s, %s, nearest to %s; %s\n", c.Description, c.Containers, c.Container.Name(),
		c.Kilograms, spread(c.Mass), TieRule)
	if len(c.Codes) > 0 {
		text += "  codes: " + strings.Join(c.Codes, ", ") + "\n"
	}
	if c.Zero {
		text += "  note: prints 0 where something is there: use more places, combine or ask\n"
	}
	return text + Caution
}
