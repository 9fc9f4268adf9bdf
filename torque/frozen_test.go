package torque

import (
	"testing"

	"example.com/snugturn/testdata/frozen"
)

var frozenCalls = frozen.Of(frozen.Calls{
	"Delivered": Delivered, "Indicated": Indicated, "Between": Between, "ParseBand": ParseBand, "PlusMinus": PlusMinus,
	"PlusMinusPercent": PlusMinusPercent, "Choose": Choose, "ChooseNearest": ChooseNearest, "ChooseToStop": ChooseToStop, "ParsePrintedLimit": ParsePrintedLimit,
	"PrintedLimit.Compare": func(text string) (Comparison, error) {
		p, err := ParsePrintedLimit(text)
		return p.Compare(), err
	},
}, Acceptance(0), Agreement(0), Band{}, DeviationBasis(0), Rule(0), PrintedLimit{}, Setting{}, Wrench{})

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }
