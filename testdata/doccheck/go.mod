module example.com/snugturn/testdata/doccheck

go 1.24
