package service

import (
	"reflect"

	"example.com/snugturn/drain"
	"example.com/snugturn/drain/waste"
	"example.com/snugturn/torque"
	"example.com/snugturn/turn"
	"example.com/snugturn/units"
)

// Small values of a job file that belong to no other package.

// Kind is how a filter is built, and so what is taken off.
type Kind uint8

// The kinds of filter.
const (
	ScrewOnBowl    Kind = iota + 1 // an element in a bowl that screws on
	SpinOnCanister                 // a canister that screws on and is renewed whole
	DropInElement                  // an element under a screwed cap
	InLine                         // a filter between two hoses
)

// Side says on which side of the pump a joint lies. Suction-side joints draw air in and stay dry.
type Side uint8

// The two sides.
const (
	SuctionSide Side = iota + 1
	PressureSide
)

// AdapterKind is a kind of adapter whose lever can't be known; the zero value is one with a fixed lever.
type AdapterKind uint8

// The kinds of adapter that have no fixed lever.
const (
	StrapWrench AdapterKind = iota + 1
	ChainWrench
)

// Fit says whether a new filter is filled before it is fitted.
type Fit uint8

// The two ways.
const (
	FitDry    Fit = iota + 1
	FitFilled     // through the dirty side only
)

// sample is a text that a type would read, for errors.
func sample(t reflect.Type) string {
	for _, s := range samples {
		if s.of == t {
			return s.text
		}
	}
	return "..."
}

var samples = []struct {
	of   reflect.Type
	text string
}{
	{reflect.TypeFor[units.Torque](), "30 N·m"},
	{reflect.TypeFor[units.Volume](), "1.5 L"},
	{reflect.TypeFor[units.Mass](), "0.4 kg"},
	{reflect.TypeFor[units.Density](), "840 kg/m³"},
	{reflect.TypeFor[drain.StatedDensity](), "840 kg/m³"},
	{reflect.TypeFor[units.Flow](), "2 L/min"},
	{reflect.TypeFor[units.Length](), "95 mm"},
	{reflect.TypeFor[units.Temperature](), "15 °C"},
	{reflect.TypeFor[torque.Band](), "150 to 230 in-lb"},
	{reflect.TypeFor[turn.Instruction](), "3/4 turn after gasket contact"},
	{reflect.TypeFor[turn.Turn](), "4 1/2 turns"},
	{reflect.TypeFor[turn.Part](), "1/3"},
	{reflect.TypeFor[turn.Sequence](), "40 N·m then 45° + 45°"},
	{reflect.TypeFor[turn.Thread](), "1-14 UNS"},
	{reflect.TypeFor[units.Angle](), "15°"},
	{reflect.TypeFor[turn.Rotation](), "clockwise"},
	{reflect.TypeFor[turn.Hand](), "right"},
	{reflect.TypeFor[turn.View](), "facing the closed end"},
	{reflect.TypeFor[drain.Provenance](), "measured"},
	{reflect.TypeFor[waste.Stream](), "absorbents"},
	{reflect.TypeFor[Kind](), "screw-on bowl"},
	{reflect.TypeFor[Side](), "suction"},
	{reflect.TypeFor[AdapterKind](), "strap wrench"},
	{reflect.TypeFor[Fit](), "dry"},
	{reflect.TypeFor[FillPart](), "2/3"},
	{reflect.TypeFor[drain.Duration](), "30 s"},
	{reflect.TypeFor[units.Share](), "80 %"},
	{reflect.TypeFor[waste.Date](), "2026-03-09"},
	{reflect.TypeFor[waste.Zone](), "Europe/Vienna"},
}
