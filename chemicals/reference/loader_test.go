package reference

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/source"
)

// copied are the embedded tables in a form that a test may damage.
func copied(t *testing.T) fstest.MapFS {
	t.Helper()
	names, err := fs.Glob(embedded, "data/*")
	require.NoError(t, err)
	tables := fstest.MapFS{}
	for _, name := range names {
		data, err := fs.ReadFile(embedded, name)
		require.NoError(t, err)
		tables[name] = &fstest.MapFile{Data: data}
	}
	return tables
}

// damage replaces one text of a table, which must be there, and tells in which
// line it stood.
func damage(t *testing.T, tables fstest.MapFS, file, old, changed string) (line int) {
	t.Helper()
	before, after, found := strings.Cut(string(tables[file].Data), old)
	require.True(t, found, "%s does not hold %q", file, old)
	tables[file] = &fstest.MapFile{Data: []byte(before + changed + after)}
	line = strings.Count(before, "\n") + 1
	if strings.HasPrefix(old, "\n") {
		line++
	}
	return line
}

func standings() []string {
	var words []string
	for _, s := range source.Standings() {
		words = append(words, s.String())
	}
	return words
}

func TestLoadNamesTheFault(t *testing.T) {
	tests := []struct {
		name, file, old, changed, want string
	}{
		{"no unit", "oels", "sodium-hydroxide,OSHA,TWA,2 mg/m³", "sodium-hydroxide,OSHA,TWA,2", `value "2" has no unit; write it as "0.5 mg/m³"`},
		{"unit of another thing", "densities", "sodium-hydroxide,,2.13 g/mL", "sodium-hydroxide,,2.13 g", `density "2.13 g" is a mass; wanted is a density; write it as "1.18 g/mL"`},
		{"no figure", "densities", "sodium-hydroxide,,2.13 g/mL", "sodium-hydroxide,,", "density is empty; fill it in"},
		{"unknown substance", "densities", "\nnickel,", "\nnickle,", `substance "nickle" is not in data/substances.csv; add it there or mend the id`},
		{"unknown substance of several", "oels", "sodium-cyanide;potassium-cyanide,EU,TWA", "sodium-cyanide;kcn,EU,TWA", `substance "kcn" is not in data/substances.csv; add it there or mend the id`},
		{"no source", "elements", "nickel,58.693 g/mol,iupac-recalled", "nickel,58.693 g/mol,", "source is empty; name a key of data/sources.csv"},
		{"unknown source", "elements", "nickel,58.693 g/mol,iupac-recalled", "nickel,58.693 g/mol,hearsay", `source "hearsay" is not a key of data/sources.csv; add it there or mend the key`},
		{"unknown place to confirm", "elements", "nickel,58.693 g/mol,iupac-recalled,iupac-2021", "nickel,58.693 g/mol,iupac-recalled,iupac", `confirm in "iupac" is not a key of data/sources.csv; add it there or mend the key`},
		{"CAS check digit", "substances", "1310-73-2", "1310-73-3", `CAS number "1310-73-3" does not have its check digit; look it up again`},
		{"CAS check digit of a form", "other_forms", "10213-79-3", "10213-79-4", `CAS number "10213-79-4" does not have its check digit; look it up again`},
		{"form that is a substance", "other_forms", "10213-79-3", "7732-18-5", `CAS number "7732-18-5" is that of water; a substance of the tables is not another form`},
		{"EC check digit", "substances", "215-185-5", "215-185-6", `EC number "215-185-6" does not have its check digit; look it up again`},
		{"index check digit", "classifications", "011-002-00-6", "011-002-00-7", `index number "011-002-00-7" does not have its check digit; look it up again`},
		{"index without harmonisation", "classifications", "sodium-bicarbonate,typical,no,", "sodium-bicarbonate,typical,no,011-002-00-6", "an index number without a harmonised classification; mend the basis or take it out"},
		{"key twice", "groups", "\nbase,", "\nacid,", `"acid" is already in line 2; take one of the two out`},
		{"limit twice", "oels", "copper-cyanide,OSHA,TWA,1 mg/m³", "copper-cyanide;copper-pyrophosphate,OSHA,TWA,1 mg/m³", `"copper-pyrophosphate, OSHA, TWA, Cu" is already in line 114; take one of the two out`},
		{"unknown class", "classes", "sodium-carbonate,Eye Irrit. 2,", "sodium-carbonate,Eye irritation 2,", `class "Eye irritation 2" is not known; write the abbreviation of Annex VI, "Skin Corr. 1B"`},
		{"code of another class", "classes", "sodium-carbonate,Eye Irrit. 2,H319", "sodium-carbonate,Eye Irrit. 2,H318", `class "Eye Irrit. 2" does not have the code "H318"; it has H319`},
		{"code without text", "supplements", "acetone,EUH066", "acetone,EUH099", `code "EUH099" has no text; add it to data/statements.csv or mend it`},
		{"classes of what is not classified", "classifications", "sodium-carbonate,harmonised,yes", "sodium-carbonate,harmonised,no", `classified is "no", and 1 classes are given; mend the one or the other`},
		{"no classification", "supplements", "\nacetone,EUH066", "\nnickel,EUH066", "nickel has no row in data/classifications.csv; add one"},
		{"range of a limit", "class_limits", "2 % w/w,5 % w/w", "2 % w/w,1 % w/w", `below "1 % w/w" is not above low "2 % w/w"; mend the one or the other`},
		{"factor", "m_factors", "nickel-sulfamate,acute,1,", "nickel-sulfamate,acute,5,", `factor "5" is not a power of ten; write 1, 10, 100 ...`},
		{"unknown word", "substances", "NaOH,solid", "NaOH,flakes", `state "flakes" is not known; write one of: solid, liquid, solution, solid or solution`},
		{"unknown group", "substances", "cleaner,base,", "cleaner,caustic,", `group "caustic" is not known; add it to data/groups.csv or mend it`},
		{"species that cannot be", "substances", ",Cr(VI),", ",S2O8,", `"S2O8" cannot be in CrO3; name a species of data/species.csv whose element the formula has`},
		{"formula", "substances", ",NaOH,", ",Na(OH,", `formula "Na(OH" has a parenthesis that is not closed; write it as "NiSO4.6H2O" or "KAu(CN)2"`},
		{"element without mass", "substances", ",NaOH,", ",LiOH,", `formula "LiOH" has the element "Li", which has no mass; mend the formula or add the element to data/elements.csv`},
		{"name of two", "names", "sodium-carbonate,soda ash", "sodium-carbonate,lye", `"lye" is already a name of sodium-hydroxide; a name must lead to one substance`},
		{"strength", "densities", "hydrochloric-acid,36-37 % solution,", "hydrochloric-acid,,", "hydrochloric-acid is sold as a solution; say in the column of which strength this is the density"},
		{"measured as", "oels", "2.5 mg/m³,F,", "2.5 mg/m³,Fluoride,", `as "Fluoride" is neither an element nor a species; add it to data/species.csv or mend it`},
		{"day", "oels", "2025-07-24", "24 July 2025", `from "24 July 2025" is not a date; write it as "2025-01-18", "2018-06" or "2013"`},
		{"figure of what is not listed", "reporting", "water,CERCLA RQ,no,,", "water,CERCLA RQ,no,5 lb,", `figure "5 lb" for what is not listed; mend the one or the other`},
		{"listed without figure", "reporting", "water,CERCLA RQ,no,,", "water,CERCLA RQ,yes,,", `figure is empty; write it as "1000 lb"`},
		{"waste code", "waste_codes", "sodium-cyanide,P106,listed", "sodium-cyanide,P106,characteristic", `code "P106" is not a characteristic code; write D001 to D043 for a characteristic, P106 or U122 for a listed waste`},
		{"standing", "sources", ",2021,handbook", ",2021,book", `standing "book" is not one of: ` + strings.Join(standings(), "; ") + "; mend the standing"},
		{"year", "sources", ",2021,handbook", ",21,handbook", `year "21" is not a year; write four digits, or nothing where the document bears none`},
		{"no document", "sources", "\n61fr38600,61 FR 38600,", "\n61fr38600,,", "document is empty; name the document; only what was recalled has none"},
		{"unused source", "sources", "\nmemory,", "\nspare,A spare document,,,guidance\nmemory,", `source "spare" is not used; take it out, or name it where it belongs`},
		{"two keys", "sources", "\nz-2,29 CFR 1910.1000,Table Z-2,", "\nz-2,29 CFR 1910.1000,Table Z-1,", `source "z-2" is the same as "z-1"; keep one key for one source`},
		{"short row", "names", "sodium-hydroxide,lye", "sodium-hydroxide", "the row has 1 cells; the table has 2 columns"},
		{"header", "names", "substance,name", "name,substance", `the header is "name,substance"; write "substance,name"`},
		{"quote", "names", "sodium-hydroxide,lye", `sodium-hydroxide,l"ye`, `bare " in non-quoted-field; put the cell in quotes and double the quotes inside`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			tables, file := copied(t), "data/"+test.file+".csv"
			line := damage(t, tables, file, test.old, test.changed)
			_, err := load(tables)
			require.Error(t, err)
			where := fmt.Sprintf("%s line %d: ", file, line)
			assert.Contains(t, strings.Split(err.Error(), "\n"), where+test.want)
		})
	}
}

func TestLoadNamesFaultsOfWholeFiles(t *testing.T) {
	tables := copied(t)
	delete(tables, "data/supplements.csv")
	tables["data/colours.csv"] = &fstest.MapFile{Data: []byte("colour\n")}
	_, err := load(tables)
	assert.EqualError(t, err, "data/colours.csv: no table has this name; rename it or take it out\n"+
		"data/supplements.csv: the table is missing; put it back")
}

func TestLoadNamesAllFaultsInOrder(t *testing.T) {
	tables := copied(t)
	damage(t, tables, "data/oels.csv", "sodium-hydroxide,OSHA,TWA,2 mg/m³", "sodium-hydroxide,OSHA,TWA,2 ppb")
	damage(t, tables, "data/oels.csv", "sodium-hydroxide,NIOSH,IDLH,10 mg/m³", "sodium-hydroxide,NIOSH,IDLH,ten")
	damage(t, tables, "data/densities.csv", "sodium-hydroxide,,2.13 g/mL", "sodium-hydroxide,,2.13")
	_, err := load(tables)
	require.Error(t, err)
	lines := strings.Split(err.Error(), "\n")
	require.Len(t, lines, 3)
	assert.Contains(t, lines[0], "data/densities.csv line 2: ")
	assert.Contains(t, lines[1], "data/oels.csv line 2: ")
	assert.Contains(t, lines[2], "data/oels.csv line 4: ")
}
