package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Every catalogue is complete: nothing is missing from it or surplus to English.
func TestCatalogues(t *testing.T) {
	_, err := languages()
	require.NoError(t, err)
}
