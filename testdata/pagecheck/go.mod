module example.com/snugturn/testdata/pagecheck

go 1.24

require example.com/snugturn v0.0.0

require github.com/shopspring/decimal v1.6.0 // indirect

replace example.com/snugturn => ../..
