module example.com/snugturn/testdata/schemacheck

go 1.24

require (
	example.com/snugturn v0.0.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
)

require (
	github.com/shopspring/decimal v1.6.0 // indirect
	golang.org/x/text v0.14.0 // indirect
)

replace example.com/snugturn => ../..
