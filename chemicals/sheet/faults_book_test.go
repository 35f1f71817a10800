package sheet_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals/sheet"
)

func TestFaultsOfWorkbooks(t *testing.T) {
	one := func(name string, rows ...[]string) []xmlSheet { return []xmlSheet{{name: name, rows: rows}} }
	tests := []struct {
		name   string
		sheets []xmlSheet
		want   []string
	}{
		{
			"misspelt sheet", one("Bathh", []string{"tank"}),
			[]string{
				`sheet "Bathh": is not named after a kind of record | did you mean bath? (a name that begins with "_" is left alone)`,
			},
		},
		{
			"sheet of no kind", one("Sheet1", []string{"x"}),
			[]string{
				`sheet "Sheet1": is not named after a kind of record | known are: KINDS (a name that begins with "_" is left alone)`,
			},
		},
		{
			"only empty sheets", one("Sheet1"),
			[]string{
				`PATH: holds no sheet of any kind | known are: KINDS (a name that begins with "_" is left alone)`,
			},
		},
		{
			"empty sheet of a kind", one("bath"),
			[]string{
				`bath!A1: there is no header | write the columns above the rows: tank, ingredient, concentration, leaves, from, until`,
			},
		},
		{
			"two sheets of one kind", []xmlSheet{{name: "product-content", rows: [][]string{{"product"}}}, {name: "Product content", rows: [][]string{{"product"}}}},
			[]string{
				`sheet "Product content": holds rows of product-content, and so does sheet "product-content" | put all rows into one of them`,
			},
		},
		{
			"title above the header", one("bath", []string{"Baths"}, nil, []string{"", "tank", "ingredient"}),
			[]string{
				`bath!A1: the first row names no column of bath | delete the rows above the header, which seems to be bath!A3`,
			},
		},
		{
			"misspelt column", one("bath", []string{"tank", "ingredeint"}),
			[]string{
				`bath!B1: "ingredeint" is no column of bath | did you mean ingredient?`,
			},
		},
		{
			"column twice", one("bath", []string{"tank", "ingredient", "TANK"}),
			[]string{
				`bath!C1: "tank" already stands in column A | keep one of the two columns`,
			},
		},
		{
			"number for a header", one("bath", []string{"tank", "=12"}),
			[]string{
				`bath!B1: "12" is no column of bath | its columns are: entry, tank, ingredient, concentration, leaves, from, until`,
			},
		},
		{
			"error in the header", one("bath", []string{"tank", "!#NAME?"}),
			[]string{
				`bath!B1: "#NAME?" is no column of bath | its columns are: entry, tank, ingredient, concentration, leaves, from, until`,
			},
		},
		{
			"value under no header", one("bath", []string{"tank", "", "ingredient"}, []string{"B5", "", "x"}, []string{"B5", "=3", "x"}),
			[]string{
				`bath!B3: "3" stands under no header | write a header above it, or delete it`,
			},
		},
		{
			"value beyond the header", one("bath", []string{"tank", "ingredient"}, []string{"B5", "x", "", "", "note"}),
			[]string{
				`bath!E2: "note" stands beyond the last column of the header | delete it, or write a header above it`,
			},
		},
		{
			"serial number for a day", one("receipt", []string{"date", "product"}, []string{"=46000", "acid"}),
			[]string{
				`receipt!A2: "46000" is a bare number, not a day | format the cell as a date, or write the day as 2026-03-31`,
			},
		},
		{
			"day with a time", one("receipt", []string{"date", "product"}, []string{"=46000.5/2", "acid"}),
			[]string{
				`receipt!A2: "2025-12-09 12:00" has a time of day, 12:00 | write the day alone: 2025-12-09`,
			},
		},
		{
			"time for a day", one("receipt", []string{"date", "product"}, []string{"=0.25/4", "acid"}),
			[]string{
				`receipt!A2: "06:00" is a time of day, not a day | write the day as 2026-03-31`,
			},
		},
		{
			"date beyond the calendar", one("receipt", []string{"date", "product"}, []string{"=-4/1", "acid"}),
			[]string{
				`receipt!A2: shown as a date, but -4 is not a date | write the date as 2026-03-31, or give the cell a number format`,
			},
		},
		{
			"date for a quantity", one("tank", []string{"tank", "working volume [L]"}, []string{"B5", "=46000/1"}),
			[]string{
				`tank!B2: the cell is a date, 2025-12-09 | format the cell as text and write what "working volume" takes, such as "120 L"`,
			},
		},
		{
			"date for a number", one("tank", []string{"tank", "pH"}, []string{"B5", "=46000/1"}),
			[]string{
				`tank!B2: the cell is a date, 2025-12-09 | format the cell as text and write what "pH" takes, such as "4.2"`,
			},
		},
		{
			"date for a name", one("tank", []string{"tank"}, []string{"=46000/1"}),
			[]string{
				`tank!A2: the cell is a date, 2025-12-09 | format the cell as text and write what "tank" takes, such as "B5"`,
			},
		},
		{
			"date for a word", one("tank", []string{"tank", "purpose"}, []string{"B5", "=46000/1"}),
			[]string{
				`tank!B2: the cell is a date, 2025-12-09 | format the cell as text and write what "purpose" takes, such as "clean"`,
			},
		},
		{
			"date for yes or no", one("location", []string{"location", "ventilated"}, []string{"store", "=46000/1"}),
			[]string{
				`location!B2: the cell is a date, 2025-12-09 | format the cell as text and write what "ventilated" takes, such as "yes"`,
			},
		},
		{
			"date for an entry", one("bath", []string{"entry", "tank"}, []string{"=46000/1", "B5"}),
			[]string{
				`bath!A2: "2025-12-09" is not the number of an entry | leave what export wrote, or leave it empty for a new row`,
			},
		},
		{
			"truth for text", one("location", []string{"location", "description"}, []string{"store", "?1"}),
			[]string{
				`location!B2: the cell holds the truth value TRUE | format the cell as text and write what "description" takes, such as "words"`,
			},
		},
		{
			"truth for a quantity", one("tank", []string{"tank", "working volume"}, []string{"B5", "?0"}),
			[]string{
				`tank!B2: the cell holds the truth value FALSE | format the cell as text and write what "working volume" takes, such as "120 L"`,
			},
		},
		{
			"truth for an entry", one("bath", []string{"entry", "tank"}, []string{"?1", "B5"}),
			[]string{
				`bath!A2: "TRUE" is not the number of an entry | leave what export wrote, or leave it empty for a new row`,
			},
		},
		{
			"share for an entry", one("bath", []string{"entry", "tank"}, []string{"=0.07/3", "B5"}),
			[]string{
				`bath!A2: "7 %" is not the number of an entry | leave what export wrote, or leave it empty for a new row`,
			},
		},
		{
			"division by zero", one("tank", []string{"tank", "working volume"}, []string{"B5", "!#DIV/0!"}),
			[]string{
				`tank!B2: the cell shows the error #DIV/0! | mend its formula, or write the value itself`,
			},
		},
		{
			"not available", one("receipt", []string{"date", "product"}, []string{"!#N/A", "!#N/A"}),
			[]string{
				`receipt!A2: the cell shows the error #N/A | mend its formula, or write the value itself`,
				`receipt!B2: the cell shows the error #N/A | mend its formula, or write the value itself`,
			},
		},
		{
			"formula without a value", one("tank", []string{"tank", "working volume"}, []string{"B5", "<c><f>1+1</f></c>"}),
			[]string{
				`tank!B2: the formula has no value stored with it | open the workbook in a spreadsheet program and save it, or write the figure itself`,
			},
		},
		{
			"number that is none", one("tank", []string{"tank", "working volume"}, []string{"B5", "=abc"}),
			[]string{
				`tank!B2: is stored as a number but reads "abc" | write the cell again`,
			},
		},
		{
			"text that is not there", one("tank", []string{"tank"}, []string{`<c t="s"><v>99</v></c>`}),
			[]string{
				`tank!A2: points to text "99", which the workbook does not hold | write the cell again`,
			},
		},
		{
			"merged cells", []xmlSheet{{name: "bath", rows: [][]string{{"tank", "ingredient"}, {"B5", "x"}, {"", "y"}}, tail: `<mergeCells><mergeCell ref="A2:A3"/><mergeCell ref="C2:D2"/><mergeCell ref="F9:G9"/><mergeCell ref="A5:B5"/></mergeCells>`}},
			[]string{
				`bath!A2:A3: the cells are merged | part them, and fill each`,
			},
		},
		{
			"merged header", []xmlSheet{{name: "bath", rows: [][]string{{"tank"}}, tail: `<mergeCells><mergeCell ref="A1:B1"/></mergeCells>`}},
			[]string{
				`bath!A1:B1: the cells are merged | part them, and fill each`,
			},
		},
		{
			"entry twice over two sheets", []xmlSheet{{name: "bath", rows: [][]string{{"entry", "tank"}, {"=7", "B5"}}}, {name: "tank", rows: [][]string{{"entry", "tank"}, {"7", "B5"}}}},
			[]string{
				`tank!A2: corrects entry 7, and so does bath!A2 | keep one of the two rows; leave the entry of a new row empty`,
			},
		},
		{
			"unit unknown", one("tank", []string{"tank", "working volume [barrel]"}, []string{"B5", "=3"}),
			[]string{
				`tank!B1: "barrel" is not a unit of "working volume" | write a unit such as L, mL, gal, ft³, m³`,
			},
		},
		{
			"all at once", []xmlSheet{
				{name: "receipt", rows: [][]string{{"date", "prodct", "containers"}, {"=46000", "acid", "?1"}, {"2026-03-31", "acid", "!#REF!"}}},
				{name: "taank", rows: [][]string{{"tank"}}},
				{name: "bath", rows: [][]string{{"tank", "concentration [gal]"}, {"=46000/1", "=3"}}},
			},
			[]string{
				`receipt!B1: "prodct" is no column of receipt | did you mean product?`,
				`receipt!A2: "46000" is a bare number, not a day | format the cell as a date, or write the day as 2026-03-31`,
				`receipt!C2: the cell holds the truth value TRUE | format the cell as text and write what "containers" takes, such as "4"`,
				`receipt!C3: the cell shows the error #REF! | mend its formula, or write the value itself`,
				`sheet "taank": is not named after a kind of record | did you mean tank? (a name that begins with "_" is left alone)`,
				`bath!B1: "gal" is not a unit of "concentration" | write a unit such as g/L, oz/gal, troy oz/gal, mg/L, µg/L, mL/L, % v/v, % w/w, mol/L, N (1/2 H2SO4)`,
				`bath!A2: the cell is a date, 2025-12-09 | format the cell as text and write what "tank" takes, such as "B5"`,
			},
		},
		{
			"broken sheet", []xmlSheet{{name: "bath", rows: [][]string{{"tank"}, {"B5"}, {"<c><v>1</v></d>"}}}},
			[]string{
				`sheet "bath": is damaged (it ends in the middle) | open it in a spreadsheet program and save it again as .xlsx`,
			},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := book(t, false, tt.sheets...)
			rows, err := sheet.Load(path)
			assert.Nil(t, rows)
			assert.Equal(t, tt.want, saidOf(t, path, err))
		})
	}
}
