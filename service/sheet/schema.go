package sheet

import (
	_ "embed"
	"slices"
)

//go:embed sheet.schema.json
var schema []byte

// Schema is the JSON Schema (draft 2020-12) of what [Sheet.JSON] writes. A later release may add
// fields, codes and kinds of item without another version.
func Schema() []byte { return slices.Clone(schema) }
