package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/snugturn/service"
	"example.com/snugturn/service/sheet"
)

var update = flag.Bool("update", false, "write openapi.json anew")

type object = map[string]any

// The description is made of the library's own schemas, and of what this service adds to them:
// go test ./examples/httpservice -run OpenAPI -update writes it anew.
func TestOpenAPI(t *testing.T) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	require.NoError(t, e.Encode(openAPI(t)))
	if *update {
		require.NoError(t, os.WriteFile("openapi.json", b.Bytes(), 0o644))
	}
	kept, err := os.ReadFile("openapi.json")
	require.NoError(t, err)
	assert.True(t, b.String() == string(kept), "openapi.json isn't what the schemas make; -update writes it")
}

// Every reference stays within the file and leads somewhere, and every schema is used.
func TestOpenAPIIsWhole(t *testing.T) {
	var all object
	require.NoError(t, json.Unmarshal(description, &all))
	schemas := all["components"].(object)["schemas"].(object)
	used := map[string]bool{}
	var walk func(any)
	walk = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, each := range v {
				walk(each)
			}
		case object:
			if ref, ok := v["$ref"].(string); ok {
				name, found := strings.CutPrefix(ref, "#/components/schemas/")
				if found {
					require.Contains(t, schemas, name)
					used[name] = true
				} else {
					require.Regexp(t, `^#/components/(responses|headers)/`, ref)
				}
			}
			for _, each := range v {
				walk(each)
			}
		}
	}
	walk(all)
	assert.Equal(t, slices.Sorted(maps.Keys(schemas)), slices.Sorted(maps.Keys(used)))
	s := quiet(service.Rules{})
	assert.Equal(t, slices.Sorted(maps.Keys(s.endpoints)), slices.Sorted(maps.Keys(all["paths"].(object))), "each endpoint is described")
	for path, e := range s.endpoints {
		assert.Contains(t, all["paths"].(object)[path], strings.ToLower(e.method), path)
	}
}

func openAPI(t *testing.T) object {
	schemas := object{}
	add := func(name string, schema any) {
		if before, there := schemas[name]; there {
			require.Equal(t, before, schema, "two schemas are called %s", name)
		}
		schemas[name] = schema
	}
	// Generators take no list of types; what may be text, a number or more is left open.
	var open func(any)
	open = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, each := range v {
				open(each)
			}
		case object:
			if _, several := v["type"].([]any); several {
				delete(v, "type")
			}
			for _, each := range v {
				open(each)
			}
		}
	}
	// bundle takes a schema's definitions, and the schema itself under a name.
	bundle := func(name string, text []byte) {
		var root object
		text = bytes.ReplaceAll(text, []byte(`"#/$defs/`), []byte(`"#/components/schemas/`))
		require.NoError(t, json.Unmarshal(text, &root))
		open(root)
		for name, schema := range root["$defs"].(object) {
			add(name, schema)
		}
		for _, key := range []string{"$defs", "$id", "$schema"} {
			delete(root, key)
		}
		if _, there := schemas[name]; !there {
			add(name, root)
		}
	}
	bundle("Record", service.Schemas()["record"]) // the job, the readings and the rules are in it
	bundle("Sheet", sheet.Schema())

	text := object{"type": "string"}
	list := func(of any) object { return object{"type": "array", "items": of} }
	closed := func(description string, optional []string, properties object) object {
		o := object{"type": "object", "description": description, "additionalProperties": false, "properties": properties}
		var required []string
		for _, name := range slices.Sorted(maps.Keys(properties)) {
			if !slices.Contains(optional, name) {
				required = append(required, name)
			}
		}
		o["required"] = required
		return o
	}
	var message object
	messageText, err := json.Marshal(schemas["Message"])
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(messageText, &message))
	found := message["properties"].(object)
	found["level"] = object{"type": "string", "enum": levels(), "description": "how much it matters"}
	found["where"] = object{"type": "string", "description": "the path in the job that it rests on"}
	found["sources"] = list(text)
	add("Finding", closed("Something that the technician must know, as a code and what goes with it.", []string{"variant", "values", "sources"}, found))
	add("Plan", closed("What is found in a job, and what a review will want recorded.", nil, object{"findings": list(schema("Finding")), "wants": list(schema("Line"))}))
	add("ReviewRequest", closed("A job and what was read while it was done.", nil, object{"job": schema("Job"), "asDone": schema("AsDone")}))
	add("KeptRecord", object{"type": "object", "description": "A record as it was kept: a Record, or that of another release, which may have other members.",
		"additionalProperties": true, "required": []string{"release", "sha256", "version"},
		"properties": object{"release": text, "sha256": text, "version": object{"type": "integer"}}})
	add("Difference", closed("A line of the record that this release judges otherwise.", []string{"old", "new"},
		object{"where": text, "code": text, "old": schema("Verdict"), "new": schema("Verdict")}))
	add("Verification", closed("What became of a record.", nil, object{
		"outcome": object{"type": "string", "enum": []string{"verified", "other release"}},
		"release": object{"type": "string", "description": "of the library that judged it"},
		"sha256":  text, "differences": list(schema("Difference"))}))
	add("Wrong", closed("One thing that is wrong in a body.", []string{"want"}, object{
		"pointer": object{"type": "string", "description": "JSON Pointer (RFC 6901) into the body, empty for the whole; where a key isn't plain, to what holds it"},
		"code":    object{"type": "string", "description": "a word for the cause, the same in every release; more may be added"},
		"problem": text, "want": object{"type": "string", "description": "what would be accepted"}}))
	add("Problem", closed("Problem details (RFC 9457); no type is about:blank.", []string{"errors"}, object{
		"title": text, "status": object{"type": "integer", "minimum": 400, "maximum": 599}, "detail": text,
		"errors": list(schema("Wrong"))}))
	add("Health", closed("It answers, and isn't about to stop.", nil, object{"ok": object{"type": "boolean"}}))
	return object{
		"openapi": "3.1.0",
		"info": object{"title": "httpservice", "version": service.Release, "summary": "Filter services planned, and judged",
			"description": "Job files, readings and records in, plans, sheets and records out; nothing is kept. The manufacturer's instructions, the site's rules and local " +
				"law govern wherever an answer differs from them."},
		"servers":  []any{object{"url": "/"}},
		"security": []any{}, // the proxy's in front
		"paths":    paths(),
		"components": object{"schemas": schemas, "responses": object{
			"Problem": object{"description": "What is wrong.", "headers": headers("Retry-After"), "content": object{"application/problem+json": object{"schema": schema("Problem")}}}}},
	}
}

func levels() (words []string) {
	for l := service.Note; l.String() != ""; l++ {
		if _, err := l.MarshalText(); err != nil {
			break
		}
		words = append(words, l.String())
	}
	return words
}

func schema(name string) object { return object{"$ref": "#/components/schemas/" + name} }

func headers(more ...string) object {
	all := object{"X-Request-Id": object{"description": "the client's own, or one that was made", "schema": object{"type": "string"}}}
	for _, name := range more {
		all[name] = object{"description": "seconds, with 503 and too much to do", "schema": object{"type": "integer"}}
	}
	return all
}

func paths() object {
	json := func(name string) object { return object{"application/json": object{"schema": schema(name)}} }
	page := object{"schema": object{"type": "string"}}
	answered := func(description string, content object, problems ...string) object {
		all := object{"200": object{"description": description, "headers": headers(), "content": content}}
		for _, status := range problems {
			all[status] = object{"$ref": "#/components/responses/Problem"}
		}
		return all
	}
	post := func(id, summary, body string, parameters []any, responses object) object {
		o := object{"operationId": id, "summary": summary, "responses": responses,
			"requestBody": object{"required": true, "content": json(body), "description": "at most 1 MiB"}}
		if parameters != nil {
			o["parameters"] = parameters
		}
		return object{"post": o}
	}
	get := func(id, summary string, responses object) object {
		return object{"get": object{"operationId": id, "summary": summary, "responses": responses}}
	}
	usual := []string{"400", "408", "413", "415", "422", "500", "503"}
	return object{
		"/v1/plan": post("plan", "What is found in a job, and what a review will want", "Job", nil, answered("The plan.", json("Plan"), usual...)),
		"/v1/sheet": post("sheet", "The work sheet of a job", "Job", []any{
			object{"name": "numbers", "in": "query", "allowEmptyValue": true, "description": "given, with a page for where the numbers come from", "schema": object{"type": "string"}},
			object{"name": "Accept-Language", "in": "header", "description": "the language of the sheet", "schema": object{"type": "string"}},
		}, answered("The sheet, in the form that Accept prefers.", object{"application/json": object{"schema": schema("Sheet")}, "text/html": page, "text/plain": page},
			append([]string{"406"}, usual...)...)),
		"/v1/review": post("review", "What was done, judged by the shop's rules", "ReviewRequest", nil, answered("The record, in the form of RFC 8785.", json("Record"),
			append([]string{"501"}, usual...)...)),
		"/v1/record/verify": post("verifyRecord", "Whether a record is what was written, and what this release would judge otherwise", "KeptRecord", nil,
			answered("It is what was written; an altered one is 422 with the code altered.", json("Verification"), usual...)),
		"/v1/openapi.json": get("openapi", "This description", answered("The description.", object{"application/json": object{"schema": object{"type": "object"}}}, "404")),
		"/healthz":         get("healthz", "Whether it takes requests", answered("It does.", json("Health"), "503")),
	}
}
