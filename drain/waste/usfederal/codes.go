package usfederal

import (
	"example.com/snugturn/units"
)

// ContainerCode is a kind of container by the two letters of Table I of the instructions to EPA
// Form 8700-22. The zero value is none.
type ContainerCode uint8

// Kinds of container (EPA Form 8700-22, instructions, Table I) that a shop fills. The others are read by
// their letters, with UnmarshalText.
const (
	MetalDrums    ContainerCode = iota + 1 // DM: metal drums, barrels, kegs
	woodenDrums                            // DW
	FiberDrums                             // DF: fiberboard or plastic drums
	portableTanks                          // TP
	cargoTanks                             // TT: tank trucks
	tankCars                               // TC
	dumpTruck                              // DT
	cylinders                              // CY
	metalBoxes                             // CM: metal boxes, cartons, cases, roll-offs
	woodenBoxes                            // CW
	fiberBoxes                             // CF: fiber or plastic boxes
	Bags                                   // BA: burlap, cloth, paper or plastic bags
	hopperCars                             // HG: hopper or gondola cars
)

// containers is Table I. Bulk marks those that may hold what the form calls very large bulk;
// which ones they are is this package's reading.
var containers = [...]struct {
	name string
	bulk bool
}{
	MetalDrums:    {"metal drums", false},
	woodenDrums:   {"wooden drums", false},
	FiberDrums:    {"fiberboard or plastic drums", false},
	portableTanks: {"portable tanks", false},
	cargoTanks:    {"cargo tanks", true},
	tankCars:      {"tank cars", true},
	dumpTruck:     {"dump truck", true},
	cylinders:     {"cylinders", false},
	metalBoxes:    {"metal boxes or roll-offs", true},
	woodenBoxes:   {"wooden boxes", false},
	fiberBoxes:    {"fiber or plastic boxes", false},
	Bags:          {"bags", false},
	hopperCars:    {"hopper or gondola cars", true},
}

// words is the kind in words, "metal drums".
func (c ContainerCode) words() string { return containers[c].name }

// UnitCode is a unit by the letter of Table II of the instructions to EPA Form 8700-22. The zero
// value is none.
type UnitCode uint8

// The units (EPA Form 8700-22, instructions, Table II) for what a shop ships. Those of very large bulk, M, T,
// N and Y, are read by their letters, with UnmarshalText.
const (
	Kilograms   UnitCode = iota + 1 // K
	Pounds                          // P
	Litres                          // L: liquids only
	Gallons                         // G: US gallons, liquids only
	metricTons                      // M: metric tons of 1000 kg, very large bulk only
	shortTons                       // T: tons of 2000 lb, very large bulk only
	cubicMetres                     // N: very large bulk only
	cubicYards                      // Y: very large bulk only
)

// unitRows is Table II. One of the form is num of mass or volume; a cubic yard is 46,656 in³.
var unitRows = [...]struct {
	name          string
	liquids, bulk bool
	mass          units.MassUnit
	volume        units.VolumeUnit
	isVolume      bool
	size          int64 // of the unit next to it
}{
	Kilograms:   {name: "kilograms", mass: units.Kilogram, size: 1},
	Pounds:      {name: "pounds", mass: units.Pound, size: 1},
	Litres:      {name: "litres", liquids: true, isVolume: true, volume: units.Litre, size: 1},
	Gallons:     {name: "gallons", liquids: true, isVolume: true, volume: units.USGallon, size: 1},
	metricTons:  {name: "metric tons", bulk: true, mass: units.Tonne, size: 1},
	shortTons:   {name: "tons of 2000 lb", bulk: true, mass: units.ShortTon, size: 1},
	cubicMetres: {name: "cubic metres", bulk: true, isVolume: true, volume: units.CubicMetre, size: 1},
	cubicYards:  {name: "cubic yards", bulk: true, isVolume: true, volume: units.CubicInch, size: 36 * 36 * 36},
}

// words is the unit in words, "kilograms".
func (u UnitCode) words() string { return unitRows[u].name }
