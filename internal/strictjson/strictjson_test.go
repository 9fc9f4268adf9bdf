package strictjson

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestObject(t *testing.T) {
	fields, problem := Object([]byte(` {"low": {"low": null}, "high": [1]} `), "low", "high")
	assert.Empty(t, problem)
	assert.Equal(t, `{"low": null}`, string(fields["low"].JSON()))
	assert.Equal(t, `[1]`, string(fields["high"].JSON()))
	for text, want := range map[string]string{
		"": "not valid JSON", "{": "not valid JSON", "{} x": "not valid JSON", "{\"\xff\":1}": "not valid JSON",
		"null": "no JSON object", "[]": "no JSON object", `"low"`: "no JSON object", "1": "no JSON object",
		`{"Low": 1}`: `the key "Low" is unknown`, `{"low\u200b": 1}`: `the key "low\u200b" is unknown`,
		`{"low": 1, "low": 1}`: `the key "low" is given twice`, `{"low": null}`: `the key "low" is null`,
	} {
		fields, problem := Object([]byte(text), "low")
		assert.Equal(t, want, problem, text)
		assert.Nil(t, fields)
	}
}

func ExampleObject() {
	_, problem := Object([]byte(`{"low": "1 L", "low": "2 L"}`), "low")
	fmt.Println(problem)
	// Output: the key "low" is given twice
}
