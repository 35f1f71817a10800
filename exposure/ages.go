package exposure

import (
	_ "embed"
	"math"
	"sync"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

//go:embed ages.csv
var agesFile string

// Published are the tables of this package.
func Published() []working.Table {
	return []working.Table{ages(), apartTable(), limitsTable(), planTable()}
}

func ages() working.Table { return working.Table{Name: "ages.csv", File: agesFile} }

// Age is how old a record may grow before a paper calls it old.
type Age struct {
	Days int
	Ref  source.Ref
}

// Past reports whether a record of a day is older than a on another.
func (a Age) Past(recorded, on chemicals.Day) bool { return on.Since(recorded) > a.Days }

// Ages are the ages from which a record counts as stale. Paper is how long
// before its end a paper is named.
type Ages struct{ Sheet, Count, Analysis, Training, Paper Age }

// StaleAges reads the table of ages. It panics on a damaged table, which is a
// fault of the program.
var StaleAges = sync.OnceValue(func() Ages {
	rows, err := ages().Rows()
	if err != nil {
		panic("exposure: " + err.Error())
	}
	of := map[string]Age{}
	for _, row := range rows {
		age, err := working.PublishedQuantity[quantity.Duration](row)
		if err != nil {
			panic("exposure: " + err.Error())
		}
		of[row.Of] = Age{Days: int(math.Round(age.Is().Hours() / 24)), Ref: row.Ref}
	}
	return Ages{Sheet: of["safety data sheet"], Count: of["stock count"], Analysis: of["bath analysis"], Training: of["training"], Paper: of["paper"]}
})
