package units

import (
	"encoding/json"
	htmltemplate "html/template"
	"reflect"
	"strings"
	"testing"
	"text/template"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the package comment says about other packages holds.
func TestWhatOthersDoWithAQuantity(t *testing.T) {
	assert.False(t, reflect.TypeFor[Torque]().Comparable())
	assert.False(t, reflect.TypeFor[Temperature]().Comparable())
	assert.LessOrEqual(t, reflect.TypeFor[Torque]().Size(), uintptr(24)) // 20 where words have 32 bits
	var p, q any = InchPound.Of(1), InchPound.Of(1)
	assert.Panics(t, func() { _ = p == q })
	assert.False(t, reflect.DeepEqual(MustParseTorque("12.5 N·m"), MustParseTorque("12.50 N·m")))
	assert.True(t, reflect.DeepEqual(p, q))

	data := map[string]any{"Low": InchPound.Of(12), "High": FootPound.Of(1)}
	var out strings.Builder
	require.NoError(t, template.Must(template.New("").Parse(`{{.Low}} {{.Low.Equal .High}}`)).Execute(&out, data))
	assert.Equal(t, "12 in-lb true", out.String())
	out.Reset()
	require.NoError(t, htmltemplate.Must(htmltemplate.New("").Parse(`<b>{{.Low}}</b>`)).Execute(&out, data))
	assert.Equal(t, "<b>12 in-lb</b>", out.String())
	assert.Error(t, template.Must(template.New("").Parse(`{{eq .Low .High}}`)).Execute(&out, data))

	type record struct {
		Torque Torque `json:"torque,omitzero"`
	}
	text, err := json.Marshal([]record{{InchPound.Of(0)}, {NewtonMetre.Of(0)}})
	require.NoError(t, err)
	assert.Equal(t, `[{"torque":{"value":"0","unit":"in-lb"}},{}]`, string(text))
}
