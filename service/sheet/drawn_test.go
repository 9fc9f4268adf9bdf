package sheet

import (
	"encoding/xml"
	"fmt"
	"math"
	"math/big"
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

var svgs = regexp.MustCompile(`(?s)<svg .*?</svg>`)

// pictures are those of the page, in its order.
func pictures(t testing.TB, page string) (all []svg) {
	t.Helper()
	for _, text := range svgs.FindAllString(page, -1) {
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

// A wrench's adapter is drawn at the angle that the job states, counterclockwise from the line
// of the wrench; the hand is on the middle of the grip, and all of it is inside the picture.
func TestAdapterDrawn(t *testing.T) {
	for _, degrees := range []float64{0, 15, 45, 90, 135, 180, 270, 315} {
		plan := coverPlan(t, `{"offset": "4 in", "angle": "0°"}`, fmt.Sprintf(`{"offset": "4 in", "angle": "%v°"}`, degrees))
		d := English().draw(English().printer(nil).adapterPicture(plan.Stations[0]))
		require.Contains(t, htmlOf(t, plan), d.Title)
		wide, err := strconv.ParseFloat(d.Width, 64)
		require.NoError(t, err)
		high, err := strconv.ParseFloat(d.Height, 64)
		require.NoError(t, err)
		var adapter, grip []point
		var hand point
		for _, s := range d.Shapes {
			var all []point
			switch {
			case s.Path != "":
				all = points(t, s.Path)
			case s.R != "":
				x, _ := strconv.ParseFloat(s.X, 64)
				y, _ := strconv.ParseFloat(s.Y, 64)
				r, _ := strconv.ParseFloat(s.R, 64)
				all = []point{{x - r, y - r}, {x + r, y + r}}
				if hand == (point{}) {
					hand = point{x, y}
				}
			}
			for _, p := range all {
				require.True(t, p.x > 2 && p.x < wide-2 && p.y > 2 && p.y < high-2, "%v in %v", p, high)
			}
			switch s.Class {
			case "adapter":
				adapter = all
			case "contact":
				if s.Path != "" {
					grip = all
				}
			}
		}
		require.Len(t, adapter, 2)
		drawn := math.Atan2(adapter[0].y-adapter[1].y, adapter[1].x-adapter[0].x) / (2 * math.Pi)
		require.InDelta(t, 0, apart(drawn, degrees/360), 0.001, "at %v°", degrees)
		require.InDelta(t, (grip[0].x+grip[1].x)/2, hand.x, 0.01)
		require.InDelta(t, (grip[0].y+grip[2].y)/2, hand.y, 0.01)
	}
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

// texts are what is written in a picture.
func (s svg) texts() (all []string) {
	for _, text := range s.Texts {
		all = append(all, text.Text)
	}
	return all
}

// atIndex is what a picture says above the index when so much was turned.
func atIndex(t testing.TB, ring turn.Ring, from turn.Position, turned turn.Turn, hand turn.Hand) string {
	t.Helper()
	at, err := ring.Tighten(from, turned, hand)
	require.NoError(t, err)
	place, err := ring.Place(at, hand)
	require.NoError(t, err)
	if place.Next != "" {
		return "INDEX: STOP BETWEEN " + place.Mark + " AND " + place.Next
	}
	return "INDEX: STOP AT " + place.Mark
}

// apart is how far two angles lie from each other.
func apart(a, b float64) float64 { return math.Abs(a - b - math.Round(a-b)) }

// ofClass are the paths of a class.
func (s svg) ofClass(t testing.TB, class string) (all [][]point) {
	t.Helper()
	for _, path := range s.Paths {
		if path.Class == class {
			all = append(all, points(t, path.D))
		}
	}
	return all
}

// checkInside holds every word to the paper, by the widest that its letters may be.
func checkInside(t testing.TB, page string, name string) {
	t.Helper()
	for _, match := range svgs.FindAllString(page, -1) {
		var s struct {
			ViewBox string `xml:"viewBox,attr"`
			Texts   []struct {
				Class, Text string
				X           float64 `xml:"x,attr"`
				Y           float64 `xml:"y,attr"`
				Size        float64 `xml:"font-size,attr"`
				Anchor      string  `xml:"text-anchor,attr"`
				Inner       string  `xml:",chardata"`
			} `xml:"text"`
		}
		require.NoError(t, xml.Unmarshal([]byte(match), &s))
		var wide, high float64
		_, err := fmt.Sscanf(s.ViewBox, "0 0 %f %f", &wide, &high)
		require.NoError(t, err)
		for _, text := range s.Texts {
			size := text.Size
			if size == 0 {
				size = 11
			}
			length := 0.72 * size * float64(len([]rune(text.Inner)))
			left := map[string]float64{"": text.X - length/2, "start": text.X, "end": text.X - length}[text.Anchor]
			assert.True(t, left >= 0 && left+length <= wide && text.Y-size >= 0 && text.Y <= high, "%s: %q from %.0f to %.0f of %.0f, at %.0f of %.0f", name, text.Inner, left, left+length, wide, text.Y, high)
		}
	}
}

// The ring shows the end: every mark where package turn says that it takes that much more, or less, to bring
// it to the index, the window from the least to the most, STOP at the aim.
func TestRingsAsDrawn(t *testing.T) {
	labels, rings := []string{"K", "L", "M", "N", "P"}, 0
	for _, hand := range []turn.Hand{turn.RightHand, turn.LeftHand} {
		for _, order := range []turn.Rotation{turn.Clockwise, turn.Counterclockwise} {
			for _, view := range []turn.View{turn.FacingClosedEnd, turn.FromHeadSide, turn.FacingClosedEnd.Mirrored(), turn.FromHeadSide.Mirrored()} {
				for _, how := range []string{"2/5 turn", "1/10 to 3/5 turn", "1 turn", "1 3/5 turns", "2 3/10 turns", "1 1/5 to 1 4/5 turns", "4 2/5 turns", "1/36 turn", "3/4 to 1 turn", "3/5 to 4/5 turn"} {
					if rings++; testing.Short() && rings%3 != 0 { // each way of all four is among them
						continue
					}
					name := fmt.Sprint(hand, ", labels ", order, ", ", view, ", ", how)
					in := turn.MustParseInstruction(how + " after gasket contact")
					plan := oneStation(t, service.Tighten{Turn: in, Thread: hand, Marks: &service.Marks{Labels: labels, Order: order, Index: "rib", View: view, AtContact: "M"}})
					page := htmlOf(t, plan)
					drawn := pictures(t, page)
					require.Len(t, drawn, 1, name)
					checkInside(t, page, name)
					s := drawn[0]
					d := dial{point{s.Circles[0].X, s.Circles[0].Y}, s.Circles[0].R}
					way := map[turn.Rotation]float64{turn.Clockwise: 1, turn.Counterclockwise: -1}[turn.Sense(hand, turn.Tightening, view)]
					number := func(x turn.Turn) float64 { f, _ := x.Rat().Float64(); return f }
					end, err := in.Aim()
					require.NoError(t, err)
					aim, least, most := number(end), number(in.Least()), number(in.Most())
					ring, err := turn.NewRing(labels, order)
					require.NoError(t, err)
					found := 0
					for fifths := range int64(5) {
						at, err := ring.Tighten(turn.Position{Mark: "M"}, turn.MustOf(fifths, 5), hand)
						require.NoError(t, err)
						for _, text := range s.Texts {
							p := point{text.X, text.Y - 6} // text is on its line
							if text.Text == at.Mark && d.away(p) < d.r {
								found++
								assert.Less(t, apart(d.angle(p), way*(aim-float64(fifths)/5)), 0.01, "%s: %s", name, text.Text)
							}
						}
					}
					assert.Equal(t, 5, found, "%s: each label once", name)
					assert.Contains(t, s.texts(), atIndex(t, ring, turn.Position{Mark: "M"}, end, hand), name)
					assert.Contains(t, s.texts(), "ENDS", name)
					assert.NotContains(t, s.texts(), "STOP", "%s: it isn't the index that the mark of contact has to reach", name)
					assert.Len(t, s.ofClass(t, "tick"), 4, name)
					contact := s.ofClass(t, "contact")
					require.Len(t, contact, 1, name)
					assert.Less(t, apart(d.angle(contact[0][0]), way*aim), 0.01, name)
					stem := s.ofClass(t, "stem")
					require.Len(t, stem, 1, name)
					assert.Less(t, apart(d.angle(stem[0][0]), way*aim), 0.001, name)
					bars, windows := s.ofClass(t, "bar"), s.ofClass(t, "window")
					if least == most {
						assert.Empty(t, bars, "%s: no limit is made up", name)
						assert.Empty(t, windows, name)
						continue
					}
					require.Len(t, bars, 1, name)
					assert.Less(t, apart(d.angle(bars[0][1]), way*most), 0.001, name)
					require.Len(t, windows, 1, name)
					assert.Less(t, apart(d.angle(windows[0][0]), way*least), 0.001, name)
					assert.InDelta(t, way*(most-least), d.swept(windows[0]), 0.001, name)
				}
			}
		}
	}
}

// From beside, marks stand where they are seen: to the right of the index what it takes more, or less, to
// bring there, and the arrow goes the way the card says.
func TestRingFromBeside(t *testing.T) {
	for _, view := range []turn.View{turn.BesideClosedEndDown, turn.BesideClosedEndUp, turn.BesideClosedEndDown.Mirrored()} {
		for _, hand := range []turn.Hand{turn.RightHand, turn.LeftHand} {
			for _, order := range []turn.Rotation{turn.Clockwise, turn.Counterclockwise} {
				in := turn.MustParseInstruction("2/5 to 3/5 turn after gasket contact")
				plan := oneStation(t, service.Tighten{Turn: in, Thread: hand, Marks: &service.Marks{Labels: strings.Split("ABCDEFGH", ""), Order: order, Index: "rib", View: view, DrawnAt: "C"}})
				name := fmt.Sprint(view, hand, order)
				page := htmlOf(t, plan)
				s := pictures(t, page)[0]
				checkInside(t, page, name)
				right := turn.Sense(hand, turn.Tightening, view) == turn.LeftToRight
				bars := s.ofClass(t, "bar")
				assert.Equal(t, right, bars[1][1].x > bars[1][0].x, name)
				ring, err := turn.NewRing(strings.Split("ABCDEFGH", ""), order)
				require.NoError(t, err)
				seen := map[string]float64{}
				for _, text := range s.Texts {
					seen[text.Text] = text.X - pictureWidth/2
				}
				assert.Contains(t, s.texts(), atIndex(t, ring, turn.Position{Mark: "C"}, turn.MustParse("1/2 turn"), hand), name)
				// What is at the index was brought there by half a turn; a turn of an eighth more brings the mark
				// that now stands an eighth before it, against the way it turns.
				for eighths := range int64(2) {
					at, err := ring.Tighten(turn.Position{Mark: "C"}, turn.MustOf(4+eighths, 8), hand)
					require.NoError(t, err)
					x, ok := seen[at.Mark]
					require.True(t, ok, "%s: %s", name, at.Mark)
					want := 112 * math.Sin(float64(eighths)*math.Pi/4)
					if right {
						want = -want
					}
					assert.InDelta(t, want, x, 0.01, "%s: %s", name, at.Mark)
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
		for _, marks := range []service.Marks{{AtContact: "2"}, {DrawnAt: "2"}, {}} {
			marks.Labels, marks.Order, marks.Index, marks.View = many(n), turn.Clockwise, "rib", turn.FacingClosedEnd
			plan := oneStation(t, service.Tighten{Turn: in, Marks: &marks})
			s := pictures(t, htmlOf(t, plan))[0]
			d := dial{point{s.Circles[0].X, s.Circles[0].Y}, s.Circles[0].R}
			shown := map[string]bool{}
			for _, text := range s.Texts {
				if d.away(point{text.X, text.Y - 6}) < d.r {
					shown[text.Text] = true
				}
			}
			contact := plan.Stations[0].Turn.Marks[0].From.Mark // drawn at the first where the job says nothing
			assert.Len(t, shown, want)
			ring, err := turn.NewRing(many(n), turn.Clockwise)
			require.NoError(t, err)
			end, err := ring.Tighten(turn.Position{Mark: contact}, in.Least(), turn.RightHand)
			require.NoError(t, err)
			assert.True(t, shown[contact] && shown[end.Mark], "%d labels: %s and %s of %v", n, contact, end.Mark, shown)
		}
	}
}

// A job may name the mark in another case than the ring does: its sheet is the same, but for the job's own word.
func TestMarkOfAnotherCase(t *testing.T) {
	want := English().Sheet(benchPlan(t), true)
	got := English().Sheet(benchPlan(t, `"atContact": "S"`, `"atContact": "s"`), true)
	page, err := want.HTML()
	require.NoError(t, err)
	lower, err := got.HTML()
	require.NoError(t, err)
	assert.Equal(t, string(page), strings.Replace(string(lower), ">s must be dead on", ">S must be dead on", 1))
}

// A drawing of its own needs nothing next to it, and nothing in a label gets out of its place.
// A turn from between two marks shows where that place ends, and says of no mark that it was at the index. Six marks that
// count up clockwise from the index: from midway between 1 and 2, three quarters of a turn clockwise, that place ends 270°
// from the index and the marks half a gap from where they would from 1.
func TestTurnFromBetweenMarks(t *testing.T) {
	marks, err := turn.NewRing([]string{"1", "2", "3", "4", "5", "6"}, turn.Clockwise)
	require.NoError(t, err)
	for _, hand := range []turn.Hand{turn.RightHand, turn.LeftHand} {
		from, err := marks.Between("1", "2", turn.Part{}, hand)
		require.NoError(t, err)
		in := turn.MustParseInstruction("3/4 turn after gasket contact")
		ring, err := turning(marks, from, in, hand, turn.FacingClosedEnd)
		require.NoError(t, err)
		require.Len(t, ring.Marks, 7)
		assert.Empty(t, ring.Marks[0].Label)
		ends := map[turn.Hand]string{turn.RightHand: "270°", turn.LeftHand: "90°"}[hand]
		assert.Zero(t, ring.Marks[0].At.Compare(turn.MustParse(ends)), "%v ends at %v", hand, ring.Marks[0].At)
		for _, m := range ring.Marks[1:] {
			halves := new(big.Rat).Sub(m.At.Rat(), ring.Marks[0].At.Rat())
			halves.Mul(halves, big.NewRat(12, 1))
			assert.True(t, halves.IsInt() && halves.Num().Bit(0) == 1, "%s is an odd number of half gaps away", m.Label)
		}
		drawn, err := English().DrawTurn(marks, from, in, hand, turn.FacingClosedEnd)
		require.NoError(t, err)
		assert.NotContains(t, string(drawn), "At contact")
		assert.NotContains(t, string(drawn), "mark of contact")
		assert.Contains(t, string(drawn), "START</text>")
	}
}

func TestDrawTurn(t *testing.T) {
	in := turn.MustParseInstruction("1/2 turn after gasket contact")
	marks, err := turn.NewRing([]string{"<b>&", "2", "3"}, turn.Clockwise)
	require.NoError(t, err)
	drawn, err := English().DrawTurn(marks, turn.Position{Mark: "2"}, in, turn.RightHand, turn.FromHeadSide)
	require.NoError(t, err)
	wellFormed(t, drawn)
	for _, never := range []string{"<style", "<script", "<b>", "href", "url("} {
		assert.NotContains(t, string(drawn), never)
	}
	assert.Contains(t, string(drawn), "&lt;b&gt;&amp;")
	assert.Contains(t, flat(string(drawn)), "counterclockwise")
	long, err := turn.NewRing([]string{"WWWWWWWWW", "MMMMMMMMM", "QQQQQQQQQ"}, turn.Clockwise)
	require.NoError(t, err)
	spanish, err := In("es")
	require.NoError(t, err)
	for sixths := range int64(7) { // words of any length stay on the paper, in all places
		much, err := turn.NewInstruction(turn.MustOf(sixths, 6), turn.MustOf(sixths+1, 6), turn.GasketContact)
		require.NoError(t, err)
		for _, words := range []*Words{English(), spanish} {
			drawn, err := words.DrawTurn(long, turn.Position{Mark: "MMMMMMMMM"}, much, turn.RightHand, turn.FromHeadSide)
			require.NoError(t, err)
			checkInside(t, regexp.MustCompile(`<text class="" .*`).ReplaceAllString(string(drawn), ""), fmt.Sprint(much)) // without its caption
		}
	}
	for _, bad := range []turn.View{0, turn.BesideClosedEndUp + 100} {
		_, err = English().DrawTurn(marks, turn.Position{Mark: "2"}, in, turn.RightHand, bad)
		assert.ErrorIs(t, err, units.ErrSyntax)
	}
	marks, err = turn.NewRing([]string{"A", "B", "C"}, turn.Clockwise)
	require.NoError(t, err)
	upper, err := English().DrawTurn(marks, turn.Position{Mark: "B"}, in, turn.RightHand, turn.FromHeadSide)
	require.NoError(t, err)
	lower, err := English().DrawTurn(marks, turn.Position{Mark: "b"}, in, turn.RightHand, turn.FromHeadSide)
	require.NoError(t, err, "marks are found whatever their case")
	assert.Equal(t, string(upper), string(lower))
	_, err = English().DrawTurn(marks, turn.Position{Mark: "4"}, in, turn.RightHand, turn.FromHeadSide)
	assert.ErrorIs(t, err, turn.ErrUnknownMark)
}
