// Housecheck holds a module to rules that the compiler doesn't know.
//
//	housecheck imports                what the library's packages use, file by file, whatever it is built for
//	go test -json | housecheck tests  that every test in the module's files ran, and passed
//	housecheck bench                  the same for the benchmarks
//
// It reads the module it is called in, and ends with 1 where it finds something.
package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

func main() {
	checks := map[string]func() ([]string, error){
		"imports": imports,
		"tests":   func() ([]string, error) { return ran(os.Stdin, "", "Test", "Example", "Fuzz") },
		"library": func() ([]string, error) { return ran(os.Stdin, "/examples/", "Test", "Example", "Fuzz") },
		"bench":   func() ([]string, error) { return ran(os.Stdin, "", "Benchmark") },
	}
	if len(os.Args) != 2 || checks[os.Args[1]] == nil {
		fmt.Fprintln(os.Stderr, "usage: housecheck imports|tests|library|bench")
		os.Exit(2)
	}
	found, err := checks[os.Args[1]]()
	if err != nil {
		found = append(found, err.Error())
	}
	for _, f := range found {
		fmt.Fprintln(os.Stderr, "FAIL:", f)
	}
	if len(found) > 0 {
		os.Exit(1)
	}
}

// packageDirs gives the names of all Go files of the module in the working directory, by directory
// ("units", "drain/waste"), the files that no build would look at among them.
func packageDirs() (map[string][]string, error) {
	dirs := map[string][]string{}
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if !d.IsDir() {
			if strings.HasSuffix(path, ".go") {
				dir := filepath.ToSlash(filepath.Dir(path))
				dirs[dir] = append(dirs[dir], d.Name())
			}
			return nil
		}
		if path == "." {
			return nil
		}
		if _, err := os.Stat(filepath.Join(path, "go.mod")); err == nil || d.Name() == "testdata" || d.Name()[0] == '.' {
			return filepath.SkipDir
		}
		return nil
	})
	return dirs, err
}

// modulePath is the path that go.mod gives.
func modulePath() (string, error) {
	text, err := os.ReadFile("go.mod")
	if err != nil {
		return "", err
	}
	for line := range strings.Lines(string(text)) {
		if path, ok := strings.CutPrefix(line, "module "); ok {
			return strings.TrimSpace(path), nil
		}
	}
	return "", fmt.Errorf("go.mod names no module")
}
