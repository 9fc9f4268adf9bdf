package service_test

import (
	"os"
	"reflect"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

func init() {
	service.Lays.Type, service.Lays.Schema = reflect.TypeFor[sheet.Sheet](), sheet.Schema
	text, err := os.ReadFile("testdata/words.txt")
	if err != nil {
		panic(err)
	}
	words, err := sheet.English().With(string(text))
	if err != nil {
		panic(err)
	}
	service.Lays.Out = func(plan *service.Plan) service.Laid { return words.Sheet(plan, true) }
}
