package europe

import (
	"testing"

	"example.com/snugturn/testdata/frozen"
)

var frozenCalls = frozen.Of(frozen.Calls{"RuleSet": RuleSet, "Consign": Consign}, Consignment{})

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }
