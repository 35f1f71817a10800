// Package workingtest runs the published worked examples of a formula package
// in its tests.
package workingtest

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/working"
)

// RunPublished works out every example in the *.yaml files of a folder, by
// custom testdata/published, and compares the outputs with what was published.
// An example needs an id that no other has, a title, a source and an answer.
func RunPublished(t *testing.T, dir string, methods []working.Method) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, files, "no examples in %s", dir)
	ids := map[string]bool{}
	for _, file := range files {
		for _, x := range examples(t, file) {
			t.Run(x.ID, func(t *testing.T) { run(t, x, methods) })
			assert.False(t, ids[x.ID], "%s line %d: the id %q is another example's", x.File, x.Line, x.ID)
			ids[x.ID] = true
		}
	}
}

func examples(t *testing.T, file string) []working.Example {
	t.Helper()
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	all, err := working.ReadExamples(f, file)
	require.NoError(t, err)
	return all
}

func run(t *testing.T, x working.Example, methods []working.Method) {
	t.Helper()
	assert.NotEmpty(t, x.ID, "%s line %d has no id", x.File, x.Line)
	assert.NotEmpty(t, x.Title, "%s has no title", x.ID)
	assert.True(t, x.Source.Known(), "%s has no source", x.ID)
	assert.NotEmpty(t, x.Expect, "%s expects nothing", x.ID)
	_, checks, err := x.Run(methods)
	require.NoError(t, err)
	for _, c := range checks {
		if c.Disputed == "" {
			assert.True(t, c.Holds, "%s: got %s, want %s", c.Name, c.Got, c.Want)
			continue
		}
		assert.True(t, c.Holds, "%s: got %s, want %s and not the disputed %s", c.Name, c.Got, c.Ours, c.Want)
	}
}
