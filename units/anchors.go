package units

// The five anchors. Every factor of every table is a product of powers of these and of whole
// numbers; none is typed. An anchor stands here times the power of ten that makes it whole.
const (
	inch      = 254      // 25.4 mm, in 1e-4 m: 24 FR 5348 (1959); NIST SP 811, App. B.8
	pound     = 45359237 // 0.453 592 37 kg, in 1e-8 kg: 24 FR 5348 (1959); NIST SP 811, footnote 22
	gravity   = 980665   // 9.806 65 m/s², in 1e-5 m/s²: standard gravity, NIST SP 811, App. B.8
	impGallon = 454609   // 4.546 09 L, in 1e-5 L: NIST SP 811, App. B.9
	// The US gallon is 231 in³ (NIST Handbook 44, App. C) and so needs no anchor of its own.
)

// kinds are all the tables, in the order in which a unit of another kind is looked for.
func kinds() [10]*kind {
	return [...]*kind{torqueKind, angleKind, volumeKind, massKind, densityKind, lengthKind, flowKind,
		pressureKind, temperatureDifferenceKind, shareKind}
}

// allKinds are also the one without a Quantity: temperatures on a scale.
func allKinds() []*kind {
	all := kinds()
	return append(all[:], temperatureKind)
}
