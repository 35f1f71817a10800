package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/sheet"
)

// FuzzCSV loads any bytes: rows, or faults that have a place and a hint.
func FuzzCSV(f *testing.F) {
	for _, text := range []string{
		"entry,tank,ingredient,concentration [g/L]\n7,B5,nickel sulfate,350\n", "tank;ingredient\r\nB5;\"a\nb\"\r\n", "tank\tleaves\rB5\tx\r",
		"title\n\ntank\n", "\ufefftank,,\n,,x\n", "tank\n\"", "tank\na\"b", "tank,Tank (x)\n\xff", "PK\x03\x04\x00", utf16Text("tank\nB5\n", true),
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		rows, err := sheet.LoadFS(folder("bath.csv", string(data)))
		if err != nil {
			require.NotEmpty(t, said(t, err))
			require.Nil(t, rows)
			return
		}
		last := ""
		for _, row := range rows {
			require.Equal(t, "bath", row.Kind.Name)
			require.True(t, strings.HasPrefix(row.Where, "bath.csv line "), row.Where)
			require.NotEqual(t, last, row.Where)
			last = row.Where
			for name, c := range row.Given {
				_, ok := row.Kind.Column(name)
				require.True(t, ok, name)
				require.True(t, strings.HasPrefix(c.Where, "bath.csv line ") && strings.HasSuffix(c.Where, ", "+name), c.Where)
			}
		}
	})
}

// FuzzHeader reads any words as a header of any kind; a header that is taken
// names a column, and gives its unit to a number.
func FuzzHeader(f *testing.F) {
	for i, k := range chemicals.Kinds() {
		for _, c := range k.Columns {
			f.Add(c.Name+" [L]", i)
		}
	}
	for _, words := range []string{"entry", "Entry [x]", "working volume gal", "working volume (gal]", "pH [", "[]", "()", "concentration [N (1/2 H2SO4)]", "cost[USD]", "working volume ȺȺȺȺ", "\"tank\"", "' tank"} {
		f.Add(words, 7)
	}
	f.Fuzz(func(t *testing.T, words string, index int) {
		k := chemicals.Kinds()[uint(index)%uint(len(chemicals.Kinds()))]
		header := `"` + strings.ReplaceAll(words, `"`, `""`) + `"`
		rows, err := sheet.LoadFS(folder(k.Name+".csv", k.Columns[0].Name+","+header+"\nx,12\n"))
		if err != nil {
			require.NotEmpty(t, said(t, err))
			return
		}
		require.Len(t, rows, 1)
		for name, c := range rows[0].Given {
			column, ok := k.Column(name)
			require.True(t, ok)
			if unit, ok := strings.CutPrefix(c.Text, "12 "); ok {
				require.NotEqual(t, "", unit)
				require.NotContains(t, refusals(k, chemicals.Body{column.Name: c.Text}), column.Name, c.Text)
			}
		}
	})
}

// refusals are the columns that do not take what a body gives them.
func refusals(k *chemicals.Kind, body chemicals.Body) []string {
	_, err := k.Check(body)
	var names []string
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, one := range joined.Unwrap() {
			names = append(names, one.(*chemicals.Problem).Where)
		}
	}
	return names
}
