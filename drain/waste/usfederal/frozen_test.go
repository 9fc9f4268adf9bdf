package usfederal

import (
	"testing"

	"example.com/snugturn/testdata/frozen"
)

var frozenCalls = frozen.Of(frozen.Calls{"RuleSet": RuleSet, "NewManifestLine": NewManifestLine}, ContainerCode(0), ManifestLine{}, UnitCode(0))

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }
