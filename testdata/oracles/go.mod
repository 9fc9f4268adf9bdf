module example.com/snugturn/testdata/oracles

go 1.24

require example.com/snugturn v0.0.0

require github.com/shopspring/decimal v1.6.0

replace example.com/snugturn => ../..
