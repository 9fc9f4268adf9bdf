package turn

import (
	"testing"

	"example.com/snugturn/testdata/frozen"
)

var frozenCalls = frozen.Of(frozen.Calls{
	"ArcLength": ArcLength, "NewInstruction": NewInstruction, "ParseInstruction": ParseInstruction, "ParsePart": ParsePart,
	"NewRing": NewRing, "NewRingAt": NewRingAt, "Sense": Sense, "NewSequence": NewSequence, "ParseSequence": ParseSequence,
	"ParseThread": ParseThread, "Of": Of, "Parse": Parse,
}, Action(0), Contact(0), Datum(0), Hand(0), Instruction{}, Match(0), Part{}, Reach(0), Ring{}, Rotation(0), Sequence{}, Thread{}, Turn{}, View(0))

func TestFrozen(t *testing.T) { frozen.Test(t, "testdata/frozen.txt", frozenCalls) }
