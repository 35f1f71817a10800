package hazard

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

func TestTheTablesHoldTogether(t *testing.T) {
	_, err := readRules(Published())
	require.NoError(t, err)
	set, err := reference.Tables()
	require.NoError(t, err)
	for _, l := range published().labels {
		of := l.class.key()
		_, ok := set.Statement(l.class.Code)
		assert.True(t, ok, "%s: no words for %s", of, l.class.Code)
		if codes := set.ClassCodes(l.class.Name); codes != nil {
			assert.Contains(t, codes, l.class.Code, of)
		}
		for _, row := range published().of[of] {
			if strings.HasPrefix(row.figure, "clp ") || strings.HasPrefix(row.figure, "un ") {
				for _, code := range row.words() {
					_, ok := set.Statement(code)
					assert.True(t, ok, "%s, %s: no words for %s", of, row.figure, code)
				}
			}
		}
	}
}

func TestEveryClassOfTheSubstancesHasItsLabel(t *testing.T) {
	set, err := reference.Tables()
	require.NoError(t, err)
	for _, s := range set.Substances() {
		if s.Classification == nil {
			continue
		}
		for _, k := range s.Classification.Classes {
			found, err := ParseClass(k.Class + "; " + k.Code)
			require.NoError(t, err, s.ID)
			assert.Equal(t, k.Code, found[0].Code)
		}
	}
}

// Every limit of an ingredient class is there for every regime that has the
// class.
func TestNoRegimeLacksALimit(t *testing.T) {
	for _, l := range published().labels {
		for _, r := range Regimes() {
			if !l.class.in(r) || r == US && strings.HasPrefix(l.class.Name, "Aquatic") {
				continue
			}
			switch kind := l.class.Kind(); {
			case kind == "Acute Tox.":
				for _, form := range forms {
					if l.class.Route.covers(form) && (l.class.Category() != "5" || form == Oral || form == Dermal) {
						r.must(l.class.Name, string(form)+", up to")
						r.must(l.class.Name, string(form)+", converted")
					}
				}
			case strings.HasPrefix(kind, "Aquatic"):
				r.must(l.class.Name, "sum from")
				r.must(l.class.Name, "relevant from")
			case !physical(kind):
				assert.NotEmpty(t, r.cutOffsOrSums(l.class.Name), "%s %s", r, l.class)
			}
		}
	}
}

func physical(kind string) bool {
	for _, k := range physicalKinds {
		if k == kind {
			return true
		}
	}
	return false
}

// cutOffsOrSums are the rows that say from which content a class counts.
func (r Regime) cutOffsOrSums(of string) []threshold {
	var all []threshold
	for _, row := range published().of[of] {
		if strings.HasPrefix(row.figure, string(r)+": ") {
			all = append(all, row)
		}
	}
	return all
}

// The count may only fall: what was recalled is to be read.
func TestValuesFromMemory(t *testing.T) {
	const most = 434
	recalled := 0
	for _, table := range Published() {
		rows, err := table.Rows()
		require.NoError(t, err)
		for _, row := range rows {
			if row.Ref.Standing == source.FromMemory {
				recalled++
			}
		}
	}
	assert.LessOrEqual(t, recalled, most)
}

func TestFaultsInTheTables(t *testing.T) {
	const head = "of,figure,value,document,place,year,standing\n"
	for rows, want := range map[string]string{
		"Skin Corr. 1,label,H314; GHS05,,,,from memory\n":    "line 2: the label is not code; pictogram; signal word",
		"Skin Corr. 1,us: Skin Corr.,5 ppm,,,,from memory\n": `line 2: "5 ppm" is neither words nor a figure known here`,
		"Skin Corr. 1,us: Skin Corr.,5 %,,,,hearsay\n":       "standing",
	} {
		_, err := readRules([]working.Table{{Name: "labels.csv", File: head + rows}})
		assert.ErrorContains(t, err, want)
	}
}
