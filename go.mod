module example.com/snugturn

go 1.24

require github.com/shopspring/decimal v1.6.0
