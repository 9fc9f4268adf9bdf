package service

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"

	"example.com/snugturn/internal/plain"
	"example.com/snugturn/internal/rational"
)

// Patterns of texts, for schemas. A pattern takes all that the parsers take, in every spelling, and as little else
// as can be said: what it lets pass, the parsers judge. The words and units in them are read from the tables
// in the sources. No pattern looks ahead or behind, and none has a class by name, so that the engines of
// JavaScript, Python, Go and Rust agree.

// class is a set of characters as a pattern has it.
func class(has func(rune) bool) string {
	var b strings.Builder
	for r := rune(0); r < 0x10000; r++ {
		if !has(r) || r == '-' {
			continue
		}
		last := r
		for last+1 < 0x10000 && has(last+1) && last+1 != '-' {
			last++
		}
		switch {
		case last > r+1:
			b.WriteString(inClass(r) + "-" + inClass(last))
		case last > r:
			b.WriteString(inClass(r) + inClass(last))
		default:
			b.WriteString(inClass(r))
		}
		r = last
	}
	if has('-') {
		return "[" + b.String() + "-]"
	}
	return "[" + b.String() + "]"
}

func inClass(r rune) string {
	if strings.ContainsRune(`\]^[`, r) {
		return `\` + string(r)
	}
	return string(r)
}

func among(characters string) string {
	var b strings.Builder
	for _, r := range characters {
		b.WriteString(inClass(r))
	}
	return "[" + b.String() + "]"
}

func alt(all ...string) string { return "(?:" + strings.Join(all, "|") + ")" }

var (
	blank  = class(plain.IsBlank)
	space  = class(unicode.IsSpace)
	vulgar = class(func(r rune) bool { _, den := rational.Vulgar(r); return den != 0 })
	dotted = "[." + blank[1:]
	joint  = `[^!-)+,/-~]` // space, full stop, asterisk and hyphen, and what looks like them; and more of what isn't ASCII
)

// any case: "[nN]" for an n.
func letter(r rune) string {
	also := map[rune]string{'2': "2²₂", '3': "3³", 'l': "lLℓ", '°': "°º˚", 'µ': "µμΜ", '"': "\"″”", '\'': "'′’", 'k': "kK\u212a"}
	switch {
	case also[r] != "" && (r == '2' || r == '3'):
		return `\^?` + among(also[r])
	case also[r] != "":
		return among(also[r])
	case unicode.ToUpper(r) != r:
		return among(string(r) + string(unicode.ToUpper(r)))
	case strings.ContainsRune(`.()/`, r) && r != '/':
		return `\` + string(r)
	}
	return string(r)
}

// word is one in letters of any case.
func word(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch r {
		case '.', '+', '(', ')', '*', '?':
			b.WriteString(`\` + string(r))
		case ' ':
			b.WriteString(space + "+")
		default:
			if upper := unicode.ToUpper(r); upper != r {
				b.WriteString("[" + string(r) + string(upper) + "]")
			} else {
				b.WriteRune(r)
			}
		}
	}
	return b.String()
}

func anyWord(texts []string) string {
	var all []string
	for _, text := range texts {
		all = append(all, word(text))
	}
	return alt(all...)
}

// atoms are the parts of a pattern for a spelling as the table of a kind has it: "·" for any joint, and with "=" in
// front to the letter.
func atoms(spelling string) (all []string) {
	rest, exact := strings.CutPrefix(spelling, "=")
	dots := dotted + "*"
	for _, r := range rest {
		switch {
		case r == '·':
			all = append(all, joint+"+")
		case r == '/':
			all = append(all, dots+"/"+dots)
		case r == '(':
			all = append(all, `\(`+dots)
		case r == ')':
			all = append(all, dots+`\)`)
		case exact && r < unicode.MaxASCII && r != '2' && r != '3':
			all = append(all, string(r))
		default:
			all = append(all, letter(unicode.ToLower(r)))
		}
	}
	return all
}

// trie is spellings with their beginnings in common.
type trie struct {
	next map[string]*trie
	ends bool
}

func (n *trie) add(atoms []string) {
	if len(atoms) == 0 {
		n.ends = true
		return
	}
	if n.next == nil {
		n.next = map[string]*trie{}
	}
	if n.next[atoms[0]] == nil {
		n.next[atoms[0]] = &trie{}
	}
	n.next[atoms[0]].add(atoms[1:])
}

func (n *trie) String() string {
	var all []string
	for _, atom := range slices.Sorted(maps.Keys(n.next)) {
		all = append(all, atom+n.next[atom].String())
	}
	switch {
	case len(all) == 0:
		return ""
	case n.ends:
		return alt(all...) + "?"
	case len(all) == 1:
		return all[0]
	}
	return alt(all...)
}

// folded is a symbol or a name as a spelling.
func folded(text string) string {
	return strings.NewReplacer(" ", "·", "-", "·", ".", "·", "²", "2", "³", "3").Replace(text)
}

// sources parses files of the module.
func sources(t *testing.T, names ...string) (all []*ast.File) {
	for _, name := range names {
		file, err := parser.ParseFile(token.NewFileSet(), "../"+name, nil, 0)
		require.NoError(t, err)
		all = append(all, file)
	}
	return all
}

// literals are the strings below a piece of source, in their order.
func literals(n ast.Node) (all []string) {
	ast.Inspect(n, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			text, _ := strconv.Unquote(lit.Value)
			all = append(all, text)
		}
		return true
	})
	return all
}

// unitPatterns are those of the units of each kind, by the name of its quantity, from the tables of package units.
func unitPatterns(t *testing.T) map[string]string {
	all := map[string]string{}
	for _, file := range sources(t, "units/torque.go", "units/angle.go", "units/volume.go", "units/mass.go", "units/density.go", "units/length.go",
		"units/flow.go", "units/share.go", "units/temperature.go", "units/pressure.go") {
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || fmt.Sprint(call.Fun) != "newKind" {
				return true
			}
			kind, n0 := strings.TrimSuffix(strings.TrimSuffix(literals(call.Args[1])[0], "Unit"), "Scale"), &trie{}
			for _, row := range call.Args[2].(*ast.CompositeLit).Elts {
				for _, field := range row.(*ast.KeyValueExpr).Value.(*ast.CompositeLit).Elts {
					pair := field.(*ast.KeyValueExpr)
					for _, text := range literals(pair.Value) {
						switch fmt.Sprint(pair.Key) {
						case "symbol":
							n0.add(atoms("=" + folded(text)))
						case "name":
							n0.add(atoms(folded(strings.ToLower(text))))
							n0.add(atoms(folded(strings.ToLower(text)) + "s"))
						case "spellings":
							n0.add(atoms(text))
						}
					}
				}
			}
			all[kind] = n0.String()
			return false
		})
	}
	require.Len(t, all, 10)
	return all
}

var lowWord = regexp.MustCompile(`^[a-z]+( [a-z]+)*$`)

// vocabulary are the words in files of a package, and others.
func vocabulary(t *testing.T, others []string, files ...string) string {
	var all []string
	for _, file := range sources(t, files...) {
		for _, text := range literals(file) {
			if lowWord.MatchString(text) {
				all = append(all, strings.Fields(text)...)
			}
		}
	}
	all = append(all, others...)
	slices.Sort(all)
	all = slices.Compact(all)
	n := &trie{}
	for _, text := range all {
		var parts []string
		for _, r := range text {
			parts = append(parts, word(string(r)))
		}
		n.add(parts)
	}
	return n.String()
}

// Numbers of package units: of at most 60 places, and of at most 34 digits before the point that aren't zeros at its
// front.
var (
	stroke        = `[/⁄∕]`
	partOf        = alt(`[0-9]{1,4}`+stroke+`[0-9]{1,4}`, vulgar)
	broken        = `(?:[0-9]+(?:` + blank + `+|-)?)?` + partOf
	wholeOrPlaces = `(?:0*[1-9]?[0-9]{0,33}(?:\.[0-9]{1,60})|0*[1-9][0-9]{0,33}|0+)`
	above0        = `(?:0*\.0*[1-9][0-9]{0,33}|0*[1-9][0-9]{0,33}(?:\.[0-9]{1,60})?)`
	zero          = `[−-]0+(?:\.0+)?|[−-]\.0+`
	number0       = map[string]string{
		"":         alt(`\+?`+alt(broken, wholeOrPlaces), zero),
		"Positive": `\+?` + alt(broken, above0),
		"Signed":   `[+−-]?` + alt(broken, wholeOrPlaces),
	}
)

// quantityOf is a number, a blank or none, and a unit.
func quantityOf(number, unit string) string {
	return blank + "*" + number + alt(blank+"*", "-") + unit + dotted + "*"
}

func textPatterns(t *testing.T) map[string]string {
	all := map[string]string{"plain text": plainText()}
	units := unitPatterns(t)
	for kind, unit := range units {
		all[kind+"Unit"] = unit
		for narrower, number := range number0 {
			switch {
			case kind == "Temperature" || kind == "Angle":
				number = number0["Signed"]
			case kind == "Share" && narrower == "Positive":
				number = `\+?` + alt(`0*100(?:\.0+)?`, `0*[1-9][0-9]?(?:\.[0-9]{1,60})?`, `0*\.0*[1-9][0-9]*`, broken)
			}
			all[narrower+kind] = "^" + quantityOf(number, unit) + "$"
			all[narrower+"Number"] = "^" + blank + "*" + number0[narrower] + blank + "*$"
		}
	}
	turnTexts(t, units, all)
	bandTexts(units, all)
	timeTexts(t, all)
	densityTexts(units, all)
	return all
}

// plainText is text of which everything is seen, and not only blanks.
func plainText() string {
	seen := func(r rune) bool { return plain.Visible(r) }
	mark := func(r rune) bool { return plain.Visible(r) && !unicode.IsSpace(r) }
	rest := func(has func(rune) bool) string {
		return "[^" + class(func(r rune) bool {
			return !has(r) && r != unicode.ReplacementChar && (r < 0xd800 || r > 0xdfff) && known(r)
		})[1:]
	}
	return "^" + rest(seen) + "*" + rest(mark) + rest(seen) + "*$"
}

// known leaves out what a later Unicode may give a mark: only what is there for another purpose is refused.
func known(r rune) bool {
	return unicode.IsControl(r) || unicode.IsSpace(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) || unicode.IsGraphic(r)
}

// turnTexts are those of package turn, whose words are in its parsers. What is no word in them is a figure or a sign.
func turnTexts(t *testing.T, units, all map[string]string) {
	isVulgar := func(r rune) bool { _, den := rational.Vulgar(r); return den != 0 }
	signs := func(more string) string {
		return class(func(r rune) bool {
			return unicode.IsSpace(r) || isVulgar(r) || strings.ContainsRune("0123456789./⁄∕‐‑−–—‒º°˚-"+more, r)
		})
	}
	of := vocabulary(t, nil, "turn/parse.go") + `\b`
	gap := "[‐‑−–—‒" + space[1:len(space)-1] + "-]"
	turnOf := func(number, numerator string) string {
		fraction := alt(numerator+space+`*`+stroke+space+`*0*[1-9][0-9]{0,8}`, vulgar)
		mixed := `(?:[0-9]+` + gap + `*(?:` + word("and") + space + `+)?)?` + fraction
		behind := `(?:` + gap + `*` + alt(word("of")+space+`+[0-9]+`, of, fraction) + `)`
		degrees := gap + `*(?:` + of + gap + `*)?[°º˚]` + space + `*\.?`
		return alt(alt(mixed, of)+behind+`*`, number+behind+`+`, alt(mixed, number, of)+degrees) + space + `*\.?` + space + `*`
	}
	turn := turnOf(`[0-9]+(?:\.[0-9]{1,6})?`, `[0-9]+`)
	all["Turn"] = `^` + space + `*` + turn + `$`
	all["PositiveTurn"] = `^` + space + `*` + turnOf(alt(`0*[1-9][0-9]*(?:\.[0-9]{1,6})?`, `0+\.0*[1-9][0-9]*`), `0*[1-9][0-9]*`) + `$`
	part := vocabulary(t, []string{"of", "the", "a", "their", "gap", "way", "percent", "all", "bowl", "canister", "housing", "filter"}, "turn/parse.go") + `\b`
	all["Part"] = `^` + alt(signs("%"), part) + `+$`
	all["FillPart"] = all["Part"]
	of = vocabulary(t, nil, "turn/parse.go", "turn/instruction.go", "turn/names.go") + `\b`
	all["Instruction"] = `^` + alt("[0-9.]", space, vulgar, of) + alt(signs(","), of) + `*$`
	all["Sequence"] = `^` + space + `*` + quantityOf(number0["Positive"], units["Torque"]) + space + `*` + alt(`[+,]`, word("then")+`\b`) + alt(signs("+,"), vocabulary(t, []string{"then"}, "turn/parse.go")+`\b`) + `+$`
	number := `[0-9]+(?:\.[0-9]+)?`
	fraction := `(?:[0-9]+` + gap + `*(?:` + word("and") + space + `*)?)?` + alt(`[0-9]+`+space+`*`+stroke+space+`*0*[1-9][0-9]*`, vulgar)
	metric := `[mM]` + space + `*` + number + `(?:` + space + `*[xX×*‐‑−-]` + space + `*` + number + `)?`
	inch := `(?:#|` + word("no") + `)?` + space + `*\.?` + space + `*` + alt(fraction, number) + space + `*(?:["″]|` + word("in") + `)?` + space + `*[xX×‐‑−–—‒-]` + space + `*` + alt(fraction, number)
	tail := anyWord([]string{"un", "unc", "unf", "unef", "uns", "lh", "left", "rh", "right", "hand"}) + `\b`
	all["Thread"] = `^` + space + `*` + alt(metric, inch) + `(?:[()‐‑−-]|` + space + `|` + tail + `|[0-9][A-Za-z]\b)*$`
}

// bandTexts are limits of torque, as package torque reads them.
func bandTexts(units, all map[string]string) {
	sign := "[0-9./,()" + `\[\]` + "{}%+±~～〜…≤<=:–—−‐‑" + vulgar[1:len(vulgar)-1] + blank[1:len(blank)-1] + "-]"
	join := anyWord([]string{"from", "between", "max", "maximum", "up to", "at most", "not more than", "not to exceed", "through", "thru", "to", "and", "percent", "pct"})
	front := "[0-9./,+≤<=" + vulgar[1:len(vulgar)-1] + blank[1:]
	all["Band"] = `^` + blank + `*(?:` + front + sign + `*)?(?:` + alt(units["Torque"]+`\b`, join) + sign + `*)+$`
}

// timeTexts are times, days and zones.
func timeTexts(t *testing.T, all map[string]string) {
	of := vocabulary(t, nil, "internal/clock/time.go")
	timeOf := func(number string) string {
		return number + blank + `*` + of + `\.?` + blank + `*(?:` + word("and") + blank + `+)?`
	}
	part := timeOf(`[0-9]+(?:\.[0-9]{1,9})?`)
	all["Duration"] = `^` + blank + `*(?:` + part + `){1,3}$`
	all["PositiveDuration"] = `^` + blank + `*(?:` + timeOf(`0+(?:\.0+)?`) + `){0,2}` + timeOf(alt(`0*[1-9][0-9]*(?:\.[0-9]{1,9})?`, `0+\.0*[1-9][0-9]*`)) + `(?:` + part + `){0,2}$`
	year := alt(`[0-9]{3}[1-9]`, `[0-9]{2}[1-9]0`, `[0-9][1-9]00`, `[1-9]000`)
	all["Date"] = `^` + year + `-` + alt(`(?:0[13578]|1[02])-(?:0[1-9]|[12][0-9]|3[01])`, `(?:0[469]|11)-(?:0[1-9]|[12][0-9]|30)`, `02-(?:0[1-9]|[12][0-9])`) + `$`
	name := alt(`[A-Za-z_][A-Za-z0-9._+-]*`, `\.[A-Za-z0-9_+-][A-Za-z0-9._+-]*`, `\.\.[A-Za-z0-9._+-]+`)
	all["Zone"] = `^` + alt(`UTC`, `[+-](?:[01][0-9]|2[0-3]):[0-5][0-9]`, name+`(?:/`+name+`)+`) + `$`
}

// densityTexts are densities in a unit, or on one of the two scales.
func densityTexts(units, all map[string]string) {
	on := space + `*` + `(?:` + anyWord([]string{"relative density", "specific gravity", "relative", "sp gr", "SG", "RD"}) + space + `*)?` + `[+−-]?` + alt(broken, wholeOrPlaces)
	scale := anyWord([]string{"°API", "° API", "degrees API", "deg API", "API"}) + `(?:` + space + `*[@aA]` + `[tT]?` + space + `*60` + space + `*°[fF])?`
	based := `(?:` + anyWord([]string{"relative density", "specific gravity", "relative", "sp gr", "SG", "RD", "at", "@"}) + space + `*)*\(?` + space + `*60°?` + space + `*(?:°[fF])?/60` + space + `*°?[fF]` + space + `*\)?`
	all["StatedDensity"] = alt(all["Density"], `^`+on+space+`*\(?`+space+`*`+alt(scale, based)+space+`*\)?`+space+`*$`)
}
