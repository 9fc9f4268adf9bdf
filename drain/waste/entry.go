package waste

import (
	"strconv"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/plain"
	"example.com/snugturn/units"
)

// Entry is one waste that one service generated. A liquid that was measured and not weighed has its volume
// and temperature too; its mass is then [drain.Fuel.MassOf] of them.
type Entry struct {
	Job           string                           `json:"job"`      // the job sheet's number: at most 64 bytes
	Revision      int                              `json:"revision"` // of the job sheet, from 0; the highest counts, alone
	Line          int                              `json:"line"`     // on the job sheet, 1 to 999
	Date          Date                             `json:"date"`     // the day on which the waste arose, in the site's zone
	Stream        Stream                           `json:"stream"`
	Determination Determination                    `json:"determination"`
	Mass          drain.Estimate[units.MassUnit]   `json:"mass"`                // wet, as it is: see [drain.WetMass] and [Container.Net]
	Volume        drain.Estimate[units.VolumeUnit] `json:"volume,omitzero"`     // of a liquid; the zero Estimate where it wasn't measured
	VolumeAt      units.Temperature                `json:"volumeAt,omitzero"`   // the temperature it was measured at
	Container     string                           `json:"container,omitempty"` // the label of what it was put into, at most 64 bytes
}

// Limits of an entry. They keep a slip of the pen from becoming a month.
const (
	maxLabel    = 64 // of a job, of a container
	maxLines    = 999
	maxRevision = 1_000_000
)

// Check says what is wrong with an entry; nil where nothing is.
//
// Errors: *Error (drain.ErrMissing, units.ErrRange, units.ErrSyntax); *drain.InputError for a mass or a
// volume that is no estimate.
func (e Entry) Check() error { return e.check(unknownLabel) }

// check is Check but for the labels that are known to be sound.
func (e *Entry) check(known func(label string) bool) error {
	const what = "entry"
	if err := checkJob(e.Job, e.Revision, known); err != nil {
		return err
	}
	switch {
	case e.Line < 1 || e.Line > maxLines:
		return refuse(what, "line", strconv.Itoa(e.Line), "out of range", "1 to 999", units.ErrRange)
	case !e.Date.valid():
		return refuse(what, "date", e.Date.String(), "no day of the calendar", "the day the waste arose", units.ErrRange)
	case !streams.Has(e.Stream):
		return refuse(what, "stream", e.Stream.String(), "none given", "one of the streams", drain.ErrMissing)
	case !determinations.Has(e.Determination):
		return refuse(what, "determination", e.Determination.String(), "unknown value", "undetermined, hazardous or not counted", units.ErrRange)
	}
	if e.Container != "" && !known(e.Container) {
		if err := checkLabel(what, "container", e.Container); err != nil {
			return err
		}
	}
	if measured := given(e.Volume); measured || e.VolumeAt.Valid() {
		if err := e.checkVolume(measured); err != nil {
			return err
		}
	}
	return check(what, "mass", e.Mass)
}

func (e *Entry) checkVolume(measured bool) error {
	const what = "entry"
	switch {
	case !measured:
		return refuse(what, "volume", "", "a temperature, and no volume", "both, or neither", drain.ErrMissing)
	case !e.VolumeAt.Valid():
		return refuse(what, "volumeAt", "", "a volume, and no temperature", "the temperature it was measured at", drain.ErrMissing)
	case !e.Stream.Liquid():
		return refuse(what, "volume", e.Volume.Best.String(), e.Stream.String()+" is no liquid", "its mass alone", units.ErrRange)
	}
	return check(what, "volume", e.Volume)
}

func checkJob(job string, revision int, known func(string) bool) error {
	if !known(job) {
		if err := checkLabel("entry", "job", job); err != nil {
			return err
		}
	}
	if revision < 0 || revision > maxRevision {
		return refuse("entry", "revision", strconv.Itoa(revision), "out of range", "0 to 1,000,000", units.ErrRange)
	}
	return nil
}

func checkLabel(what, field, label string) error {
	switch {
	case len(label) > maxLabel:
		return refuse(what, field, label, "longer than 64 bytes", "a shorter one", units.ErrRange)
	case plain.Blank(label) || strings.TrimSpace(label) != label:
		return refuse(what, field, label, "nothing there, or blanks around it", "a number or a name", drain.ErrMissing)
	case strings.ContainsFunc(label, func(r rune) bool { return r != ' ' && plain.IsBlank(r) }):
		return refuse(what, field, label, "a blank other than the space: two labels would look alike", "the space", units.ErrSyntax)
	}
	return seen(what, field, label)
}
