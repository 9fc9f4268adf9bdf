package oracles

import (
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// diameters and perInch are those of the published series, which a designation has more often than others.
var (
	diameters = strings.Split("1/16 1/8 1/4 5/16 3/8 7/16 1/2 9/16 5/8 11/16 3/4 13/16 7/8 15/16 1 1_1/16 1_1/8 1_1/4 1_3/8 1_1/2 1_11/16 1_3/4 2 2_1/4 2_1/2 3_3/4 4", " ")
	perInch   = strings.Split("80 64 48 44 36 32 28 27 24 20 19 18 16 14 13 12 11.5 11 10 9 8 7 6 5 4.5 4", " ")
)

// designation is a thread as somebody may write it, or what only looks like one.
func designation(rng *rand.Rand) string {
	hand := one(rng, []string{"", "", "", "-LH", " LH", " left hand", " left-hand", " (LH)", " RH", " right hand"})
	if rng.IntN(3) == 0 {
		size := one(rng, []string{strconv.Itoa(1 + rng.IntN(70)), strconv.Itoa(rng.IntN(160)), decimalText(rng, 2), one(rng, strings.Split("1.2 1.6 2.5 3.5 4.5 5.5", " "))})
		pitch := one(rng, []string{"", "", one(rng, []string{"x", " x ", "×", " × ", "-", "*"}) + one(rng, []string{"0.5", "0.75", "1", "1.25", "1.5", "2", "3", "8", "0.199", "0.2", "8.001", decimalText(rng, 2)})})
		class := one(rng, []string{"", "", "-6H", "-6g", " 6H", "-5", "-6H-6g", " UNF", "-"})
		return one(rng, []string{"M", "m", "M "}) + size + pitch + class + hand
	}
	size := strings.Replace(one(rng, diameters), "_", one(rng, []string{" ", "-"}), 1)
	switch rng.IntN(16) {
	case 0, 1:
		size = one(rng, []string{"#", "#", "No. ", "no ", "NO.", ""}) + strconv.Itoa(rng.IntN(14))
	case 2:
		size = one(rng, []string{"¾", "½", "1¼", "1 ⅛", "0.75", "0.875", "6", "6.001", "0", "7"})
	}
	size += one(rng, []string{"", "", "", `"`, " in", "″"})
	per := one(rng, perInch)
	if rng.IntN(8) == 0 {
		per = one(rng, []string{"11 1/2", "11 1/3", "3", "2.999", "80.001", "100", "0", decimalText(rng, 2), "2", "4 1/2"})
	}
	tail := one(rng, []string{"", "", " UNF", " UNC", " UNEF", " UN", " UNS", " unf", "UNF", " UNF UNC", " NPT", " BSP", " NPTF", " XYZ"})
	class := one(rng, []string{"", "", "", "-2A", "-2b", " 3A", "-1B"})
	if rng.IntN(60) == 0 {
		return one(rng, []string{"G3/4", "1/2 NPT", `3/4" BSPP`, "1-", "M", "#", "14", size + " " + per, "Rp 1/2"})
	}
	joint := one(rng, []string{"-", "-", "-", " - ", "–", "x"})
	if strings.HasSuffix(size, "in") {
		joint = "-"
	}
	return size + joint + per + tail + class + hand
}

// contacts and matches are the library's findings by the oracle's names.
var (
	contacts = map[turn.Contact]string{turn.ContactExpected: "expected", turn.SecondGasket: "second gasket", turn.EarlyContact: "early",
		turn.MissingGasket: "missing gasket", turn.MissedContact: "missed", turn.LateContact: "late"}
	matches = map[turn.Match]string{turn.Fits: "fits", turn.SpinsHome: "spins home", turn.ShouldBind: "should bind",
		turn.DoesNotEngage: "does not engage", turn.OtherThread: "other thread"}
)

// Threads: designations read, named and refused by published tables, how far a screw travels in a turn, what a canister does on
// a stud, and what an early or a late contact suggests. Sources: thread-tables, asme-b1-1, nist-sp811-b8.
func TestThreads(t *testing.T) {
	ask(t, "threads.py", func(rng *rand.Rand) map[string]any {
		text := designation(rng)
		th, err := turn.ParseThread(text)
		told := map[string]any{"text": text, "refused": why(err)}
		if err != nil {
			return told
		}
		stud, err := turn.ParseThread(designation(rng))
		if rng.IntN(2) == 0 || err != nil { // nearly alike, or a tenth apart
			stud = th
			if again, err := turn.ParseThread(strings.NewReplacer("13/16", one(rng, []string{"3/4", "7/8"}), "1-", "15/16-", "-16", "-14", "-20", "-22", "-10", "-9", "x1.5", "x1.75", "x3", "x2.7", "-LH", "").Replace(th.String())); err == nil {
				stud = again
			}
		}
		turned := amount(rng)
		if rng.IntN(4) == 0 {
			turned = turn.MustOf(rng.Int64N(1000), 360)
		}
		gasket := one(rng, []int64{20, 40, 50, 60})
		expected, within := turn.MustOf(48+rng.Int64N(144), 24), turn.MustOf(rng.Int64N(8), 24)
		counted := turn.MustOf(rng.Int64N(240), 24)
		// About the height of the gasket off, in twenty-fourths of a turn.
		if lead, _ := th.Lead().Float64(); rng.IntN(2) == 0 {
			off := int64(float64(gasket)/10/lead*24) + rng.Int64N(17) - 8
			counted = turn.MustOf(max(0, expected.Rat().Num().Int64()*24/expected.Rat().Denom().Int64()+one(rng, []int64{-off, off})), 24)
		}
		c, err := th.JudgeContact(expected, counted, within, units.MustParse[units.LengthUnit](strconv.FormatFloat(float64(gasket)/10, 'f', 1, 64)+" mm"))
		must(err)
		told["name"], told["misnamed"], told["left"], told["lead"], told["diameter"] = th.String(), th.Misnamed(), th.Hand() == turn.LeftHand, th.Lead().RatString(), th.Diameter().RatString()
		told["turn"], told["advance"], told["stud"], told["match"] = part(turned), th.Advance(turned).String(), stud.String(), matches[th.On(stud)]
		told["expected"], told["counted"], told["within"], told["gasket"], told["contact"] = part(expected), part(counted), part(within), strconv.FormatFloat(float64(gasket)/10, 'f', 1, 64), contacts[c.Contact]
		return told
	}, "refused", "name", "misnamed", "left", "lead", "diameter", "advance", "match", "contact")
}
