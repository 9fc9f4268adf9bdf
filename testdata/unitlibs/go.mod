module example.com/snugturn/testdata/unitlibs

go 1.25.0

require (
	example.com/snugturn v0.0.0
	github.com/bcicen/go-units v1.0.5
	github.com/martinlindhe/unit v0.0.0-20230420213220-4adfd7d0a0d6
	github.com/shopspring/decimal v1.6.0
	periph.io/x/conn/v3 v3.7.3
)

require (
	github.com/Knetic/govaluate v3.0.0+incompatible // indirect
	github.com/bcicen/bfstree v1.0.0 // indirect
)

replace example.com/snugturn => ../..
