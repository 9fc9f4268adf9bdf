package main

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"example.com/snugturn/service"
)

// A figure is a number that is typed into a field.
type figure struct {
	Field, Name string // Name is "" where the form has only one
	Whole       bool
	Like        string // such a whole number
	Fraction    bool   // 5 1/2 is one, too
	Below       bool   // it may be below zero
	Empty       bool   // it may be left out
	More        bool   // it is more than zero
}

// figures are the numbers that a question's form asks for.
func (a ask) figures(answer map[string]string) (all []figure) {
	spread := figure{Field: "spread", Name: "how far it may be out", Empty: true, More: true}
	switch a.Form {
	case "torque":
		return []figure{{Field: "value"}}
	case "angle":
		return []figure{{Field: "value", Name: "the angle"}, {Field: "spread", Name: "how far the gauge may be out", Empty: true, More: true}}
	case "turn":
		return []figure{{Field: "value", Fraction: true}}
	case "count":
		return []figure{{Field: "value", Whole: true}}
	case "meter":
		return []figure{{Field: "hours", Whole: true, Like: "1204: leave tenths and commas off"}}
	case "after":
		return []figure{{Field: "passes", Whole: true, Empty: true}}
	case "volume":
		if answer["none"] != "yes" {
			return []figure{{Field: "value", Name: "the jug"}, spread, {Field: "at", Name: "the temperature", Below: true}}
		}
	case "weight":
		return []figure{{Field: "value", Name: "the scale"}, spread}
	case "crank":
		for i := cranked(answer); i > 0; i-- {
			n := strconv.Itoa(i)
			all = append([]figure{{Field: "rest" + n, Name: "the rest before attempt " + n, Empty: true}, {Field: "crank" + n, Name: "attempt " + n, More: true}}, all...)
		}
	}
	return all
}

// cranked is the last attempt of which something was typed, at least the first.
func cranked(answer map[string]string) (last int) {
	last = 1
	for i := 2; i <= mostCranks; i++ {
		if strings.TrimSpace(answer[fmt.Sprintf("crank%d", i)]+answer[fmt.Sprintf("rest%d", i)]) != "" {
			last = i
		}
	}
	return last
}

var (
	aNumber   = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)
	aWhole    = regexp.MustCompile(`^(0|[1-9][0-9]{0,8})$`)
	aFraction = regexp.MustCompile(`^[0-9]+( [0-9]+/[1-9][0-9]*)?$|^[0-9]+/[1-9][0-9]*$`)
	withComma = regexp.MustCompile(`^-?[0-9]+,[0-9]+$`)
)

// wrong is what is wrong with what was typed, in plain words; "" for nothing.
func (f figure) wrong(typed string) string {
	typed = strings.TrimSpace(typed)
	quoted := "“" + cut(typed) + "”"
	switch {
	case typed == "" && f.Empty:
		return ""
	case typed == "":
		return "type a number"
	case withComma.MatchString(typed) && !f.Whole:
		return quoted + " has a comma: type it with a point, such as 12.5"
	case f.Fraction && aFraction.MatchString(typed):
		return ""
	case f.Whole && !aWhole.MatchString(typed):
		return quoted + " isn't a whole number such as " + cmp.Or(f.Like, "4")
	case f.Fraction && !aNumber.MatchString(typed):
		return quoted + " isn't a number of turns such as 5 1/2"
	case !aNumber.MatchString(typed):
		return quoted + " isn't a number such as 12.5: type digits alone, without a unit"
	case typed[0] == '-' && !f.Below:
		return quoted + " is below zero"
	case f.More && strings.Trim(typed, "0.") == "":
		if f.Empty {
			return "it is never 0: leave it empty if you don't know it"
		}
		return "it has to be more than 0"
	}
	return ""
}

// cut keeps what is shown of what was typed short.
func cut(typed string) string {
	if r := []rune(typed); len(r) > 20 {
		return string(r[:20]) + "…"
	}
	return typed
}

func capital(text string) string {
	r := []rune(text)
	return string(unicode.ToUpper(r[0])) + string(r[1:])
}

// mistyped is the first field that has something else than the number asked for, and what to type instead.
func mistyped(a ask, answer map[string]string) (field, problem string) {
	for _, f := range a.figures(answer) {
		said := f.wrong(answer[f.Field])
		switch {
		case said == "":
		case f.Name == "":
			return "a." + f.Field, capital(said) + "."
		default:
			return "a." + f.Field, capital(f.Name) + ": " + said + "."
		}
	}
	return "", ""
}

var crankPath = regexp.MustCompile(`^cranks\[([0-9]+)\]\.(crank|rest)$`)

// fieldOf is the field of a form that a path in the readings is about.
func fieldOf(a ask, path string) string {
	if m := crankPath.FindStringSubmatch(path); m != nil {
		n, _ := strconv.Atoi(m[1])
		return m[2] + strconv.Itoa(n+1)
	}
	switch end := path[strings.LastIndex(path, ".")+1:]; {
	case end == "at", end == "hours", end == "passes":
		return end
	case end == "deviation":
		return "spread"
	}
	switch a.Form {
	case "contact":
		return "place"
	case "after":
		return "passes"
	case "meter":
		return "hours"
	case "crank":
		return "crank1"
	}
	return "value"
}

// refused is the field that an error of the library is about, and the error in plain words: each figure is a number, and
// yet it can't be.
func refused(a ask, answer map[string]string, err error) (field, problem string) {
	path := ""
	var one *service.JobError
	if errors.As(err, &one) {
		path = one.Path
	}
	field = fieldOf(a, path)
	typed := cut(answer[field])
	switch {
	case errors.Is(err, errNoPlace), a.Form == "contact":
		problem = "Choose the place that was at the index."
	case a.Form == "weight" && answer["spread"] != "":
		field, problem = "spread", "It can't be out by more than the scale showed."
	default:
		problem = "“" + typed + "” can't be right here: read it again."
		for _, f := range a.figures(answer) {
			if f.Field == field && f.Name != "" {
				problem = capital(f.Name) + ": " + problem
			}
		}
	}
	return "a." + field, problem
}
