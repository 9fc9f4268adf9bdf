package sheet

import (
	"cmp"
	"errors"
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/service"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// printer prints by the preferences of a job that is checked.
type printer struct {
	volume *units.VolumeUnit
	mass   *units.MassUnit
	length *units.LengthUnit
	scale  *units.TemperatureScale
	comma  bool
}

func printerOf(prefer *service.Preferences) (p printer) {
	if prefer == nil {
		return printer{}
	}
	return printer{prefer.Volume, prefer.Mass, prefer.Length, prefer.Temperature, prefer.DecimalComma}
}

// words is the sentence of a code and its variant with its values; what comes back beside it are the values as a
// program reads them. A part of a sentence in brackets is repeated for -1, -2 and so on.
func (p printer) words(code, variant string, values service.Values) (string, map[string]string) {
	if variant != "" {
		code += "/" + variant
	}
	sentence := sentences[code]
	if len(values) == 0 {
		return sentence, nil
	}
	neutral, local := make(map[string]string, len(values)), make(map[string]string, len(values))
	comma := p.comma
	for _, v := range values {
		if m, is := v.Value.(service.Message); is {
			local[v.Name], _ = p.words(m.Code, m.Variant, m.Values)
			p.comma = false
			neutral[v.Name], _ = p.words(m.Code, m.Variant, m.Values)
			p.comma = comma
			continue
		}
		text, number := p.print(v)
		text = plain.Clean(text)
		neutral[v.Name], local[v.Name] = text, text
		if place, is := v.Value.(turn.Place); is {
			local[v.Name+"/bare"] = strings.TrimPrefix(place.String(), "at ")
		}
		if number {
			local[v.Name] = mixed(p.number(text))
			if unit := strings.LastIndexByte(local[v.Name], ' '); unit > 0 {
				local[v.Name+"/number"] = local[v.Name][:unit]
			}
		}
	}
	if before, rest, found := strings.Cut(sentence, "["); found {
		each, after, _ := strings.Cut(rest, "]")
		sentence = before
		for i := 1; strings.Contains(each, "#") && len(values) >= 2*i; i++ {
			sentence += strings.ReplaceAll(each, "#", strconv.Itoa(i))
		}
		sentence += after
	}
	return fill(sentence, local), neutral
}

// print is a value as a program reads it, and whether it is a number: what takes a decimal comma,
// unlike a name, a part, a thread or a date, which may hold a point too.
func (p printer) print(v service.Value) (text string, number bool) {
	switch x := v.Value.(type) {
	case units.Volume:
		if v.Reckoned {
			return p.reckonedVolume(x, v.Round), true
		}
		return quantity(x, p.volume, v.Round), true
	case units.Mass:
		return p.reckonedMass(x, v.Round), true
	case units.Length:
		if v.Reckoned {
			x = x.Round(min(3, x.Places()), units.ToNearestEven)
		}
		return p.aLength(x), true
	case units.Temperature:
		return p.temperature(x, v.Round), true
	case units.TemperatureDifference:
		return difference(x), true
	case drain.Estimate[units.VolumeUnit]:
		return p.volumes(x), true
	case drain.Estimate[units.MassUnit]:
		if v.Reckoned {
			return p.briefly(x), true
		}
		return p.masses(x), true
	case units.Angle:
		return angle(x), true
	case units.VolumeUnit:
		return inUnit(x, p.volume), false
	case units.MassUnit:
		return inUnit(x, p.mass), false
	case []units.Angle:
		return angle(x[0]) + " to " + angle(x[1]), true
	case units.Torque:
		if v.Reckoned {
			return digits(x), true
		}
		return x.String(), true
	case torque.Band, units.Share, service.FillPart, drain.Duration, units.Density, drain.StatedDensity, units.Flow:
		return fmt.Sprint(x), true
	case turn.Turn:
		return fmt.Sprint(x), true
	case service.Word:
		return word(x), true
	case []service.Word:
		var all []string
		for _, one := range x {
			all = append(all, word(one))
		}
		return strings.Join(all, "; "), false
	case error:
		return x.Error(), !errors.Is(x, torque.ErrCalibration) // which quotes the wrench's name
	case []units.Torque:
		return list(x), true
	case []units.TorqueUnit:
		return list(x), false
	case []string:
		if v.Name == "stations" || v.Name == "unknown" {
			return strings.Join(x, ", "), false
		}
		return strings.Join(x, "; "), false
	}
	return fmt.Sprint(v.Value), false
}

// word is what is called so in English.
func word(w service.Word) string { return cmp.Or(sentences["word/"+string(w)], string(w)) }

// list is one after the other.
func list[T fmt.Stringer](all []T) string {
	text := ""
	for i, x := range all {
		if i > 0 {
			text += ", "
		}
		text += x.String()
	}
	return text
}

// mixed puts a plus between a whole number and a fraction: 1 1/4 might be read as 11/4.
func mixed(text string) string {
	whole, rest, _ := strings.Cut(text, " ")
	part, _, _ := strings.Cut(rest, " ")
	if over, under, found := strings.Cut(part, "/"); found && number(whole) && number(over) && number(under) {
		return whole + " + " + rest
	}
	return text
}

// number reports whether a text is digits.
func number(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }

// inUnit is the unit asked for, or else the job's.
func inUnit[U units.Unit](unit U, preferred *U) string {
	if preferred != nil {
		unit = *preferred
	}
	return unit.String()
}

// number gives a number its decimal mark.
func (p printer) number(text string) string { return decimalMark(text, p.comma) }

func decimalMark(text string, comma bool) string {
	if !comma {
		return text
	}
	digit := func(i int) bool { return i >= 0 && i < len(text) && text[i] >= '0' && text[i] <= '9' }
	marked := []byte(text)
	for i, c := range marked {
		if c == '.' && digit(i-1) && digit(i+1) {
			marked[i] = ','
		}
	}
	return string(marked)
}

// quantity prints a single value in the unit asked for, rounded to within a hundredth of itself,
// with what it was rounded from.
func quantity[U units.Unit](q units.Quantity[U], unit *U, mode units.Rounding) string {
	if unit == nil || *unit == q.Unit() {
		return q.String()
	}
	r := q.RoundIn(*unit, fineEnough(q, *unit, placesIn(*unit)), mode)
	if r.Equal(q) {
		return r.String()
	}
	return fmt.Sprintf("%v (rounded from %v)", r, q)
}

// fineEnough is the fewest places, from so many up to six, that move a value by no more than a
// hundredth of it.
func fineEnough[U units.Unit](q units.Quantity[U], unit U, places int) int {
	for ; places < 6; places++ {
		off, _ := q.RoundIn(unit, places, units.ToNearestEven).Sub(q)
		if q.Sign() == 0 || off.Abs().Ratio(q.Abs()).Cmp(hundredth) <= 0 {
			break
		}
	}
	return places
}

var hundred, tenth, hundredth = big.NewRat(100, 1), big.NewRat(1, 10), big.NewRat(1, 100)

// placesIn is how many places are printed at least: none of what is small in a workshop.
func placesIn[U units.Unit](unit U) int {
	switch u := any(unit).(type) {
	case units.VolumeUnit:
		if units.Factor(u, units.Litre).Cmp(tenth) < 0 {
			return 0
		}
		return 2
	case units.MassUnit:
		switch f := units.Factor(u, units.Kilogram); {
		case f.Cmp(big.NewRat(1, 1)) >= 0:
			return 3
		case f.Cmp(tenth) >= 0:
			return 2
		}
		return 0
	}
	return 1
}

// aLength is a length of the workshop in the unit asked for, and a distance in its own.
func (p printer) aLength(l units.Length) string {
	if units.Factor(l.Unit(), units.Metre).Cmp(hundred) > 0 {
		return l.String()
	}
	return quantity(l, p.length, units.ToNearestEven)
}

// temperature rounds to a tenth of a degree.
func (p printer) temperature(t units.Temperature, mode units.Rounding) string {
	if p.scale == nil || *p.scale == t.Scale() {
		return t.String()
	}
	r := t.RoundIn(*p.scale, 0, mode)
	if !r.Equal(t) {
		r = t.RoundIn(*p.scale, 1, mode)
	}
	if r.Equal(t) {
		return r.String()
	}
	return fmt.Sprintf("%v (rounded from %v)", r, t)
}

// reckonedVolume is a volume in few places: two going up, and one going down, a limit.
func (p printer) reckonedVolume(v units.Volume, mode units.Rounding) string {
	unit, places := v.Unit(), 2
	if mode == units.ToNegativeInf {
		places = 1
	}
	if p.volume != nil && *p.volume != unit {
		unit = *p.volume
		if mode == units.ToPositiveInf {
			places = placesIn(unit)
		}
		places = fineEnough(v, unit, places)
	}
	return v.RoundIn(unit, places, mode).String()
}

// reckonedMass is a mass in few places, in kilograms where no unit is preferred.
func (p printer) reckonedMass(m units.Mass, mode units.Rounding) string {
	unit, places := units.Kilogram, 1
	if p.mass != nil {
		unit = *p.mass
		places = fineEnough(m, unit, places)
	}
	return m.RoundIn(unit, places, mode).String()
}

// angle is in degrees, to a hundredth.
func angle(a units.Angle) string {
	if a.Places() > 2 {
		return "about " + a.Round(2, units.ToNearestEven).String()
	}
	return a.String()
}

// difference is a difference of temperatures on both scales, to a tenth.
func difference(d units.TemperatureDifference) string {
	other := units.CelsiusDifference
	if d.Unit() == other {
		other = units.FahrenheitDifference
	}
	return fmt.Sprintf("%v (%v)", d, d.RoundIn(other, 1, units.ToNearestEven))
}

// volumes prints a range in the unit asked for; without one, as written and then in the other
// system's unit of that size.
func (p printer) volumes(e drain.Estimate[units.VolumeUnit]) string {
	if p.volume != nil {
		return preferred(e, *p.volume)
	}
	other, places := units.USGallon, 2
	switch e.Best.Unit() {
	case units.USGallon, units.USQuart, units.USPint:
		other = units.Litre
	case units.USFluidOunce:
		other, places = units.Millilitre, 0
	case units.Millilitre:
		other, places = units.USFluidOunce, 1
	}
	first := exactly(e)
	if first == "" {
		first = triple(e, e.Best.Unit(), placesIn(e.Best.Unit())) + ", rounded from " + digits(e.Best)
	}
	return fmt.Sprintf("%s (%v); rounded from that, %s", first, e.From, triple(e, other, places))
}

// masses prints a range in the unit asked for; without one, in kilograms and pounds.
func (p printer) masses(e drain.Estimate[units.MassUnit]) string {
	if p.mass != nil {
		return preferred(e, *p.mass)
	}
	text := exactly(e)
	if text == "" || e.Best.Unit() != units.Kilogram {
		text = triple(e, units.Kilogram, 3) + ", rounded from " + digits(e.Best.In(units.Kilogram))
	}
	return fmt.Sprintf("%s (%v); in pounds %s", text, e.From, triple(e, units.Pound, 2))
}

// briefly prints a range in one unit, outward: "1.36 (1.09 to 1.63) kg".
func (p printer) briefly(e drain.Estimate[units.MassUnit]) string {
	unit := units.Kilogram
	if p.mass != nil {
		unit = *p.mass
	}
	places := fineEnough(e.Best, unit, max(placesIn(unit), 1)-1)
	show := func(q units.Mass, mode units.Rounding) string { return numeral(q.RoundIn(unit, places, mode)) }
	return fmt.Sprintf("%s (%s to %s) %v", show(e.Best, units.ToNearestEven), show(e.Low, units.ToNegativeInf), show(e.High, units.ToPositiveInf), unit)
}

// preferred prints a range in one unit, outward.
func preferred[U units.Unit](e drain.Estimate[U], unit U) string {
	if text := exactly(e); text != "" && e.Best.Unit() == unit {
		return fmt.Sprintf("%s (%v)", text, e.From)
	}
	places := fineEnough(e.Best, unit, placesIn(unit))
	text := triple(e, unit, places)
	for _, q := range []units.Quantity[U]{e.Low, e.Best, e.High} {
		if !q.RoundIn(unit, places, units.ToNearestEven).Equal(q) {
			text += ", rounded from " + digits(e.Best)
			break
		}
	}
	return fmt.Sprintf("%s (%v)", text, e.From)
}

// exactly prints a range whose three values have few places; "" for one that needs rounding.
func exactly[U units.Unit](e drain.Estimate[U]) string {
	unit := e.Best.Unit()
	for _, q := range []units.Quantity[U]{e.Low, e.Best, e.High} {
		if q.Unit() != unit || q.Places() > 3 {
			return ""
		}
	}
	return fmt.Sprintf("%s / %s / %s %v", numeral(e.Low), numeral(e.Best), numeral(e.High), unit)
}

// triple prints low / best / high in a unit, rounded outward.
func triple[U units.Unit](e drain.Estimate[U], unit U, places int) string {
	show := func(q units.Quantity[U], mode units.Rounding) string { return numeral(q.RoundIn(unit, places, mode)) }
	return fmt.Sprintf("%s / %s / %s %v", show(e.Low, units.ToNegativeInf), show(e.Best, units.ToNearestEven), show(e.High, units.ToPositiveInf), unit)
}

// numeral is the number of a quantity, with its places.
func numeral[U units.Unit](q units.Quantity[U]) string {
	return strings.TrimSuffix(q.String(), " "+q.Unit().String())
}

// digits is a number as it was before rounding, cut after eight places with an ellipsis.
func digits[U units.Unit](q units.Quantity[U]) string {
	if q.Places() <= 8 {
		return q.String()
	}
	cut := q.Abs().Round(8, units.ToNegativeInf)
	return fmt.Sprintf("%s… %v", numeral(cut), q.Unit())
}
