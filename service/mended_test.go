package service

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// testdata/mended/table.tsv lists what was once read or ruled wrong, with the test that holds it
// right: the package's folder, a point, and the name of the test or example. Each has to exist.
func TestEveryMendedInputHasItsTest(t *testing.T) {
	table, err := os.ReadFile("../testdata/mended/table.tsv")
	require.NoError(t, err)
	rows := strings.Split(strings.TrimSuffix(string(table), "\n"), "\n")
	require.Equal(t, "item\tinput\ttest", rows[0])
	require.Greater(t, len(rows), 1)
	declared := regexp.MustCompile(`(?m)^func ((?:Test|Example|Fuzz)\w*)\(`)
	tests := map[string]bool{} // "drain/waste.TestName"
	files := map[string]bool{} // folders read
	for i, row := range rows[1:] {
		cells := strings.Split(row, "\t")
		if !assert.Len(t, cells, 3, "row %d: %q", i+2, row) {
			continue
		}
		for _, cell := range cells {
			assert.NotEmpty(t, strings.TrimSpace(cell), "row %d: %q", i+2, row)
		}
		folder, _, _ := strings.Cut(cells[2], ".")
		if !files[folder] {
			files[folder] = true
			names, err := filepath.Glob(filepath.Join("..", folder, "*_test.go"))
			require.NoError(t, err)
			for _, name := range names {
				source, err := os.ReadFile(name)
				require.NoError(t, err)
				for _, found := range declared.FindAllSubmatch(source, -1) {
					tests[folder+"."+string(found[1])] = true
				}
			}
		}
		assert.True(t, tests[cells[2]], "row %d: there is no test %s", i+2, cells[2])
	}
}
