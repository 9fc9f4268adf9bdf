package frozen

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"
)

// The files of package service's testdata that the tables' jobs are made of.
var files = map[string]string{
	"demo": "forms/0.1.0/job-demo.json", "bench": "forms/0.1.0/job-bench.json", "cartridge": "jobs/cartridge.json",
	"cover": "jobs/cover-and-cap.json", "three": "jobs/three-stations.json", "two": "jobs/two-stations.json",
	"done": "forms/0.1.0/asdone-demo.json", "rules": "rules.json", "benchdone": "forms/0.1.0/asdone-bench.json",
}

// Jobs are the names of those that are jobs.
var Jobs = []string{"bench", "cartridge", "cover", "demo", "three", "two"}

func file(folder, name string) []byte {
	text, err := os.ReadFile(folder + "/" + files[name])
	if err != nil {
		panic(err)
	}
	return text
}

// behind are the edits that begin with a word, without it.
func behind(word string, edits []string) (rest []string) {
	for _, e := range edits {
		if after, ok := strings.CutPrefix(e, word); ok {
			rest = append(rest, after)
		}
	}
	return rest
}

// Job is a job of the folder with those of the edits that begin with a stroke.
func Job(folder, name string, edits []string) []byte {
	return Edit(file(folder, name), behind("/", edits))
}

// Rules are the folder's rules with those of the edits that begin with "rules".
func Rules(folder string, edits []string) []byte {
	return Edit(file(folder, "rules"), behind("rules", edits))
}

// Readings are the demonstration's, or where the edits have "bench" the bench job's, for a job and with those of the edits
// that begin with "done".
func Readings(folder, job string, revision int, edits []string) []byte {
	name := "done"
	for _, e := range edits {
		if e == "bench" {
			name = "benchdone"
		}
	}
	return Edit(file(folder, name), append([]string{`/job="` + job + `"`, fmt.Sprintf("/revision=%d", revision)}, behind("done", edits)...))
}

// MoreOfJobs are edits with values that none of the jobs has.
var MoreOfJobs = more(map[string][]string{
	"/preferences": {`{"volume":"US gal","mass":"lb","temperature":"°F","length":"in","decimalComma":true}`,
		`{"volume":"mL","mass":"g","temperature":"K","length":"cm"}`, `{"mass":"oz"}`},
	"/stations/#/tighten/torque": {`"max 21 N·m"`, `"18 N·m ± 10 %"`, `"12 ft-lb to 20 N·m"`,
		`"12 to 15 ft-lb (17 to 25 N·m)"`, `"0 to 20 N·m"`, `"1.5 to 2.1 kgf·m"`, `"150 to 2100 N·cm"`},
	"/stations/#/tighten/turn": {`"1 to 1 1/4 turns after gasket contact"`, `"3/4 turn after finger tight"`, `"2 flats after gasket contact"`, `"1 turn after gasket contact"`,
		`"1/8 to 1 1/8 turns after gasket contact"`, `"5/12 turn after gasket contact"`, `"1/7 turn after gasket contact"`, `"2 1/2 turns after snug"`, `"30° after gasket contact"`},
	"/stations/#/tighten": {`{"sequence":"20 N·m then 1/8 turn + 1/8 turn","thread":"left hand"}`, `{"sequence":"15 ft-lb then 1/4 turn + 1/4 turn + 1/4 turn"}`, `{"torque":"145 to 190 in-lb","thread":"left hand"}`,
		`{"turn":"2 to 2 1/4 turns after gasket contact","contactTurns":"5 turns"}`, `{"turn":"3/4 turn after gasket contact","marks":{"labels":["1","2","3","4","5","6"],"order":"clockwise","index":"rib","view":"from the head side","atContact":"2"}}`,
		`{"torque":"16 to 21 N·m","adapter":{"name":"key","lever":{"offset":"4 in","angle":"45°"}}}`},
	"/stations/#/tighten/adapter": {`{"name":"key","lever":{"offset":"4 in","angle":"30°"}}`, `{"name":"key","lever":{"offset":"4 in","angle":"180°"}}`, `{"name":"key","lever":{"offset":"100 mm","angle":"90°"}}`,
		`{"name":"key","lever":{"offset":"0 in","angle":"0°"}}`, `{"name":"strap","kind":"strap wrench"}`},
	"/stations/#/tighten/marks":  {`{"labels":["1","2","3","4","5","6","7","8","9","10","11","12","13","14","15","16","17","18","19","20","21","22","23","24","25","26"],"order":"clockwise","index":"rib","view":"facing the closed end","atContact":"7"}`, `{"labels":["A long label","B","C","D","E"],"order":"counterclockwise","index":"a line on the head","view":"from beside, closed end up","atContact":"C"}`},
	"/stations/#/tighten/thread": {`"left hand"`, `"right hand"`},
	"/fuel/density":              {`"7.0 lb/US gal"`, `"0.84 kg/L"`, `"36.9 °API"`, `"700 kg/m³"`},
})

// MoreOfReadings are edits of readings with values that none of the others has.
var MoreOfReadings = more(map[string][]string{
	"/stations/#/torque": {`{"value":"21 N·m","tool":"W-1","clicked":true}`, `{"value":"15 ft-lb","tool":"W-2"}`, `{"value":"21 N·m","tool":"W-1","expanded":"3 N·m","k":"3"}`,
		`{"value":"30 N·m","tool":"W-1","expanded":"0.1 N·m"}`, `{"value":"5 N·m","tool":"W-1","expanded":"0.1 N·m"}`, `{"value":"20 N·m","tool":"W-1","corrected":true}`},
	"/stations/#/marks": {`{"before":{"mark":"1"},"after":{"between":["4","3"]}}`, `{"before":{"between":["N","E"],"share":"1/3"},"after":{"mark":"W","past":"1/16 turn"},"passes":1}`,
		`{"before":{"mark":"S"},"after":{"mark":"E"},"passes":0}`, `{"before":{"mark":"2"},"after":{"mark":"2"},"passes":1}`},
	"/stations/#/turned":       {`"3/4 turn"`, `"1 1/2 turns"`, `"1/8 turn"`},
	"/stations/#/dragged":      {"true"},
	"/stations/#/seated":       {"false"},
	"/stations/#/contactTurns": {`"5 turns"`, `"2 1/2 turns"`, `"9 turns"`},
	"/stations/#/stopTurns":    {`"5 turns"`, `"2 1/2 turns"`},
	"/stations/#/leaks":        {`{"priming":true}`, `{"hot":true}`, `{"priming":false,"running":true,"hot":false}`},
	"/stations/#/water":        {`{"read":"0.2 L","deviation":"0.05 L","at":"20 °C"}`, `{"volume":{"low":"1 L","best":"1.1 L","high":"1.2 L","from":"measured"},"at":"60 °C"}`},
	"/stations/#/angle":        {`{"total":"165°","tool":"G-1","deviation":"2°"}`, `{"stages":["45°","45°","45°","30°"],"tool":"G-1","deviation":"2°"}`, `{"total":"200°","tool":"G-1","deviation":"2°"}`},
	"/cranks":                  {`[{"crank":"40 s"}]`, `[{"crank":"10 s"},{"rest":"1 min","crank":"10 s"},{"rest":"5 min","crank":"5 s"}]`},
	"/keyCycles":               {"1", "9"},
	"/strokes":                 {"5", "90"},
	"/meter":                   {`{"hours":12345}`, `{"distance":"123456 km"}`},
	"/remarks":                 {`["bowl scratched","new clamp"]`},
})

// more gives each value to each of two stations.
func more(values map[string][]string) (edits []string) {
	for _, path := range slices.Sorted(maps.Keys(values)) {
		for _, value := range values[path] {
			for i := range 2 {
				edit := strings.Replace(path, "#", strconv.Itoa(i), 1) + "=" + value
				if !slices.Contains(edits, edit) {
					edits = append(edits, edit)
				}
			}
		}
	}
	return edits
}
