package service

import (
	"encoding"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"example.com/snugturn/drain"
	"example.com/snugturn/internal/strictjson"
	"example.com/snugturn/torque"
)

type schema map[string]any

// fromGo makes the schema of a type: what its tags, its kind and its comments say, and what the two tables say of
// its fields.
type fromGo struct {
	comments map[string]string // "Job.ID" and "Job" to their words
	patterns map[string]string // of texts, by the names of their types
	defs     schema
	output   bool // of what is written, not of what is read
	checked  bool // of what a person writes: no text in it is empty
	part     bool // of a file that another one adds to: objects may lack fields, but not those in a list
}

func (f *fromGo) of(typ reflect.Type, narrower string) schema {
	if typ.Kind() == reflect.Pointer {
		return f.of(typ.Elem(), narrower)
	}
	if reflect.PointerTo(typ).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) {
		return f.text(typ, narrower)
	}
	if typ == reflect.TypeFor[Values]() { // each as its own type writes it
		return schema{"type": "object", "additionalProperties": schema{"type": []string{"string", "number", "boolean", "object", "array"}}}
	}
	switch typ.Kind() {
	case reflect.String:
		switch {
		case f.output: // as long as its words are
			return schema{"type": "string"}
		case !f.checked:
			return schema{"type": "string", "maxLength": maxString}
		}
		return schema{"type": "string", "minLength": 1, "maxLength": maxString, "pattern": f.patterns["plain text"]}
	case reflect.Bool:
		return schema{"type": "boolean"}
	case reflect.Int:
		return schema{"type": "integer"}
	case reflect.Slice:
		whole := *f
		whole.part = false
		return schema{"type": "array", "items": whole.of(typ.Elem(), narrower), "maxItems": strictjson.MaxItems}
	case reflect.Map:
		return schema{"type": "object", "additionalProperties": f.of(typ.Elem(), narrower)}
	case reflect.Struct:
		return f.object(typ, narrower)
	}
	panic("no schema for " + typ.String())
}

// text is one of a few words, or a string such as the sample; a quantity may be written in two parts.
func (f *fromGo) text(typ reflect.Type, narrower string) schema {
	name := narrower + defName(typ)
	ref := schema{"$ref": "#/$defs/" + name}
	if f.defs[name] != nil {
		return ref
	}
	if words := wordsOf(typ); len(words) > 0 {
		f.defs[name] = schema{"title": name, "type": "string", "enum": words}
		return ref
	}
	text := schema{"title": name, "type": "string", "minLength": 1, "maxLength": longest(defName(typ)), "examples": []string{sample(typ)}}
	if pattern := f.patterns[name]; pattern != "" {
		text["pattern"] = pattern
	}
	f.defs[name] = text
	kind := strings.TrimPrefix(defName(typ), "Stated")
	if unit := f.patterns[kind+"Unit"]; unit != "" {
		delete(text, "title")
		f.defs["UnitOf"+kind] = schema{"title": "UnitOf" + kind, "type": "string", "pattern": "^" + blank + "*" + unit + dotted + "*$"}
		f.defs[name] = schema{"title": name, "oneOf": []schema{text, {"title": name + "InParts", "type": "object", "additionalProperties": false, "required": []string{"value", "unit"},
			"properties": schema{"value": schema{"type": "string", "pattern": f.patterns[narrower+"Number"]}, "unit": schema{"$ref": "#/$defs/UnitOf" + kind}}}}}
	}
	return ref
}

// longest is how many characters a text may have: the parsers count bytes, which are no fewer.
func longest(name string) int {
	switch name {
	case "Turn", "Part", "Instruction", "Sequence", "Thread", "FillPart", "StatedDensity":
		return 256
	case "Band":
		return 192
	case "Duration", "Zone":
		return 64
	case "Date":
		return 10
	}
	return 128 // a quantity
}

var ofUnits = regexp.MustCompile(`^(\w+)\[.*\.(\w+)Units\]`)

// defName is "Torque" for a quantity of torque, "RangeOfMass" for an estimate of a mass, "Record"
// for the JSON of a record.
func defName(typ reflect.Type) string {
	if kind := ofUnits.FindStringSubmatch(typ.Name()); kind != nil { // Estimate[….UnitOf[….torqueUnits]]
		name := strings.ToUpper(kind[2][:1]) + kind[2][1:]
		return map[string]string{"Quantity": name, "Estimate": "RangeOf" + name, "UnitOf": name + "Unit"}[kind[1]]
	}
	if typ == reflect.TypeFor[torque.Adapter]() {
		return "Lever"
	}
	name := strings.TrimSuffix(typ.Name(), "File")
	return strings.ToUpper(name[:1]) + name[1:]
}

// wordsOf are the names of all constants of a small type.
func wordsOf(typ reflect.Type) (words []string) {
	if typ.Kind() != reflect.Uint8 {
		return nil
	}
	for n := range 256 {
		v := reflect.New(typ).Elem()
		v.SetUint(uint64(n))
		if word, err := v.Interface().(encoding.TextMarshaler).MarshalText(); err == nil {
			words = append(words, string(word))
		}
	}
	return words
}

func (f *fromGo) object(typ reflect.Type, narrower string) schema {
	name := narrower + defName(typ)
	if f.part {
		name += "Part"
	}
	if _, done := f.defs[name]; done {
		return schema{"$ref": "#/$defs/" + name}
	}
	object := schema{"title": name, "type": "object", "additionalProperties": false}
	f.defs[name] = object
	inside := *f
	inside.checked = written[typ]
	properties, required, words := schema{}, []string{}, []string{f.comments[typ.Name()]}
	for _, field := range strictjson.Fields(typ) {
		property, said := inside.property(typ, field)
		if narrower == "Weighed" && field.Key == "from" {
			property = schema{"type": "string", "const": drain.Weighed.String()}
		}
		properties[field.Key] = property
		if said != "" { // nothing may be said next to a reference
			words = append(words, field.Key+": "+said)
		}
		if !field.Optional && !f.part {
			required = append(required, field.Key)
		}
	}
	if f.part && properties["stations"] != nil {
		f.eachUnderItsID(properties)
	}
	object["properties"] = properties
	if len(required) > 0 {
		object["required"] = required
	}
	if text := strings.TrimSpace(strings.Join(words, "\n")); text != "" {
		object["description"] = text
	}
	if written[typ] && !f.part {
		maps.Copy(object, together[name])
		f.eitherOf(name, object, variants[name])
	}
	return schema{"$ref": "#/$defs/" + name}
}

// property is that of a field, with what its comment says, or that apart, where it is one of the definitions.
func (f *fromGo) property(typ reflect.Type, field strictjson.Field) (property schema, apart string) {
	at := typ.Name() + "." + field.Name
	bounded := defName(typ) + "." + field.Name
	narrower := narrowed[bounded]
	if field.Bound == ">0" {
		narrower = "Positive"
	}
	property = f.of(field.Type, narrower)
	if f.output {
		delete(property, "maxItems")
	} else {
		if least, most, ranged := field.Range(); ranged && property["type"] == "array" {
			property["maxItems"] = most
		} else if ranged {
			property["minimum"], property["maximum"] = least, most
		}
		maps.Copy(property, bounds[bounded])
		if property["type"] == "integer" {
			setUnlessThere(property, "minimum", map[bool]int{true: 1, false: -1 << 31}[field.Optional && field.Type.Kind() == reflect.Int])
			setUnlessThere(property, "maximum", 1<<31-1)
		}
	}
	words := f.comments[at]
	switch {
	case words == "":
	case property["$ref"] != nil:
		return property, words
	default:
		property["description"] = words
	}
	return property, ""
}

func setUnlessThere(s schema, key string, value any) {
	if _, there := s[key]; !there {
		s[key] = value
	}
}

// eachUnderItsID lets the stations of a part be an object of stations without their IDs.
func (f *fromGo) eachUnderItsID(properties schema) {
	list := properties["stations"].(schema)
	station := f.of(reflect.TypeFor[Station](), "")
	delete(f.defs[strings.TrimPrefix(station["$ref"].(string), "#/$defs/")].(schema)["properties"].(schema), "id")
	properties["stations"] = schema{"description": "each under its ID; in a job, a list replaces all of the card's",
		"oneOf": []schema{{"type": "object", "additionalProperties": station}, {"type": "array", "items": list["items"], "minItems": 1, "maxItems": 40}}}
}

// written are the types of what a person writes.
var written = func() map[reflect.Type]bool {
	all := map[reflect.Type]bool{}
	var add func(reflect.Type)
	add = func(typ reflect.Type) {
		for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if typ.Kind() == reflect.Struct && !all[typ] {
			all[typ] = true
			for _, field := range strictjson.Fields(typ) {
				add(field.Type)
			}
		}
	}
	add(reflect.TypeFor[Job]())
	add(reflect.TypeFor[AsDone]())
	add(reflect.TypeFor[Rules]())
	return all
}()

// bounds are what the checks hold single fields to, beside their type and the bound in their tag.
var bounds = map[string]schema{
	"Job.ID":            {"maxLength": maxID},
	"Job.Isolate":       {"minItems": 1, "uniqueItems": true},
	"Job.Stations":      {"minItems": 1, "uniqueItems": true},
	"Shop.Wrenches":     {"uniqueItems": true},
	"Shop.Gauges":       {"uniqueItems": true},
	"Station.ID":        {"maxLength": maxID},
	"Element.PartNo":    {"maxLength": maxPartNo},
	"Seal.PartNo":       {"maxLength": maxPartNo},
	"Cranking.Attempts": {"minimum": 1, "maximum": 100},
	"Waste.Other":       {"uniqueItems": true},
	"AsDone.Stations":   {"uniqueItems": true},
	"AsDone.Cranks":     {"not": schema{"type": "array", "minItems": 1, "prefixItems": []schema{has("rest")}}},
	"AsDone.Weights":    {"uniqueItems": true},
	"AsDone.Restored":   {"uniqueItems": true},
	"Marks.Labels":      {"minItems": 2, "maxItems": 360, "uniqueItems": true},
	"MarkSeen.Between":  {"minItems": 2, "maxItems": 2},
	"TorqueReading.K":   {"pattern": `^(10(\.0{1,20})?|[0-9]?[1-9](\.[0-9]{1,20})?)$`},
}

// narrowed are the fields whose quantities may not be nothing, or may be weighed only; all else that isn't a
// temperature is zero or more.
var narrowed = map[string]string{
	"Wrench.Deviation":  "Positive",
	"Interval.Distance": "Positive", "Interval.DistancePerWeek": "Positive",
	"Pump.Efficiency": "Positive", "HandPrimer.Efficiency": "Positive",

	"Pump.OnTime": "Positive", "Cranking.Limit": "Positive", "Cranking.Rest": "Positive",
	"Tighten.Gasket": "Positive", "Rules.Eye": "Positive", "Rules.Count": "Positive",
	"Weight.Mass": "Weighed", "Weight.Scale": "Weighed",
}

// has is an object in which all of these fields stand.
func has(fields ...string) schema { return schema{"required": fields} }

// is is an object in which a field has this value.
func is(field string, value any) schema {
	kind := "string"
	if value == true {
		kind = "boolean"
	}
	return schema{"required": []string{field}, "properties": schema{field: schema{"type": kind, "const": value}}}
}

func none(of ...schema) schema { return schema{"not": schema{"anyOf": of}} }

func each(fields ...string) (all []schema) {
	for _, field := range fields {
		all = append(all, has(field))
	}
	return all
}

// variant is one of the forms that an object can have: with a field, and without those that go with the others.
type variant struct {
	field   string
	without []string
}

var variants = map[string][]variant{
	"Adapter":     {{"kind", []string{"lever"}}, {"lever", []string{"kind"}}},
	"Seal":        {{"wet", []string{"dry"}}, {"dry", []string{"wet"}}},
	"MarkSeen":    {{"mark", []string{"between", "share"}}, {"between", []string{"mark", "past"}}},
	"VolumeTaken": {{"volume", []string{"read", "deviation"}}, {"read", []string{"volume"}}},
	"AngleDone":   {{"stages", []string{"total"}}, {"total", []string{"stages"}}},
	"Weight":      {{"mass", []string{"scale", "density"}}, {"scale", []string{"mass"}}},
	"Tighten":     ofTheWays(),
}

// ofTheWays are the ways to tighten, each with what it takes next to it.
func ofTheWays() (all []variant) {
	ways := Tighten{Seat: &Seat{Torque: torque.MustParseBand("max 25 N·m")}}.ways()
	for _, w := range ways {
		v := variant{field: w.name()}
		for _, other := range ways {
			if other.name() != w.name() {
				v.without = append(v.without, other.name())
			}
		}
		for _, b := range besides {
			if !slices.Contains(w.beside(), b.field) {
				v.without = append(v.without, b.field)
			}
		}
		all = append(all, v)
	}
	return all
}

// eitherOf makes an object one of its variants. What is false or an empty list isn't given, and may stand anywhere.
func (f *fromGo) eitherOf(name string, object schema, all []variant) {
	if len(all) == 0 {
		return
	}
	refs, needed := []schema{}, []string{}
	if fields, ok := object["required"].([]string); ok {
		needed = fields
	}
	for _, v := range all {
		one, properties := maps.Clone(object), maps.Clone(object["properties"].(schema))
		delete(one, "description")
		one["title"] = name + "With" + strings.ToUpper(v.field[:1]) + v.field[1:]
		one["properties"], one["required"] = properties, append([]string{v.field}, needed...)
		properties[v.field] = stated(properties[v.field].(schema))
		for _, field := range v.without {
			switch property := properties[field].(schema); property["type"] {
			case "boolean":
				properties[field] = schema{"type": "boolean", "const": false}
			case "array":
				properties[field] = schema{"type": "array", "items": property["items"], "maxItems": 0}
			default:
				delete(properties, field)
			}
		}
		if also, ok := one["dependentRequired"].(map[string][]string); ok {
			also = maps.Clone(also)
			maps.DeleteFunc(also, func(field string, _ []string) bool { return properties[field] == nil })
			if one["dependentRequired"] = also; len(also) == 0 {
				delete(one, "dependentRequired")
			}
		}
		if also, ok := one["dependentSchemas"].(schema); ok && properties["seat"] == nil && also["adapter"] != nil {
			delete(one, "dependentSchemas")
		}
		f.defs[one["title"].(string)] = one
		refs = append(refs, schema{"$ref": "#/$defs/" + one["title"].(string)})
	}
	for key := range object {
		if key != "title" && key != "description" {
			delete(object, key)
		}
	}
	object["oneOf"] = refs
}

// stated is a property that says something.
func stated(property schema) schema {
	property = maps.Clone(property)
	switch property["type"] {
	case "boolean":
		property["const"] = true
	case "array":
		setUnlessThere(property, "minItems", 1)
	}
	return property
}

// together is what the checks say of fields that depend on each other.
var together = map[string]schema{
	"Interval":      {"if": schema{"not": schema{"anyOf": each("hours", "distance")}}, "then": has("months")},
	"Prime":         {"if": schema{"not": has("pump")}, "then": has("handPrimer")},
	"Station":       {"if": is("fill", FitDry.String()), "then": none(each("prefillWith", "prefillShare")...), "else": schema{"oneOf": each("prefillWith", "prefillShare")}},
	"Drain":         none(has("out", "housing"), schema{"required": []string{"water", "waterUnknown"}, "properties": schema{"waterUnknown": schema{"type": "boolean", "const": true}}}),
	"Marks":         {"not": has("atContact", "drawnAt")},
	"StationDone":   {"not": has("marks", "turned")},
	"Fuel":          {"if": schema{"not": has("densityAt")}, "then": schema{"properties": schema{"density": schema{"type": "string", "pattern": "[aA][pP][iI]|60 ?[°/]"}}}},
	"AngleDone":     {"dependentRequired": map[string][]string{"deviation": {"tool"}}},
	"TorqueReading": {"dependentRequired": map[string][]string{"k": {"expanded"}}, "if": is("clicked", true), "then": none(has("expanded"), is("corrected", true))},
	"Wrench": {"if": is("deviationBasis", torque.Absolute.String()), "then": schema{"required": []string{"absoluteDeviation"}, "not": has("deviation")},
		"else": schema{"required": []string{"deviation"}, "not": has("absoluteDeviation")}},
	"Rules":   {"dependentSchemas": schema{"turn": schema{"properties": schema{"turn": has("source")}}}},
	"Tighten": {"dependentSchemas": schema{"adapter": schema{"properties": schema{"seat": has("torque")}}}},
}
