package sheet_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/sheet"
)

// said is every fault of an error as a user sees it: place, fault, hint.
func said(t testing.TB, err error) []string {
	t.Helper()
	var all []string
	var walk func(error)
	walk = func(err error) {
		if joined, ok := err.(interface{ Unwrap() []error }); ok {
			for _, one := range joined.Unwrap() {
				walk(one)
			}
			return
		}
		var p *chemicals.Problem
		require.True(t, errors.As(err, &p), "%T: %v is no Problem", err, err)
		require.NotEmpty(t, p.Where, p.What)
		require.NotEmpty(t, p.Mend, p.What)
		all = append(all, p.Where+": "+p.What+" | "+p.Mend)
	}
	if err != nil {
		walk(err)
	}
	return all
}

// folder is a folder in memory: names and contents by turns.
func folder(files ...string) fstest.MapFS {
	all := fstest.MapFS{}
	for i := 0; i < len(files); i += 2 {
		all[files[i]] = &fstest.MapFile{Data: []byte(files[i+1])}
	}
	return all
}

// given is what a row gives, by column.
func given(r chemicals.Row) map[string]string {
	all := map[string]string{}
	for name, c := range r.Given {
		all[name] = c.Text
	}
	return all
}

func load(t testing.TB, files ...string) []chemicals.Row {
	t.Helper()
	rows, err := sheet.LoadFS(folder(files...))
	require.Empty(t, said(t, err))
	return rows
}

func utf16Text(text string, bigEndian bool) string {
	var out []byte
	for _, u := range utf16.Encode([]rune("\ufeff" + text)) {
		if bigEndian {
			out = append(out, byte(u>>8), byte(u))
		} else {
			out = append(out, byte(u), byte(u>>8))
		}
	}
	return string(out)
}

func TestRowsOfCSV(t *testing.T) {
	tests := map[string]struct {
		file, text string
		want       []map[string]string
	}{
		"in any order, loosely named": {
			"Bath.CSV", "Concentration,INGREDIENT,tank\n350 g/L,nickel sulfate,B5\n",
			[]map[string]string{{"tank": "B5", "ingredient": "nickel sulfate", "concentration": "350 g/L"}},
		},
		"blanks, hyphens and underscores alike": {
			"product_content.csv", "product,SUBSTANCE,Low,high\nacid,sulfuric acid,,93 % w/w\n",
			[]map[string]string{{"product": "acid", "substance": "sulfuric acid", "low": "", "high": "93 % w/w"}},
		},
		"unit in the header": {
			"tank.csv", "tank,working-volume [gal],temperature (°F),cathode efficiency [%]\nB5,120,130,95\nB6,400 L,55 °C,95 %\nB7,1e2,-5,\n",
			[]map[string]string{
				{"tank": "B5", "working volume": "120 gal", "temperature": "130 °F", "cathode efficiency": "95 %"},
				{"tank": "B6", "working volume": "400 L", "temperature": "55 °C", "cathode efficiency": "95 %"},
				{"tank": "B7", "working volume": "1e2 gal", "temperature": "-5 °F", "cathode efficiency": ""},
			},
		},
		"the header says percent of what": {
			"product-content.csv", "product,substance,high [% w/w]\nacid,water,7\nacid,sulfuric acid,93 %\n",
			[]map[string]string{
				{"product": "acid", "substance": "water", "high": "7 % w/w"},
				{"product": "acid", "substance": "sulfuric acid", "high": "93 % w/w"},
			},
		},
		"equivalents and money in the header": {
			"bath.csv", "tank,ingredient,concentration [N (1/2 H2SO4)]\nT1,sulfuric acid,2\n",
			[]map[string]string{{"tank": "T1", "ingredient": "sulfuric acid", "concentration": "2 N (1/2 H2SO4)"}},
		},
		"money": {
			"receipt.csv", "date,product,cost [USD]\n2026-03-31,acid,125.00\n",
			[]map[string]string{{"date": "2026-03-31", "product": "acid", "cost": "125.00 USD"}},
		},
		"a bare number stays bare without a unit": {
			"tank.csv", "tank,working volume\nB5,120\n",
			[]map[string]string{{"tank": "B5", "working volume": "120"}},
		},
		"what is no number gets no unit": {
			"tank.csv", "tank,working volume [gal]\nB5,-\nB6,about 3\nB7,\"1,5\"\n",
			[]map[string]string{{"tank": "B5", "working volume": "-"}, {"tank": "B6", "working volume": "about 3"}, {"tank": "B7", "working volume": "1,5 gal"}},
		},
		"truth values in a yes/no column only": {
			"location.csv", "location,ventilated,description\nstore,TRUE,TRUE\nyard,false,no\n",
			[]map[string]string{{"location": "store", "ventilated": "yes", "description": "TRUE"}, {"location": "yard", "ventilated": "no", "description": "no"}},
		},
		"an apostrophe guards a sign in free text": {
			"product.csv", "product,density,use\n'=A1,-1,'-\n''=A1,'=1,'tis\n=A1,,'\n",
			[]map[string]string{
				{"product": "=A1", "density": "-1", "use": "-"},
				{"product": "'=A1", "density": "'=1", "use": "'tis"},
				{"product": "=A1", "density": "", "use": "'"},
			},
		},
		"blank rows and short rows": {
			"bath.csv", "\n,,\ntank,ingredient,concentration\n,,\nB5,nickel chloride\n  , ,\n\n\n",
			[]map[string]string{{"tank": "B5", "ingredient": "nickel chloride", "concentration": ""}},
		},
		"empty columns count for nothing": {
			"bath.csv", "tank,,ingredient,\nB5,,nickel chloride,,,,\n",
			[]map[string]string{{"tank": "B5", "ingredient": "nickel chloride"}},
		},
		"header over two lines": {
			"bath.csv", "tank,\" ingredient\n\",\"concentration\n[g/L]\"\nB5,nickel chloride,45\n",
			[]map[string]string{{"tank": "B5", "ingredient": "nickel chloride", "concentration": "45 g/L"}},
		},
		"quotes, separators and line ends in a cell": {
			"product.csv", "product,use\n\"acid, \"\"tech\"\"\",\"two\r\nlines\"\n",
			[]map[string]string{{"product": `acid, "tech"`, "use": "two\r\nlines"}},
		},
		"semicolons":                  {"bath.csv", "tank;ingredient;concentration\nB5;\"a;b\";1,5 g/L\n", []map[string]string{{"tank": "B5", "ingredient": "a;b", "concentration": "1,5 g/L"}}},
		"tabs":                        {"bath.csv", "tank\tingredient\nB5\ta, b; c\n", []map[string]string{{"tank": "B5", "ingredient": "a, b; c"}}},
		"a comma in a semicolon head": {"bath.csv", "tank;ingredient;\"concentration [N (1/2 H2SO4)]\"\nB5;x;1\n", []map[string]string{{"tank": "B5", "ingredient": "x", "concentration": "1 N (1/2 H2SO4)"}}},
		"one column":                  {"person.csv", "person\nAna\n", []map[string]string{{"person": "Ana"}}},
		"no line end at the end":      {"person.csv", "person,job\nAna,plater", []map[string]string{{"person": "Ana", "job": "plater"}}},
		"CRLF":                        {"person.csv", "person,job\r\nAna,\r\nBo,\"\"\r\n", []map[string]string{{"person": "Ana", "job": ""}, {"person": "Bo", "job": ""}}},
		"CR":                          {"person.csv", "person,job\rAna,plater\r\rBo,\r", []map[string]string{{"person": "Ana", "job": "plater"}, {"person": "Bo", "job": ""}}},
		"mark of UTF-8":               {"person.csv", "\ufeff\"person\"\nÅsa\n", []map[string]string{{"person": "Åsa"}}},
		"UTF-16, little end first":    {"person.csv", utf16Text("person\nÅsa 🧪\n", false), []map[string]string{{"person": "Åsa 🧪"}}},
		"UTF-16, big end first":       {"person.csv", utf16Text("person\r\nÅsa 🧪\r\n", true), []map[string]string{{"person": "Åsa 🧪"}}},
		"header only":                 {"person.csv", "person,job\n", nil},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			var got []map[string]string
			for _, r := range load(t, tt.file, tt.text) {
				got = append(got, given(r))
			}
			assert.Equal(t, tt.want, got)
		})
	}
}

func TestPlacesAreTrueLines(t *testing.T) {
	rows := load(t, "product.csv", "product,use,supplier,entry\r\n\r\n\"a\",\"one\r\ntwo\rthree\",here,7\r\nb,,there,\r\n")
	require.Len(t, rows, 2)
	assert.Equal(t, "product.csv line 3", rows[0].Where)
	assert.Equal(t, int64(7), rows[0].Entry)
	assert.Equal(t, "product.csv line 3, use", rows[0].Stands("use"))
	assert.Equal(t, "product.csv line 5, supplier", rows[0].Stands("supplier"))
	assert.Equal(t, "product.csv line 3", rows[0].Stands("density"))
	assert.Equal(t, "product.csv line 6, use", rows[1].Stands("use"))
	assert.Zero(t, rows[1].Entry)
}

func TestFilesOfAFolder(t *testing.T) {
	rows := load(t, "tank.csv", "tank\nB5\n", "_old.csv", "anything", ".hidden.csv", "\x00", "readme.txt", "\xff", "sub/bath.csv", "x", "bath.csv", "tank\nB5\n")
	require.Len(t, rows, 2)
	assert.Equal(t, "bath", rows[0].Kind.Name)
	assert.Equal(t, "tank", rows[1].Kind.Name)
}

func TestLoadTakesFoldersFilesAndWorkbooks(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "person.csv")
	require.NoError(t, os.WriteFile(path, []byte("person\nAna\n"), 0o600))
	for _, from := range []string{dir, path} {
		rows, err := sheet.Load(from)
		require.NoError(t, err)
		assert.Len(t, rows, 1)
	}
	_, err := sheet.Load(filepath.Join(dir, "none"))
	assert.Equal(t, []string{filepath.Join(dir, "none") + ": there is no such file or folder | check the path"}, said(t, err))
}

func TestNothingIsGivenBesideAFault(t *testing.T) {
	rows, err := sheet.LoadFS(folder("bath.csv", "tank\nB5\n", "person.csv", "persn\n"))
	assert.Error(t, err)
	assert.Nil(t, rows)
}

func TestHugeFilesAreRefusedUnread(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bath.csv")
	require.NoError(t, os.WriteFile(path, []byte("tank\n"), 0o600))
	require.NoError(t, os.Truncate(path, 1<<30+1))
	_, err := sheet.Load(path)
	assert.Equal(t, []string{"bath.csv: is larger than 1 GiB | check that it is the right file; split it if it is"}, said(t, err))
}

func TestTooManyRowsAreRefused(t *testing.T) {
	_, err := sheet.LoadFS(folder("person.csv", "person\n"+strings.Repeat("A\n", 2_000_001)))
	assert.Equal(t, []string{"person.csv line 2000002: holds more than 2000000 rows | check that it is the right file; split it if it is"}, said(t, err))
}

func TestLongLinesAreRead(t *testing.T) {
	long := strings.Repeat("long ", 1<<18)
	rows := load(t, "person.csv", "person,job\nAna,"+long+"\n")
	assert.Equal(t, long, rows[0].Given["job"].Text)
}
