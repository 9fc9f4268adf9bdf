package service_test

import (
	"reflect"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

func init() {
	service.Lays.Type, service.Lays.Schema = reflect.TypeFor[sheet.Sheet](), sheet.Schema
	service.Lays.Out = func(plan *service.Plan) (data, page []byte, text string) {
		s := sheet.For(plan, true)
		data, err := s.JSON()
		if err != nil {
			panic(err)
		}
		if page, err = s.HTML(); err != nil {
			panic(err)
		}
		return data, page, s.Text()
	}
}
