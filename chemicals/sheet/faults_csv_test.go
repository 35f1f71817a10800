package sheet_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals"
	"bathwarden/chemicals/sheet"
)

// saidOf is said, with the list of all kinds as KINDS and a path as PATH.
func saidOf(t *testing.T, path string, err error) []string {
	var kinds []string
	for _, k := range chemicals.Kinds() {
		kinds = append(kinds, k.Name)
	}
	all := said(t, err)
	for i := range all {
		all[i] = strings.NewReplacer(strings.Join(kinds, ", "), "KINDS", strings.Join(kinds, ".csv, ")+".csv", "FILES", path, "PATH").Replace(all[i])
	}
	return all
}

func TestFaultsOfCSV(t *testing.T) {
	tests := []struct {
		name, file, text string
		want             []string
	}{
		{
			"misspelt kind", "bathh.csv", "tank\n",
			[]string{
				`bathh.csv: is not named after a kind of record | did you mean bath.csv? (a name that begins with "_" is left alone)`,
			},
		},
		{
			"plural kind", "tanks.csv", "tank\n",
			[]string{
				`tanks.csv: is not named after a kind of record | did you mean tank.csv? (a name that begins with "_" is left alone)`,
			},
		},
		{
			"unknown kind", "ledger.csv", "a\n",
			[]string{
				`ledger.csv: is not named after a kind of record | known are: KINDS (a name that begins with "_" is left alone)`,
			},
		},
		{
			"empty file", "bath.csv", "",
			[]string{
				`bath.csv line 1: there is no header | write the columns above the rows: tank, ingredient, concentration, leaves, from, until`,
			},
		},
		{
			"blank file", "bath.csv", "\ufeff\r\n , \r\n",
			[]string{
				`bath.csv line 1: there is no header | write the columns above the rows: tank, ingredient, concentration, leaves, from, until`,
			},
		},
		{
			"no header", "bath.csv", "B5,nickel sulfate,350 g/L\nB5,boric acid,40 g/L\n",
			[]string{
				`bath.csv line 1: the first row names no column of bath | write the columns above the rows: tank, ingredient, concentration, leaves, from, until`,
			},
		},
		{
			"title above the header", "bath.csv", "Baths of line 1,,\n,,\ntank,ingredient,concentration\nB5,nickel sulfate,350 g/L\n",
			[]string{
				`bath.csv line 1: the first row names no column of bath | delete the rows above the header, which seems to be bath.csv line 3`,
			},
		},
		{
			"title above, too far down", "bath.csv", "Baths" + strings.Repeat("\n.", 10) + "\ntank,ingredient\n",
			[]string{
				`bath.csv line 1: the first row names no column of bath | write the columns above the rows: tank, ingredient, concentration, leaves, from, until`,
			},
		},
		{
			"misspelt column", "bath.csv", "tank,ingredeint\nB5,x\n",
			[]string{
				`bath.csv line 1, column 2: "ingredeint" is no column of bath | did you mean ingredient?`,
			},
		},
		{
			"unknown column", "bath.csv", "tank,colour\nB5,x\n",
			[]string{
				`bath.csv line 1, column 2: "colour" is no column of bath | its columns are: entry, tank, ingredient, concentration, leaves, from, until`,
			},
		},
		{
			"unit without brackets", "tank.csv", "tank,working volume gal\nB5,3\n",
			[]string{
				`tank.csv line 1, column 2: "working volume gal" is no column of tank | set the unit in brackets: "working volume [gal]"`,
			},
		},
		{
			"one bracket", "tank.csv", "tank,working volume [gal\nB5,3\n",
			[]string{
				`tank.csv line 1, column 2: "working volume [gal" is no column of tank | set the unit in brackets: "working volume [gal]"`,
			},
		},
		{
			"unlike brackets", "tank.csv", "tank,working volume [gal)\nB5,3\n",
			[]string{
				`tank.csv line 1, column 2: "working volume [gal)" is no column of tank | set the unit in brackets: "working volume [gal]"`,
			},
		},
		{
			"column of another kind", "bath.csv", "tank,ingredient,pH\nB5,x,4\n",
			[]string{
				`bath.csv line 1, column 3: "pH" is no column of bath | its columns are: entry, tank, ingredient, concentration, leaves, from, until`,
			},
		},
		{
			"column twice", "bath.csv", "tank,ingredient,Tank\nB5,x,B6\n",
			[]string{
				`bath.csv line 1, column 3: "tank" already stands in column 1 | keep one of the two columns`,
			},
		},
		{
			"column twice in two units", "tank.csv", "tank,working volume [L],working volume [gal]\nB5,1,2\n",
			[]string{
				`tank.csv line 1, column 3: "working volume" already stands in column 2 | keep one of the two columns`,
			},
		},
		{
			"entry twice", "bath.csv", "entry,tank,Entry\n1,B5,2\n",
			[]string{
				`bath.csv line 1, column 3: "entry" already stands in column 1 | keep one of the two columns`,
			},
		},
		{
			"unknown unit", "tank.csv", "tank,working volume [barrels]\nB5,3\n",
			[]string{
				`tank.csv line 1, column 2: "barrels" is not a unit of "working volume" | write a unit such as L, mL, gal, ft³, m³`,
			},
		},
		{
			"unit of another quantity", "tank.csv", "tank,working volume [kg]\nB5,3\n",
			[]string{
				`tank.csv line 1, column 2: "kg" is not a unit of "working volume" | write a unit such as L, mL, gal, ft³, m³`,
			},
		},
		{
			"unit in the wrong case", "tank.csv", "tank,viscosity [CP]\nB5,3\n",
			[]string{
				`tank.csv line 1, column 2: "CP" is not a unit of "viscosity" | write a unit such as mPa·s, cP`,
			},
		},
		{
			"bare ppm", "bath.csv", "tank,concentration [ppm]\nB5,3\n",
			[]string{
				`bath.csv line 1, column 2: "ppm" is not a unit of "concentration" | write a unit such as g/L, oz/gal, troy oz/gal, mg/L, µg/L, mL/L, % v/v, % w/w, mol/L, N (1/2 H2SO4)`,
			},
		},
		{
			"percent of what", "bath.csv", "tank,concentration [%]\nB5,3\n",
			[]string{
				`bath.csv line 1, column 2: "%" is not a unit of "concentration" | write a unit such as g/L, oz/gal, troy oz/gal, mg/L, µg/L, mL/L, % v/v, % w/w, mol/L, N (1/2 H2SO4)`,
			},
		},
		{
			"equivalent not named", "bath.csv", "tank,concentration [N]\nB5,3\n",
			[]string{
				`bath.csv line 1, column 2: "N" is not a unit of "concentration" | write a unit such as g/L, oz/gal, troy oz/gal, mg/L, µg/L, mL/L, % v/v, % w/w, mol/L, N (1/2 H2SO4)`,
			},
		},
		{
			"empty brackets", "tank.csv", "tank,working volume [ ]\nB5,3\n",
			[]string{
				`tank.csv line 1, column 2: the brackets behind "working volume" hold no unit | write a unit such as L, mL, gal, ft³, m³`,
			},
		},
		{
			"two units", "tank.csv", "tank,working volume [gal] [L]\nB5,3\n",
			[]string{
				`tank.csv line 1, column 2: "gal] [L" is not a unit of "working volume" | write a unit such as L, mL, gal, ft³, m³`,
			},
		},
		{
			"money without currency", "receipt.csv", "date,cost [/L]\n2026-03-31,3\n",
			[]string{
				`receipt.csv line 1, column 2: "/L" is not a unit of "cost" | write a unit such as USD`,
			},
		},
		{
			"unit on a share", "tank.csv", "tank,cathode efficiency [g/L]\nB5,95\n",
			[]string{
				`tank.csv line 1, column 2: "g/L" is not a unit of "cathode efficiency" | write a unit such as %`,
			},
		},
		{
			"unit on pH", "tank.csv", "tank,pH [s.u.]\nB5,4\n",
			[]string{
				`tank.csv line 1, column 2: "pH" takes no unit, but its header has "s.u." | write the header as "pH"`,
			},
		},
		{
			"unit on a count", "stock.csv", "product,containers (pcs)\nacid,4\n",
			[]string{
				`stock.csv line 1, column 2: "containers" takes no unit, but its header has "pcs" | write the header as "containers"`,
			},
		},
		{
			"unit on a name", "bath.csv", "tank [L],ingredient\nB5,x\n",
			[]string{
				`bath.csv line 1, column 1: "tank" takes no unit, but its header has "L" | write the header as "tank"`,
			},
		},
		{
			"unit on a day", "receipt.csv", "date [d],product\n2026-03-31,x\n",
			[]string{
				`receipt.csv line 1, column 1: "date" takes no unit, but its header has "d" | write the header as "date"`,
			},
		},
		{
			"unit on a word", "tank.csv", "tank,purpose [-]\nB5,plate\n",
			[]string{
				`tank.csv line 1, column 2: "purpose" takes no unit, but its header has "-" | write the header as "purpose"`,
			},
		},
		{
			"unit on entry", "bath.csv", "entry [no],tank\n1,B5\n",
			[]string{
				`bath.csv line 1, column 1: "entry" takes no unit, but its header has "no" | write the header as "entry"`,
			},
		},
		{
			"value under no header", "bath.csv", "tank,,ingredient\nB5,,x\nB5,y,x\nB5,z,x\n",
			[]string{
				`bath.csv line 3, column 2: "y" stands under no header | write a header above it, or delete it`,
			},
		},
		{
			"row longer than the header", "bath.csv", "tank,ingredient\nB5,1,2-butynediol\nB6,x,\nB7,a,b,c\n",
			[]string{
				`bath.csv line 2, column 3: "2-butynediol" stands beyond the last column of the header | put a cell that holds the separator into quotes, or delete what is too much`,
				`bath.csv line 4, column 3: "b" stands beyond the last column of the header | put a cell that holds the separator into quotes, or delete what is too much`,
			},
		},
		{
			"row longer, in semicolons", "bath.csv", "tank;ingredient\nB5;1;2-butynediol\n",
			[]string{
				`bath.csv line 2, column 3: "2-butynediol" stands beyond the last column of the header | put a cell that holds the separator into quotes, or delete what is too much`,
			},
		},
		{
			"too many cells", "bath.csv", "tank\n" + strings.Repeat(",", 1000) + "\n",
			[]string{
				`bath.csv line 2: holds 1001 cells; at most 1000 are read | check that it is the right file`,
			},
		},
		{
			"entry no number", "bath.csv", "entry,tank\nx7,B5\n",
			[]string{
				`bath.csv line 2, entry: "x7" is not the number of an entry | leave what export wrote, or leave it empty for a new row`,
			},
		},
		{
			"entry zero", "bath.csv", "entry,tank\n0,B5\n",
			[]string{
				`bath.csv line 2, entry: "0" is not the number of an entry | leave what export wrote, or leave it empty for a new row`,
			},
		},
		{
			"entry below zero", "bath.csv", "entry,tank\n-3,B5\n",
			[]string{
				`bath.csv line 2, entry: "-3" is not the number of an entry | leave what export wrote, or leave it empty for a new row`,
			},
		},
		{
			"entry with decimals", "bath.csv", "entry,tank\n7.0,B5\n",
			[]string{
				`bath.csv line 2, entry: "7.0" is not the number of an entry | leave what export wrote, or leave it empty for a new row`,
			},
		},
		{
			"entry too large", "bath.csv", "entry,tank\n99999999999999999999,B5\n",
			[]string{
				`bath.csv line 2, entry: "99999999999999999999" is not the number of an entry | leave what export wrote, or leave it empty for a new row`,
			},
		},
		{
			"one entry twice", "bath.csv", "entry,tank\n7,B5\n8,B5\n7,B6\n",
			[]string{
				`bath.csv line 4: corrects entry 7, and so does bath.csv line 2 | keep one of the two rows; leave the entry of a new row empty`,
			},
		},
		{
			"bare quote", "product.csv", "product,use\na,5\" pipe\nb,ok\n",
			[]string{
				`product.csv line 2, column 2: a quote stands in a cell that does not begin with one | begin and end the cell with a quote and double those inside: "5"" pipe"`,
			},
		},
		{
			"blank before the quote", "product.csv", "product,use\na, \"x\"\n",
			[]string{
				`product.csv line 2, column 2: blanks stand before the quote that begins the cell | let the quote follow the separator`,
			},
		},
		{
			"text behind a quote", "product.csv", "product,use\na,\"x\" y\n\"b\"c\"d\",e\n",
			[]string{
				`product.csv line 2, column 2: text follows a closing quote | double the quotes inside the cell: "5"" pipe"`,
				`product.csv line 3, column 1: text follows a closing quote | double the quotes inside the cell: "5"" pipe"`,
			},
		},
		{
			"quote never closed", "product.csv", "product,use\na,x\nb,\"open\nc,z\n",
			[]string{
				`product.csv line 3, column 2: a quote is opened and never closed | close it at the end of the cell, and double the quotes inside`,
			},
		},
		{
			"quote never closed in the header", "product.csv", "product,\"use\na,x\n",
			[]string{
				`product.csv line 1, column 2: a quote is opened and never closed | close it at the end of the cell, and double the quotes inside`,
			},
		},
		{
			"faults after a multi-line cell", "product.csv", "product,use,supplier\na,\"1\n2\r\n3\r4\",x\"y\nb,q\"\n",
			[]string{
				`product.csv line 5, column 3: a quote stands in a cell that does not begin with one | begin and end the cell with a quote and double those inside: "5"" pipe"`,
				`product.csv line 6, column 2: a quote stands in a cell that does not begin with one | begin and end the cell with a quote and double those inside: "5"" pipe"`,
			},
		},
		{
			"Windows-1252", "product.csv", "product,use\na,b\nac\xe9tone,x\n",
			[]string{
				`product.csv line 3: byte 0xE9 is not UTF-8 | open it in a spreadsheet program and save it as CSV UTF-8`,
			},
		},
		{
			"Windows-1252 with CR", "product.csv", "product\r\na\r\rb\xb0\r",
			[]string{
				`product.csv line 4: byte 0xB0 is not UTF-8 | open it in a spreadsheet program and save it as CSV UTF-8`,
			},
		},
		{
			"cut UTF-8", "product.csv", "product\na\xe2\x82",
			[]string{
				`product.csv line 2: byte 0xE2 is not UTF-8 | open it in a spreadsheet program and save it as CSV UTF-8`,
			},
		},
		{
			"NUL byte", "product.csv", "product\na\nb\x00\n",
			[]string{
				`product.csv line 3: holds a NUL byte, which no text does | open it in a spreadsheet program and save it as CSV UTF-8`,
			},
		},
		{
			"UTF-16 without its mark", "product.csv", "p\x00r\x00\n\x00",
			[]string{
				`product.csv line 1: holds a NUL byte, which no text does | open it in a spreadsheet program and save it as CSV UTF-8`,
			},
		},
		{
			"UTF-32", "product.csv", "\xff\xfe\x00\x00p\x00\x00\x00",
			[]string{
				`product.csv line 1: holds a NUL byte, which no text does | open it in a spreadsheet program and save it as CSV UTF-8`,
			},
		},
		{
			"workbook named .csv", "product.csv", "PK\x03\x04\x14\x00\x00",
			[]string{
				`product.csv: is not text but a packed file, perhaps a workbook | name a workbook .xlsx and load it by itself, or save it as CSV UTF-8`,
			},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows, err := sheet.LoadFS(folder(tt.file, tt.text))
			assert.Nil(t, rows)
			assert.Equal(t, tt.want, saidOf(t, "PATH", err))
		})
	}
}
