package sheet

import (
	"encoding/xml"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// What a technician sees is read back here from the SVG of the page alone, by the geometry of its
// paths, and held against package turn: which way to turn, how far, and which mark comes to the index.

type svg struct {
	ViewBox string `xml:"viewBox,attr"`
	Circles []struct {
		X float64 `xml:"cx,attr"`
		Y float64 `xml:"cy,attr"`
		R float64 `xml:"r,attr"`
	} `xml:"circle"`
	Paths []struct {
		Class string `xml:"class,attr"`
		D     string `xml:"d,attr"`
	} `xml:"path"`
	Texts []struct {
		X    float64 `xml:"x,attr"`
		Y    float64 `xml:"y,attr"`
		Text string  `xml:",chardata"`
	} `xml:"text"`
}

// pictures are those of the page, in its order.
func pictures(t testing.TB, p *service.Plan) (all []svg) {
	t.Helper()
	for _, text := range regexp.MustCompile(`(?s)<svg .*?</svg>`).FindAllString(htmlOf(t, p), -1) {
		var s svg
		require.NoError(t, xml.Unmarshal([]byte(text), &s), text)
		all = append(all, s)
	}
	return all
}

type point struct{ x, y float64 }

// points are those that a path of absolute lines goes through.
func points(t testing.TB, d string) (all []point) {
	t.Helper()
	at := point{}
	for _, step := range regexp.MustCompile(`([MLHVZ])([-0-9. ]*)`).FindAllStringSubmatch(d, -1) {
		var n []float64
		for _, word := range strings.Fields(step[2]) {
			v, err := strconv.ParseFloat(word, 64)
			require.NoError(t, err, d)
			n = append(n, v)
		}
		switch step[1] {
		case "M", "L":
			require.Len(t, n, 2, d)
			at = point{n[0], n[1]}
		case "H":
			at.x = n[0]
		case "V":
			at.y = n[0]
		case "Z":
			continue
		}
		all = append(all, at)
	}
	return all
}

// dial is one ring of a picture.
type dial struct {
	middle point
	r      float64
}

// angle is where a point stands, clockwise from the top, in turns from 0 to 1.
func (d dial) angle(p point) float64 {
	a := math.Atan2(p.x-d.middle.x, d.middle.y-p.y) / (2 * math.Pi)
	return a - math.Floor(a)
}

func (d dial) away(p point) float64 { return math.Hypot(p.x-d.middle.x, p.y-d.middle.y) }

// swept is how far a line goes round the ring, clockwise, in turns.
func (d dial) swept(line []point) (sum float64) {
	for i := 1; i < len(line); i++ {
		step := d.angle(line[i]) - d.angle(line[i-1])
		sum += step - math.Round(step)
	}
	return sum
}

// apart is how far two angles lie from each other.
func apart(a, b float64) float64 { return math.Abs(a - b - math.Round(a-b)) }

// travelled reads the arrow round a ring: the turn from the index to its point, clockwise, and every
// point of it, the three of its head at the end. There is none where nothing is outside the ring but its index.
func (s svg) travelled(t testing.TB, d dial) (clockwise float64, all []point) {
	t.Helper()
	var shaft, head []point
	for _, path := range s.Paths {
		line := points(t, path.D)
		outside := true
		for _, p := range line {
			outside = outside && d.away(p) > d.r-0.5 && d.away(p) < d.r+30 && math.Abs(p.x-d.middle.x) < d.r+30
		}
		switch {
		case !outside:
		case path.Class == "thick" && len(line) > 2:
			require.Nil(t, shaft, "one arrow")
			shaft = line
		case path.Class == "fill" && len(line) == 3 && !(line[0].x == d.middle.x && line[1].y == line[2].y): // not the index
			require.Nil(t, head, "one head")
			head = line
		}
	}
	if head == nil {
		return 0, nil
	}
	if shaft == nil { // the head alone: it points away from its own back
		back := point{(head[1].x + head[2].x) / 2, (head[1].y + head[2].y) / 2}
		return d.swept([]point{{d.middle.x, d.middle.y - d.r}, back, head[0]}), head
	}
	whole := append([]point{{d.middle.x, d.middle.y - d.r}}, shaft...)
	whole = append(whole, head[0])
	return d.swept(whole), append(shaft, head...)
}

func (s svg) size(t testing.TB) (wide, high float64) {
	t.Helper()
	_, err := fmt.Sscanf(s.ViewBox, "0 0 %f %f", &wide, &high)
	require.NoError(t, err, s.ViewBox)
	return wide, high
}

// checkArrow holds an arrow against a turn: its way, its full rounds up to the three that are drawn,
// where it ends, and that it runs clear of the ring, of itself, of the index' word and of the paper's edge.
func checkArrow(t testing.TB, s svg, d dial, sense turn.Rotation, turned turn.Turn, name string) {
	t.Helper()
	got, all := s.travelled(t, d)
	require.NotEmpty(t, all, "%s: an arrow is drawn", name)
	want, _ := turned.Rat().Float64()
	if want > 3 {
		want = 2 + want - math.Floor(want)
	}
	if sense == turn.Counterclockwise {
		got = -got
	}
	const room = 0.09 // beside the index an arrow stops short, so that both are seen
	assert.InDelta(t, want, got, room, "%s: %v %v", name, turned, sense)
	if beside := apart(want, 0); beside > room {
		assert.InDelta(t, want, got, 0.01, "%s: %v %v", name, turned, sense)
	}
	wide, high := s.size(t)
	top := math.Inf(1)
	for _, p := range all {
		assert.True(t, p.x >= 0 && p.x <= wide && p.y >= 0 && p.y <= high, "%s: the arrow is on the paper", name)
		assert.Greater(t, d.away(p), d.r-0.5, "%s: the arrow is outside the ring", name)
		top = math.Min(top, p.y)
	}
	index := math.Inf(-1)
	for _, text := range s.Texts {
		if math.Abs(text.X-d.middle.x) < 0.01 && text.Y < d.middle.y-d.r {
			index = math.Max(index, text.Y)
		}
	}
	assert.Greater(t, top, index, "%s: what stands above the ring is above the arrow too", name)
	if want > 1 { // one round further out for each full turn, so that none lies on another
		assert.Greater(t, d.away(all[len(all)-3])-d.away(all[0]), 4*(want-0.5), "%s: the rounds of %v lie on each other", name, turned)
	}
}

// The canister's rings: at contact every mark stands where the labels' order puts it, and after the turn
// where package turn says that it takes that much more, or less, to bring it to the index.
func TestRingsAsDrawn(t *testing.T) {
	labels := []string{"K", "L", "M", "N", "P"}
	for _, hand := range []turn.Hand{turn.RightHand, turn.LeftHand} {
		for _, order := range []turn.Rotation{turn.Clockwise, turn.Counterclockwise} {
			for _, view := range []turn.View{turn.FacingClosedEnd, turn.FromHeadSide, turn.FacingClosedEnd.Mirrored(), turn.FromHeadSide.Mirrored()} {
				for _, how := range []string{"2/5 turn", "1/10 to 3/5 turn", "1 turn", "1 3/5 turns", "2 3/10 turns", "1 1/5 to 2 4/5 turns", "4 2/5 turns", "1/36 turn"} {
					name := fmt.Sprint(hand, ", labels ", order, ", ", view, ", ", how)
					in := turn.MustParseInstruction(how + " after gasket contact")
					plan := oneStation(t, service.Tighten{Turn: in, Thread: hand, Marks: &service.Marks{Labels: labels, Order: order, Index: "rib", View: view, AtContact: "M"}})
					drawn := pictures(t, plan)
					require.Len(t, drawn, 1, name)
					s := drawn[0]
					aim, err := in.Aim()
					require.NoError(t, err)
					turns := []turn.Turn{{}, in.Most()}
					if in.Least() != in.Most() {
						turns = []turn.Turn{{}, aim, in.Most()}
					}
					require.Len(t, s.Circles, len(turns), name)
					ring, err := turn.NewRing(labels, order)
					require.NoError(t, err)
					sense := turn.Sense(hand, turn.Tightening, view)
					way := map[turn.Rotation]float64{turn.Clockwise: 1, turn.Counterclockwise: -1}[sense]
					for i, turned := range turns {
						d := dial{point{s.Circles[i].X, s.Circles[i].Y}, s.Circles[i].R}
						so, _ := turned.Rat().Float64()
						for fifths, found := int64(0), 0; fifths < 5; fifths++ {
							at, err := ring.Tighten(turn.Position{Mark: "M"}, turn.MustOf(fifths, 5), hand)
							require.NoError(t, err)
							for _, text := range s.Texts {
								p := point{text.X, text.Y - 4} // text stands on its line
								if text.Text == at.Mark && d.away(p) < d.r {
									found++
									assert.Less(t, apart(d.angle(p), way*(so-float64(fifths)/5)), 0.01, "%s: %s after %v", name, text.Text, turned)
								}
							}
							assert.Equal(t, int(fifths)+1, found, "%s: each label once in each ring, %s", name, at.Mark)
						}
						ticks, thick := 0, 0
						for _, path := range s.Paths {
							line := points(t, path.D)
							if len(line) == 2 && math.Abs(d.away(line[0])-d.r) < 0.05 && d.away(line[1]) < d.r {
								ticks++
								if path.Class == "thick" {
									thick++
									assert.Less(t, apart(d.angle(line[0]), way*so), 0.01, "%s: the heavy tick is the mark of contact", name)
								}
							}
						}
						assert.Equal(t, []int{5, 1}, []int{ticks, thick}, name)
						if i == 0 {
							_, all := s.travelled(t, d)
							assert.Empty(t, all, "%s: nothing has turned at contact", name)
							continue
						}
						checkArrow(t, s, d, sense, turned, name)
					}
					for i := 1; i < len(s.Circles); i++ {
						assert.Greater(t, s.Circles[i].X-s.Circles[i-1].X, 2*s.Circles[i].R, "%s: rings stand apart", name)
					}
				}
			}
		}
	}
}

// Where there are more labels than fit, that of contact and the one at the index are there still; and
// labels that nobody knows before the work are in no picture.
func TestLabelsThatAreDrawn(t *testing.T) {
	many := func(n int) (labels []string) {
		for i := range n {
			labels = append(labels, strconv.Itoa(i+1))
		}
		return labels
	}
	in := turn.MustParseInstruction("1/2 turn after gasket contact")
	for n, want := range map[int]int{2: 2, 24: 24, 26: 2, 40: 2} {
		for _, contact := range []string{"2", ""} {
			plan := oneStation(t, service.Tighten{Turn: in, Marks: &service.Marks{Labels: many(n), Order: turn.Clockwise, Index: "rib", View: turn.FacingClosedEnd, AtContact: contact}})
			s := pictures(t, plan)[0]
			d := dial{point{s.Circles[1].X, s.Circles[1].Y}, s.Circles[1].R}
			shown := map[string]bool{}
			for _, text := range s.Texts {
				if d.away(point{text.X, text.Y - 4}) < d.r {
					shown[text.Text] = true
				}
			}
			if contact == "" {
				assert.Empty(t, shown)
				continue
			}
			assert.Len(t, shown, want)
			ring, err := turn.NewRing(many(n), turn.Clockwise)
			require.NoError(t, err)
			end, err := ring.Tighten(turn.Position{Mark: "2"}, in.Least(), turn.RightHand)
			require.NoError(t, err)
			assert.True(t, shown["2"] && shown[end.Mark], "%d labels: 2 and %s of %v", n, end.Mark, shown)
		}
	}
}

// The stages after a snug torque: the arrow goes as far as all of them and the way package turn says, and
// the line stands after each where that many degrees are.
func TestStagesAsDrawn(t *testing.T) {
	for _, hand := range []turn.Hand{turn.RightHand, turn.LeftHand} {
		for _, view := range []turn.View{0, turn.FacingClosedEnd, turn.FromHeadSide, turn.FromHeadSide.Mirrored(), turn.BesideClosedEndDown} {
			for _, degrees := range [][]int64{{60}, {60, 30}, {120, 120, 120}, {180, 270}, {350, 350, 350}} {
				name := fmt.Sprint(hand, ", ", view, ", ", degrees)
				var stages []turn.Turn
				for _, n := range degrees {
					stages = append(stages, turn.MustOf(n, 360))
				}
				sequence, err := turn.NewSequence(units.NewtonMetre.Of(50), stages...)
				require.NoError(t, err)
				plan := oneStation(t, service.Tighten{Sequence: sequence, Thread: hand, View: view})
				drawn := pictures(t, plan)
				require.Len(t, drawn, 1, name)
				s := drawn[0]
				require.Len(t, s.Circles, 1, name)
				d := dial{point{s.Circles[0].X, s.Circles[0].Y}, s.Circles[0].R}
				along := view
				if view == 0 || view == turn.BesideClosedEndDown {
					along = turn.FacingClosedEnd // a ring isn't seen from beside
				}
				sense := turn.Sense(hand, turn.Tightening, along)
				totals := sequence.Cumulative()
				checkArrow(t, s, d, sense, totals[len(totals)-1], name)
				way := map[turn.Rotation]float64{turn.Clockwise: 1, turn.Counterclockwise: -1}[sense]
				for i, total := range totals {
					so, _ := total.Rat().Float64()
					found := false
					for _, path := range s.Paths {
						line := points(t, path.D)
						found = found || path.Class == "line" && len(line) == 2 && math.Abs(d.away(line[0])-d.r) < 0.05 && apart(d.angle(line[0]), way*so) < 0.002
					}
					assert.True(t, found, "%s: a tick for stage %d", name, i+1)
					numbered := false
					for _, text := range s.Texts {
						p := point{text.X, text.Y - 4}
						numbered = numbered || d.away(p) < d.r && apart(d.angle(p), way*so) < 0.01 && strings.Contains(" "+text.Text+" ", " "+strconv.Itoa(i+1)+" ")
					}
					crowded := i+1 < len(degrees) && degrees[i+1] == 350 // too near to the next for a number of its own
					assert.Equal(t, !crowded, numbered, "%s: the number of stage %d", name, i+1)
				}
			}
		}
	}
}

// The band: on a scale from its low limit to its high one, what the wrench may deliver stands where its
// torques are, inside both.
func TestBandAsDrawn(t *testing.T) {
	const scale = 130.0 // of the band, by its two heavy limits
	plan := benchPlan(t, withWrenches(wide)...)
	s := pictures(t, plan)[0]
	var limits, bar []point
	for _, path := range s.Paths {
		switch line := points(t, path.D); {
		case path.Class == "thick":
			limits = line
		case path.Class == "fill":
			bar = line
		}
	}
	require.Len(t, limits, 4)
	left, right := limits[0].x, limits[2].x
	assert.InDelta(t, scale, right-left, 0.01)
	planned := plan.Stations[0].Torque
	low, high := planned.Stated.Low().RatIn(units.NewtonMetre), planned.Stated.High().RatIn(units.NewtonMetre)
	where := func(torque units.Torque) float64 {
		x := torque.RatIn(units.NewtonMetre)
		x.Sub(x, low).Quo(x, high.Sub(high, low))
		high.Add(high, low)
		f, _ := x.Float64()
		return left + f*(right-left)
	}
	least, most := planned.Set.Setting.Delivers(units.NewtonMetre, 3)
	assert.InDelta(t, where(least), bar[0].x, 0.01)
	assert.InDelta(t, where(most), bar[1].x, 0.01)
	var around []string
	for _, text := range s.Texts {
		if text.X == left || text.X == right {
			around = append(around, text.Text)
		}
	}
	assert.Equal(t, []string{planned.Wrench.Low().String(), planned.Wrench.High().String(), planned.Stated.Low().String(), planned.Stated.High().String()}, around)
}

// The window is a black band inside the ring where it says to stop: it begins where the mark of contact
// stands after the least turn and ends where it stands after the most.
func TestWindowAsDrawn(t *testing.T) {
	for _, how := range []string{"1/10 to 3/5 turn", "1 1/5 to 1 4/5 turns", "1/4 to 2 turns"} {
		for _, hand := range []turn.Hand{turn.RightHand, turn.LeftHand} {
			in := turn.MustParseInstruction(how + " after gasket contact")
			marks, err := turn.NewRing([]string{"A", "B", "C"}, turn.Clockwise)
			require.NoError(t, err)
			drawn, err := DrawTurn(marks, turn.Position{Mark: "B", Past: turn.MustOf(1, 9)}, in, hand, turn.FacingClosedEnd)
			require.NoError(t, err)
			var s svg
			require.NoError(t, xml.Unmarshal(drawn, &s), string(drawn))
			require.Len(t, s.Circles, 3)
			d := dial{point{s.Circles[1].X, s.Circles[1].Y}, s.Circles[1].R}
			bands := 0
			for _, path := range s.Paths {
				if path.Class != "band" {
					continue
				}
				bands++
				line := points(t, path.D)
				least, _ := in.Least().Rat().Float64()
				most, _ := in.Most().Rat().Float64()
				if hand == turn.LeftHand {
					least, most = -least, -most
				}
				for _, p := range line {
					assert.InDelta(t, d.r-3, d.away(p), 0.02)
				}
				assert.Less(t, apart(d.angle(line[0]), least), 0.001, how)
				if math.Abs(most-least) < 1 {
					assert.Less(t, apart(d.angle(line[len(line)-1]), most), 0.001, how)
				}
				assert.InDelta(t, math.Copysign(math.Min(math.Abs(most-least), 1), most), d.swept(line), 0.001, how)
			}
			assert.Equal(t, 1, bands)
			checkArrow(t, s, dial{point{s.Circles[2].X, s.Circles[2].Y}, s.Circles[2].R}, turn.Sense(hand, turn.Tightening, turn.FacingClosedEnd), in.Most(), how)
			wide, high := s.size(t)
			for _, text := range s.Texts {
				assert.True(t, text.Y > 8 && text.Y < high && text.X > 0 && text.X < wide, "%q stands on the paper", text.Text)
			}
		}
	}
}

// A drawing of its own needs nothing beside it, and nothing in a label gets out of its place.
func TestDrawTurn(t *testing.T) {
	in := turn.MustParseInstruction("1/2 turn after gasket contact")
	marks, err := turn.NewRing([]string{"<b>&", "2", "3"}, turn.Clockwise)
	require.NoError(t, err)
	drawn, err := DrawTurn(marks, turn.Position{Mark: "2"}, in, turn.RightHand, turn.FromHeadSide)
	require.NoError(t, err)
	wellFormed(t, drawn)
	for _, never := range []string{"<style", "<script", "<b>", "href", "url("} {
		assert.NotContains(t, string(drawn), never)
	}
	assert.Contains(t, string(drawn), "&lt;b&gt;&amp;")
	assert.Contains(t, flat(string(drawn)), "counterclockwise")
	for _, bad := range []turn.View{0, turn.BesideClosedEndUp} {
		_, err = DrawTurn(marks, turn.Position{Mark: "2"}, in, turn.RightHand, bad)
		assert.ErrorIs(t, err, units.ErrSyntax)
	}
	_, err = DrawTurn(marks, turn.Position{Mark: "4"}, in, turn.RightHand, turn.FromHeadSide)
	assert.ErrorIs(t, err, turn.ErrUnknownMark)
}
