package workingtest

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Run works a method out on arguments as a command line gives them.
func Run(t require.TestingT, methods []working.Method, name string, arguments ...string) (working.Outputs, error) {
	written, err := working.ParseArguments(arguments)
	require.NoError(t, err)
	return find(t, methods, name).Run(written)
}

func find(t require.TestingT, methods []working.Method, name string) working.Method {
	m, err := working.Find(methods, name)
	require.NoError(t, err)
	return m
}

// JSON compares what each method gives for its arguments with the file
// testdata/METHOD.json; -update writes the files anew.
func JSON(t *testing.T, methods []working.Method, arguments map[string][]string) {
	t.Helper()
	for name, given := range arguments {
		out, err := Run(t, methods, name, given...)
		require.NoError(t, err, name)
		got, err := find(t, methods, name).JSON(out, quantity.Metric)
		require.NoError(t, err, name)
		Golden(t, fmt.Sprintf("testdata/%s.json", name), got)
	}
}

// Golden compares with a file, which -update writes anew.
func Golden(t *testing.T, file string, got []byte) {
	t.Helper()
	if *update {
		require.NoError(t, os.WriteFile(file, got, 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), file)
}

// ExamplesCanBeTyped checks that what the help shows as an example of an input
// is read as one.
func ExamplesCanBeTyped(t *testing.T, methods []working.Method) {
	t.Helper()
	for _, m := range methods {
		for _, p := range m.Inputs {
			written, err := working.ParseArguments([]string{p.Name + "=" + p.Example})
			require.NoError(t, err)
			if _, err = m.Run(written); err != nil {
				assert.NotContains(t, "\n"+err.Error(), "\n"+p.Name+": ", m.Name)
			}
		}
	}
}

// Text is an output as it is printed, "absent: " and why where it has none.
func Text(t require.TestingT, out working.Outputs, name string, units quantity.System) string {
	v, ok := out.Output(name)
	require.True(t, ok, name)
	if !v.Known() {
		return "absent: " + v.Why()
	}
	return v.Text(units)
}

// Faults are the faults that an error joins, as the user sees them: "where:
// what | how to mend".
func Faults(err error) []string {
	var all []string
	if joined, several := err.(interface{ Unwrap() []error }); several {
		for _, one := range joined.Unwrap() {
			all = append(all, Faults(one)...)
		}
		return all
	}
	if f, ok := errors.AsType[*working.Fault](err); ok {
		all = append(all, f.Error()+" | "+f.Mend)
	}
	return all
}

// Given is a figure without source or text.
func Given[Q any](v Q) working.Estimate[Q] { return working.Given(source.Value[Q]{Is: v}, "") }
