package exposure

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"sync"

	"bathwarden/chemicals"
	"bathwarden/chemicals/source"
)

//go:embed data/ages.csv
var agesTable []byte

// Age is how old a record may grow before a paper calls it old.
type Age struct {
	Days int
	Ref  source.Ref
}

// Past reports whether a record of a day is older than a on another.
func (a Age) Past(recorded, on chemicals.Day) bool { return on.Since(recorded) > a.Days }

// Ages are the ages from which a record counts as stale.
type Ages struct{ Sheet, Count, Analysis Age }

// StaleAges reads the table of ages. It panics on a damaged table, which is a
// fault of the program.
var StaleAges = sync.OnceValue(func() Ages {
	rows, err := csv.NewReader(bytes.NewReader(agesTable)).ReadAll()
	if err != nil {
		panic("exposure: ages.csv: " + err.Error())
	}
	of := map[string]Age{}
	for i, r := range rows[1:] {
		days, err := strconv.Atoi(r[1])
		standing, unknown := source.ParseStanding(r[5])
		if err != nil || unknown != nil {
			panic(fmt.Sprintf("exposure: ages.csv line %d cannot be read", i+2))
		}
		of[r[0]] = Age{Days: days, Ref: source.Ref{Document: r[2], Place: r[3], Standing: standing}}
	}
	return Ages{Sheet: of["safety data sheet"], Count: of["stock count"], Analysis: of["bath analysis"]}
})
