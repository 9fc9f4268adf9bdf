package main

import (
	"bytes"
	"strings"
	"testing"
)

func TestRun(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
		out  string // all of it
		says string // in the complaints
	}{
		{args: []string{"-band", "145 to 190 in-lb", "-length", "350 mm", "-offset", "50 mm"}, out: `Limit       145 to 190 in-lb
Set to      16.5 N·m
Delivers    166.900 in-lb, or 160.223 in-lb to 173.854 in-lb at the tool's deviation
Room        15.223 in-lb above the low limit, 16.146 in-lb below the high one
`},
		{args: []string{"-band", "145-190 in-lb (16-21 N·m)"}, out: `Limit       145 to 190 in-lb
Set to      19.0 N·m
Delivers    168.164 in-lb, or 161.437 in-lb to 175.172 in-lb at the tool's deviation
Room        16.437 in-lb above the low limit, 14.828 in-lb below the high one
`},
		{args: []string{"-band", "30 N·m ± 10 %", "-deviation", "12 %"}, code: 1,
			out: "No setting: torque band \"27 to 33 N·m\": the band is ±10 % of its middle and the wrench is ±12 % of dial or reference, so no setting is possible; want a more accurate wrench\n"},
		{args: []string{"-band", "8 to 9 N·m"}, code: 1,
			out: "No setting: torque band \"8 to 9 N·m\": the wrench covers 10 N·m to 100 N·m in steps of 0.5 N·m; want a dial value between 8.334 N·m and 8.640 N·m\n"},
		{args: []string{"-band", "145 to 190 in-lb", "-offset", "50 mm"}, code: 1,
			out: "No setting: lever \"unknown length, adapter of 50 mm at 0°\": the lever can't be worked out; want the distance from the middle of the grip to the drive; strap and chain wrenches have none that holds still\n"},
		{args: []string{"-band", "30 N·m"}, code: 2, says: "a nominal value without a tolerance"},
		{args: []string{"-band", "145-190 in-lb (16-31 N·m)"}, code: 2, says: "190 in-lb is 21.5 N·m, not 31 N·m"},
		{args: []string{"-band", ""}, code: 2, says: "no number"},
		{out: `An invented limit; give yours with -band, the wrench and adapter with the other flags (-h).
Limit       150 to 190 in-lb
Set to      19.0 N·m
Delivers    168.164 in-lb, or 161.437 in-lb to 175.172 in-lb at the tool's deviation
Room        11.437 in-lb above the low limit, 14.828 in-lb below the high one
`},
		{args: []string{"-band", "30", "±", "3", "N·m"}, code: 2, says: "needs quotes"},
		{args: []string{"-length", "350"}, code: 2, says: "no unit"},
		{args: []string{"-help"}, says: "the limit as printed"},
	} {
		var out, complaints bytes.Buffer
		code := run(c.args, &out, &complaints)
		if code != c.code || out.String() != c.out || !strings.Contains(complaints.String(), c.says) {
			t.Errorf("%q: %d\n%s%s\nwant %d\n%s%s", c.args, code, out.String(), complaints.String(), c.code, c.out, c.says)
		}
	}
}
