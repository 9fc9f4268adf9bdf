package service_test

import (
	"reflect"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

func init() {
	service.Lays.Type, service.Lays.Schema = reflect.TypeFor[sheet.Sheet](), sheet.Schema
	service.Lays.Out = func(plan *service.Plan) service.Laid { return sheet.English().Sheet(plan, true) }
}
