package working

import (
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
)

// Row is one published value of a table that a formula package keeps beside
// itself.
type Row struct {
	Of     string // what it is a value of: "Ni"
	Figure string // which value: "molar mass"
	Value  string // as published, with its unit
	Ref    source.Ref
	Where  string // file and line
}

// Table is a file of published values in CSV that a formula package embeds.
type Table struct {
	Name string // of the file
	File string // its content
}

// Rows reads the table. Errors are joined *Fault, each with its line.
func (t Table) Rows() ([]Row, error) { return ReadTable(strings.NewReader(t.File), t.Name) }

// tableColumns are the columns of such a table, in order.
var tableColumns = []string{"of", "figure", "value", "document", "place", "year", "standing"}

// ReadTable reads a table of published values in CSV. name is the file's.
// Errors are joined *Fault, each with its line.
func ReadTable(r io.Reader, name string) ([]Row, error) {
	c := csv.NewReader(r)
	c.FieldsPerRecord = len(tableColumns)
	header, err := c.Read()
	if err != nil || !slices.Equal(header, tableColumns) {
		return nil, &Fault{Where: name + " line 1", What: "the columns are not those of a table of values", Mend: "write " + strings.Join(tableColumns, ",")}
	}
	var rows []Row
	var faults []error
	seen := map[string]bool{}
	for {
		record, err := c.Read()
		if errors.Is(err, io.EOF) {
			return rows, errors.Join(faults...)
		}
		if err != nil {
			return nil, errors.Join(append(faults, &Fault{Where: name, What: err.Error(), Mend: "give every line " + strconv.Itoa(len(tableColumns)) + " cells"})...)
		}
		line, _ := c.FieldPos(0)
		row, err := tableRow(record, name+" line "+strconv.Itoa(line))
		key := row.Of + "\n" + row.Figure + "\n" + row.Ref.String()
		if err == nil && seen[key] {
			err = &Fault{Where: row.Where, What: "the value stands twice", Mend: "keep one line for each value and source"}
		}
		seen[key] = true
		if err != nil {
			faults = append(faults, err)
		}
		rows = append(rows, row)
	}
}

func tableRow(record []string, where string) (Row, error) {
	row := Row{Of: record[0], Figure: record[1], Value: record[2], Where: where}
	row.Ref = source.Ref{Document: record[3], Place: record[4]}
	if row.Figure == "" || row.Value == "" {
		return row, &Fault{Where: where, What: "figure or value is empty", Mend: "write both"}
	}
	if record[5] != "" {
		year, err := strconv.Atoi(record[5])
		if err != nil {
			return row, &Fault{Where: where, What: "the year is " + quoted(record[5]), Mend: "write it in digits, or leave it empty"}
		}
		row.Ref.Year = year
	}
	standing, err := source.ParseStanding(record[6])
	if err != nil {
		return row, faultAt(where, err)
	}
	row.Ref.Standing = standing
	return row, nil
}

// PublishedQuantity reads the value of a row as a quantity.
func PublishedQuantity[Q quantity.Quantity[Q]](r Row) (Estimate[Q], error) {
	return published(r, parseQuantity[Q])
}

// PublishedShare reads the value of a row as a share, "10 %".
func PublishedShare(r Row) (Estimate[float64], error) { return published(r, parseShare) }

// PublishedNumber reads the value of a row as a number with a unit that has no
// type of its own, such as C/mol.
func PublishedNumber(r Row, unit string) (Estimate[float64], error) {
	return published(r, func(text string) (float64, string, error) {
		number, found := strings.CutSuffix(text, " "+unit)
		if !found {
			return 0, "", &Fault{What: quoted(text) + " is not in " + unit, Mend: "write the unit behind the number"}
		}
		v, _, err := parseNumber(number)
		return v, text, err
	})
}

func published[Q any](r Row, read func(string) (Q, string, error)) (Estimate[Q], error) {
	v, text, err := read(r.Value)
	if err != nil {
		return Absent[Q](r.Figure + " cannot be read"), faultAt(r.Where, err)
	}
	return Given(source.Value[Q]{Is: v, Origin: source.Published, Ref: r.Ref}, text), nil
}
