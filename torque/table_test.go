package torque

import (
	"testing"

	"example.com/snugturn/units"
)

// Nuts on oil-free cadmium-plated threads, fine and coarse series, the tension and shear columns; the newton
// metres are nobody's print but computed from the definitions of inch, pound and standard gravity, the low
// limit up and the high limit down to one place, as testdata/oracles does for any band. Sources: ac-43-13-table, oracle-core.
func TestInwardTable71(t *testing.T) {
	rows := []struct{ name, band, want string }{
		{"8-36 tension", "12-15 in-lb", "1.4 to 1.6 N·m"},
		{"8-36 shear", "7-9 in-lb", "0.8 to 1.0 N·m"},
		{"10-32 tension", "20-25 in-lb", "2.3 to 2.8 N·m"},
		{"10-32 shear", "12-15 in-lb", "1.4 to 1.6 N·m"},
		{"1/4-28 tension", "50-70 in-lb", "5.7 to 7.9 N·m"},
		{"1/4-28 shear", "30-40 in-lb", "3.4 to 4.5 N·m"},
		{"5/16-24 tension", "100-140 in-lb", "11.3 to 15.8 N·m"},
		{"5/16-24 shear", "60-85 in-lb", "6.8 to 9.6 N·m"},
		{"3/8-24 tension", "160-190 in-lb", "18.1 to 21.4 N·m"},
		{"3/8-24 shear", "95-110 in-lb", "10.8 to 12.4 N·m"},
		{"7/16-20 tension", "450-500 in-lb", "50.9 to 56.4 N·m"},
		{"7/16-20 shear", "270-300 in-lb", "30.6 to 33.8 N·m"},
		{"1/2-20 tension", "480-690 in-lb", "54.3 to 77.9 N·m"},
		{"1/2-20 shear", "290-410 in-lb", "32.8 to 46.3 N·m"},
		{"9/16-18 tension", "800-1000 in-lb", "90.4 to 112.9 N·m"},
		{"9/16-18 shear", "480-600 in-lb", "54.3 to 67.7 N·m"},
		{"5/8-18 tension", "1100-1300 in-lb", "124.3 to 146.8 N·m"},
		{"5/8-18 shear", "600-780 in-lb", "67.8 to 88.1 N·m"},
		{"3/4-16 tension", "2300-2500 in-lb", "259.9 to 282.4 N·m"},
		{"3/4-16 shear", "1300-1500 in-lb", "146.9 to 169.4 N·m"},
		{"7/8-14 tension", "2500-3000 in-lb", "282.5 to 338.9 N·m"},
		{"7/8-14 shear", "1500-1800 in-lb", "169.5 to 203.3 N·m"},
		{"1-14 tension", "3700-5500 in-lb", "418.1 to 621.4 N·m"},
		{"1-14 shear", "2200-3300 in-lb", "248.6 to 372.8 N·m"},
		{"1-1/8-12 tension", "5000-7000 in-lb", "565.0 to 790.8 N·m"},
		{"1-1/8-12 shear", "3000-4200 in-lb", "339.0 to 474.5 N·m"},
		{"1-1/4-12 tension", "9000-11000 in-lb", "1016.9 to 1242.8 N·m"},
		{"1-1/4-12 shear", "5400-6600 in-lb", "610.2 to 745.6 N·m"},
		{"8-32 tension", "12-15 in-lb", "1.4 to 1.6 N·m"},
		{"8-32 shear", "7-9 in-lb", "0.8 to 1.0 N·m"},
		{"10-24 tension", "20-25 in-lb", "2.3 to 2.8 N·m"},
		{"10-24 shear", "12-15 in-lb", "1.4 to 1.6 N·m"},
		{"1/4-20 tension", "40-50 in-lb", "4.6 to 5.6 N·m"},
		{"1/4-20 shear", "25-30 in-lb", "2.9 to 3.3 N·m"},
		{"5/16-18 tension", "80-90 in-lb", "9.1 to 10.1 N·m"},
		{"5/16-18 shear", "48-55 in-lb", "5.5 to 6.2 N·m"},
		{"3/8-16 tension", "160-185 in-lb", "18.1 to 20.9 N·m"},
		{"3/8-16 shear", "95-100 in-lb", "10.8 to 11.2 N·m"},
		{"7/16-14 tension", "235-255 in-lb", "26.6 to 28.8 N·m"},
		{"7/16-14 shear", "140-155 in-lb", "15.9 to 17.5 N·m"},
		{"1/2-13 tension", "400-480 in-lb", "45.2 to 54.2 N·m"},
		{"1/2-13 shear", "240-290 in-lb", "27.2 to 32.7 N·m"},
		{"9/16-12 tension", "500-700 in-lb", "56.5 to 79.0 N·m"},
		{"9/16-12 shear", "300-420 in-lb", "33.9 to 47.4 N·m"},
		{"5/8-11 tension", "700-900 in-lb", "79.1 to 101.6 N·m"},
		{"5/8-11 shear", "420-540 in-lb", "47.5 to 61.0 N·m"},
		{"3/4-10 tension", "1150-1600 in-lb", "130.0 to 180.7 N·m"},
		{"3/4-10 shear", "700-950 in-lb", "79.1 to 107.3 N·m"},
		{"7/8-9 tension", "2200-3000 in-lb", "248.6 to 338.9 N·m"},
		{"7/8-9 shear", "1300-1800 in-lb", "146.9 to 203.3 N·m"},
	}
	if len(rows) != 50 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, c := range rows {
		b, err := MustParseBand(c.band).Inward(units.NewtonMetre, 1)
		if err != nil || b.String() != c.want {
			t.Errorf("%s: %s inward is %v, %v; want %s", c.name, c.band, b, err, c.want)
		}
	}
}
