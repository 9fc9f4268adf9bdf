module example.com/snugturn/testdata/mutate

go 1.26.0
