package hazard

import (
	"embed"
	"errors"
	"slices"
	"strconv"
	"strings"
	"sync"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

//go:embed data/*.csv
var embedded embed.FS

var tableNames = []string{"acute.csv", "aquatic.csv", "labels.csv", "mixtures.csv", "names.csv", "precedence.csv"}

// Published are the tables of this package.
func Published() []working.Table {
	all := make([]working.Table, len(tableNames))
	for i, name := range tableNames {
		file, err := embedded.ReadFile("data/" + name)
		if err != nil {
			panic("hazard: " + err.Error()) // it is embedded
		}
		all[i] = working.Table{Name: "hazard/" + name, File: string(file)}
	}
	return all
}

// threshold is one published value: a limit, an estimate or words.
type threshold struct {
	of, figure string
	is         float64 // a share as a fraction; zero for words
	text       string  // as published, with its unit
	ref        source.Ref
	specific   bool // published for one substance
}

// rule says what is decided, and whether by a specific limit.
func (t threshold) rule(text string) string {
	if t.specific {
		return text + ", specific to the ingredient"
	}
	return text
}

// words are the parts of a value that is a list.
func (t threshold) words() []string {
	parts := strings.Split(t.text, ";")
	for i, part := range parts {
		parts[i] = strings.TrimSpace(part)
	}
	return parts
}

// rules are the tables, looked up by what a value is of and which it is.
type rules struct {
	of      map[string][]threshold // in the order of the tables
	by      map[[2]string]threshold
	names   []threshold // of the kinds
	signs   []threshold // that take the place of another
	labels  []label     // in the order of the classes, which within one hazard is that of severity
	byClass map[string]label
}

// published reads the tables at the first call. It panics on damaged ones,
// which are a fault of the program.
var published = sync.OnceValue(func() *rules {
	r, err := readRules(Published())
	if err != nil {
		panic("hazard: " + err.Error())
	}
	return r
})

func readRules(tables []working.Table) (*rules, error) {
	r := &rules{of: map[string][]threshold{}, by: map[[2]string]threshold{}, byClass: map[string]label{}}
	var faults []error
	for _, t := range tables {
		rows, err := t.Rows()
		faults = append(faults, err)
		for _, row := range rows {
			is, err := numeric(row)
			faults = append(faults, err)
			value := threshold{of: row.Of, figure: row.Figure, is: is, text: row.Value, ref: row.Ref}
			r.of[row.Of] = append(r.of[row.Of], value)
			r.by[[2]string{row.Of, row.Figure}] = value
			switch {
			case row.Figure == "label":
				faults = append(faults, r.readLabel(row, value))
			case row.Figure == namesOfClass:
				r.names = append(r.names, value)
			case strings.HasSuffix(row.Figure, takesPlace):
				r.signs = append(r.signs, value)
			}
		}
	}
	return r, errors.Join(faults...)
}

const (
	namesOfClass = "names of the class"
	takesPlace   = ": takes the place of GHS07 for"
)

// numeric is the figure of a row; rows of words have none.
func numeric(row working.Row) (float64, error) {
	number, unit, _ := strings.Cut(row.Value, " ")
	if number == "" || number[0] < '0' || number[0] > '9' || strings.Contains(row.Value, "=") {
		return 0, nil
	}
	v, err := strconv.ParseFloat(number, 64)
	known := slices.Contains([]string{"", "%", "mg/kg", "mg/L", "kg/L"}, unit)
	if err != nil || !known {
		return 0, &working.Fault{Where: row.Where, What: strconv.Quote(row.Value) + " is neither words nor a figure known here", Mend: "write %, mg/kg, mg/L or a bare number"}
	}
	if unit == "%" {
		v /= 100
	}
	return v, nil
}

// find looks a value up.
func find(of, figure string) (threshold, bool) {
	t, ok := published().by[[2]string{of, figure}]
	return t, ok
}

func must(of, figure string) threshold {
	t, ok := find(of, figure)
	if !ok {
		panic("hazard: no row " + of + ", " + figure)
	}
	return t
}

// find looks up a value of one regime.
func (r Regime) find(of, figure string) (threshold, bool) { return find(of, string(r)+": "+figure) }

func (r Regime) must(of, figure string) threshold { return must(of, string(r)+": "+figure) }

// cutOffs are the classes that an ingredient of a class gives a mixture, and
// from which content.
func (r Regime) cutOffs(of string) []threshold {
	var all []threshold
	for _, row := range published().of[of] {
		regime, to, ok := strings.Cut(row.figure, ": ")
		if ok && Regime(regime) == r && row.is > 0 {
			if _, class := published().byClass[catalogued(to)]; class {
				row.figure = to
				all = append(all, row)
			}
		}
	}
	return all
}

// slack keeps the last bits of a sum from deciding.
const slack = 1e-12

func atLeast(v, limit float64) bool { return v >= limit*(1-slack) }

func atMost(v, limit float64) bool { return v <= limit*(1+slack) }
