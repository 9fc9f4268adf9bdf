package waste

import (
	"cmp"
	"maps"
	"math/big"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/rational"
	"example.com/snugturn/units"
)

// Drum is a drum, a box or a bag and what became of it, as a [Ledger] has it. A day that isn't known is the
// zero Date, an estimate that isn't the zero Estimate.
//
// What may be mixed isn't known here. Where more than one stream went into a drum, a notice asks the site.
type Drum struct {
	// Container is as it was opened. Started is the day it was opened, or moved out of the satellite area,
	// which isn't later than the day on which its time began.
	Container Container                        `json:"container"`
	Opened    Date                             `json:"opened,omitzero"`
	Weighed   Date                             `json:"weighed,omitzero"` // the last time
	Closed    Date                             `json:"closed,omitzero"`
	Shipped   Date                             `json:"shipped,omitzero"`
	Paper     string                           `json:"paper,omitempty"`
	LastFill  Date                             `json:"lastFill,omitzero"`
	Contents  []StreamTotal                    `json:"contents,omitempty"` // what was entered for it
	Mass      drain.Estimate[units.MassUnit]   `json:"mass,omitzero"`      // of what is in it: as last weighed, with what was entered for later days; else as entered
	Volume    drain.Estimate[units.VolumeUnit] `json:"volume,omitzero"`    // of liquids, each as it was measured; the zero Estimate with anything else in it
	Room      drain.Estimate[units.VolumeUnit] `json:"room,omitzero"`      // to the fill limit, else to the brim
	Notices   []Notice                         `json:"notices,omitempty"`
}

// Days are those on site up to today, or until it was shipped, the first counted as one; 0 where it isn't
// known when it was opened, and before that day.
func (d Drum) Days(today Date) int {
	if d.Shipped != (Date{}) && d.Shipped.Compare(today) < 0 {
		today = d.Shipped
	}
	if !d.Opened.valid() || !today.valid() {
		return 0
	}
	return max(0, d.Opened.DaysUntil(today)+1)
}

// onSite reports whether a drum is there to be shipped.
func (d *Drum) onSite() bool { return d.Shipped == Date{} }

// holds reports whether any of it was determined so.
func (d *Drum) holds(as Determination) bool {
	return slices.ContainsFunc(d.Contents, func(t StreamTotal) bool { return t.Determination == as })
}

// Drums are all drums that were opened or that anything was entered for, by their labels.
func (l *Ledger) Drums() []Drum {
	into := make([][]int32, len(l.texts))
	for _, i := range l.byDay() {
		into[l.at(i).in] = append(into[l.at(i).in], i)
	}
	labels := slices.Collect(maps.Keys(l.drums))
	for id, in := range into {
		if id != 0 && len(in) > 0 {
			labels = append(labels, l.texts[id])
		}
	}
	slices.Sort(labels)
	labels = slices.Compact(labels)
	drums := make([]Drum, len(labels))
	for n, label := range labels {
		drums[n] = (&filler{l: l, drum: Drum{Container: Container{ID: label}}, fills: into[l.ids[label]], events: l.drums[label]}).fill()
	}
	return drums
}

// filler makes a drum of what is in the ledger.
type filler struct {
	l      *Ledger
	drum   Drum
	fills  []int32
	events []Posting
	end    *Posting // its closing or shipping
	start  *Posting

	bulk   [OtherWaste + 1]struct{ low, high sum[units.MassUnit] } // what was weighed, by stream
	liquid struct{ low, best, high sum[units.VolumeUnit] }         // what was measured
	from   drain.Provenance
	solid  bool // something in it is no liquid
}

func (f *filler) fill() Drum {
	d := &f.drum
	for _, p := range standing(f.events) {
		e := p.Drum
		switch e.Event {
		case opened:
			d.Container, d.Opened, f.start = e.Container, e.Date, p
			if !e.Container.Satellite {
				d.Container.Started = e.Date
			}
		case moved:
			d.Container.Satellite, d.Container.Started = false, e.Date
		case closed:
			d.Closed, f.end = e.Date, p
		case shipped:
			d.Shipped, d.Paper = e.Date, e.Paper
			if f.end == nil || e.Date.Compare(f.end.Drum.Date) < 0 {
				f.end = p
			}
		}
	}
	f.contents()
	f.weigh()
	f.room()
	f.doubts()
	return *d
}

// standing are the events that count: of each the first, where that one wasn't withdrawn.
func standing(events []Posting) (all []*Posting) {
	for n := range events {
		if first := n == 0 || !sameEvent(events[n-1], events[n]); first && !events[n].Drum.Withdrawn {
			all = append(all, &events[n])
		}
	}
	return all
}

// sameEvent reports whether of two postings on a drum one counts at the most.
func sameEvent(p, q Posting) bool {
	return p.Drum.Event == q.Drum.Event && (p.Drum.Event != weighed || p.Drum.Date == q.Drum.Date)
}

func (f *filler) contents() {
	var cells cells
	f.from = drain.Measured
	for _, i := range f.fills {
		k := f.l.at(i)
		cells.add(k)
		switch {
		case k.measured:
			v := f.l.volume[i].volume
			f.liquid.low.add(v.Low)
			f.liquid.best.add(v.Best)
			f.liquid.high.add(v.High)
			f.from = drain.Weakest(f.from, v.From)
		default:
			f.bulk[k.stream].low.add(k.low)
			f.bulk[k.stream].high.add(k.high)
			f.from, f.solid = drain.Assumed, f.solid || !k.stream.Liquid()
		}
		f.drum.LastFill = unpack(k.date)
	}
	f.drum.Contents, _ = cells.totals(f.l.texts) // past 10^24 kg the drum's mass says so
	f.drum.Mass = f.sum(f.fills)
}

// sum is what entries come to; the zero Estimate where it is past 10^24 kg.
func (f *filler) sum(fills []int32) drain.Estimate[units.MassUnit] {
	var s sums
	for _, i := range fills {
		s.add(f.l.at(i).mass())
	}
	mass, _ := s.exact().estimate()
	return mass
}

// weigh puts the last weighing in the place of what was entered up to its day.
func (f *filler) weigh() {
	d := &f.drum
	for _, p := range standing(f.events) {
		if p.Drum.Event != weighed {
			continue
		}
		net, err := d.Container.Net(p.Drum.Gross)
		if err != nil {
			code := "doubt.no-tare"
			if given(d.Container.Tare) {
				code = "doubt.below-tare"
			}
			f.say(Notice{Code: code, Mass: p.Drum.Gross, About: p})
			continue
		}
		split, _ := slices.BinarySearchFunc(f.fills, pack(p.Drum.Date)+1, func(i, day int32) int { return cmp.Compare(f.l.at(i).date, day) })
		before := f.sum(f.fills[:split])
		if agree, err := net.Agrees(before); err == nil && !agree {
			f.say(Notice{Code: "ask.weights-differ", Mass: net, Entered: before, About: p})
		}
		if mass, err := drain.Sum(units.Kilogram, net, f.sum(f.fills[split:])); err == nil {
			d.Mass, d.Weighed = mass, p.Drum.Date
			if split == len(f.fills) {
				d.Mass = net
			}
		}
	}
}

// lightest, in kg/m³, is what no such liquid falls short of: fuel 775 at 15 °C (kerosene, from a handbook's
// table) and 9 % less when it is hot; a cleaner 610 (the lightest of API MPMS 11.1-2004's refined products).
// It is what a liquid that was only weighed may need in room at the most.
var lightest = map[Stream]int64{DrainedFuel: 700, FuelWaterMix: 700, SpentCleaner: 610}

// mostLitres is the most room that an entry takes; zero where it is no liquid.
func (l *Ledger) mostLitres(i int32) *big.Rat {
	k := l.at(i)
	switch {
	case k.measured:
		return l.volume[i].volume.High.RatIn(units.Litre)
	case k.stream.Liquid():
		return new(big.Rat).Mul(k.high.RatIn(units.Kilogram), big.NewRat(1000, lightest[k.stream]))
	}
	return new(big.Rat)
}

// room is what is left, worked out for liquids alone.
func (f *filler) room() {
	d := &f.drum
	if f.solid {
		return
	}
	low, best, high := f.least(), inLitres(&f.liquid.best), inLitres(&f.liquid.high)
	for stream, density := range lightest {
		most := new(big.Rat).Mul(f.bulk[stream].high.rat(), big.NewRat(1000, density))
		best.Add(best, most)
		high.Add(high, most)
	}
	var ok bool
	if d.Volume, ok = litres(low, best, high, f.from); !ok {
		return
	}
	limit := d.Container.FillLimit
	if limit.Sign() == 0 {
		limit = d.Container.Capacity
	}
	if limit.Sign() == 0 {
		return
	}
	left := func(inside *big.Rat) *big.Rat {
		x := limit.RatIn(units.Litre)
		if x.Sub(x, inside); x.Sign() < 0 {
			x.SetInt64(0)
		}
		return x
	}
	d.Room, _ = litres(left(high), left(best), left(low), f.from)
}

// least is what the liquids certainly fill, in litres: each at its low end, and what was weighed at the density
// that no such liquid exceeds.
func (f *filler) least() *big.Rat {
	fill := inLitres(&f.liquid.low)
	for stream, density := range densest {
		fill.Add(fill, new(big.Rat).Mul(f.bulk[stream].low.rat(), big.NewRat(1000, density)))
	}
	return fill
}

// inLitres is what cubic metres are in litres.
func inLitres(s *sum[units.VolumeUnit]) *big.Rat {
	x := s.rat()
	return x.Mul(x, big.NewRat(1000, 1))
}

// litres makes an estimate of volumes of exact values.
func litres(low, best, high *big.Rat, from drain.Provenance) (drain.Estimate[units.VolumeUnit], bool) {
	l, err1 := units.FromRat(low, units.Litre, min(6, rational.Places(low)), units.ToNegativeInf)
	b, err2 := units.FromRat(best, units.Litre, min(6, rational.Places(best)), units.ToNearestEven)
	h, err3 := units.FromRat(high, units.Litre, min(6, rational.Places(high)), units.ToPositiveInf)
	if cmp.Or(err1, err2, err3) != nil {
		return drain.Estimate[units.VolumeUnit]{}, false
	}
	e, err := drain.NewEstimate(l, b, h, from)
	return e, err == nil
}

func (f *filler) say(n Notice) {
	n.Drum = f.drum.Container.ID
	f.drum.Notices = append(f.drum.Notices, n)
}

// doubts are what can't be right, or wants an answer of the site.
func (f *filler) doubts() {
	d := &f.drum
	for n := 1; n < len(f.events); n++ {
		first := n - 1
		for first > 0 && sameEvent(f.events[first-1], f.events[n]) {
			first--
		}
		if sameEvent(f.events[first], f.events[n]) && f.events[first].Drum.Revision == f.events[n].Drum.Revision {
			f.say(Notice{Code: "doubt." + f.events[n].Drum.Event + "-twice", About: &f.events[n], Other: &f.events[first]})
		}
	}
	for n := range f.events {
		last := n+1 == len(f.events) || !sameEvent(f.events[n], f.events[n+1])
		if last && f.events[n].Drum.Revision > 0 {
			f.say(Notice{Code: "doubt.corrects-nothing", About: &f.events[n]})
		}
		if early(f.events[n], f.events[n].Drum.Date) {
			f.say(Notice{Code: "doubt.before-its-day", About: &f.events[n]})
		}
	}
	for _, p := range standing(f.events) {
		f.place(*p, p.Drum.Date)
	}
	f.misplaced()
	if f.start == nil && len(f.events) > 0 {
		f.say(Notice{Code: "doubt.never-opened", About: &f.events[0]})
	}
	f.full()
	mixed := slices.ContainsFunc(d.Contents, func(t StreamTotal) bool { return t.Stream != d.Contents[0].Stream })
	if mixed {
		f.say(Notice{Code: "ask.mixed"})
	}
}

// misplaced places the entries of days on which the drum wasn't open.
func (f *filler) misplaced() {
	var all []Posting
	for _, i := range f.fills {
		if k := f.l.at(i); k.date < pack(f.drum.Opened) || f.end != nil && k.date > pack(f.end.Drum.Date) {
			all = append(all, f.l.posting(i))
		}
	}
	slices.SortFunc(all, func(p, q Posting) int { // of one day they come as they were entered
		return cmp.Or(p.Entry.Date.Compare(q.Entry.Date), strings.Compare(p.Entry.Job, q.Entry.Job), cmp.Compare(p.Entry.Line, q.Entry.Line))
	})
	for _, p := range all {
		f.place(p, p.Entry.Date)
	}
}

// place says what is dated before the drum was opened or after it was closed.
func (f *filler) place(p Posting, day Date) {
	if f.start != nil && day.Compare(f.start.Drum.Date) < 0 {
		f.say(Notice{Code: "doubt.before-opening", About: &p, Other: f.start})
	}
	if f.end != nil && p.Entry != nil && day.Compare(f.end.Drum.Date) > 0 {
		f.say(Notice{Code: "doubt.after-closing", About: &p, Other: f.end})
	}
}

// full says what a drum certainly can't hold: its liquids fill more than its capacity, or it weighs more than its
// mark, each at its low end.
func (f *filler) full() {
	c := f.drum.Container
	if c.Capacity.Sign() > 0 && f.least().Cmp(c.Capacity.RatIn(units.Litre)) > 0 {
		f.say(Notice{Code: "doubt.overfull", Mass: f.drum.Mass})
	}
	weight := new(big.Rat).Add(f.drum.Mass.Low.RatIn(units.Kilogram), c.Tare.Low.RatIn(units.Kilogram))
	if c.MostGross.Sign() > 0 && weight.Cmp(c.MostGross.RatIn(units.Kilogram)) > 0 {
		f.say(Notice{Code: "doubt.overweight", Mass: f.drum.Mass, Limit: c.MostGross})
	}
}
