module example.com/snugturn/testdata/housecheck

go 1.24
