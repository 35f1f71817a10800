package sheet

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"bathwarden/chemicals"
	"bathwarden/chemicals/workbook"
)

// WriteWorkbook writes a workbook with a sheet for each table: numbers and days
// as such where the whole column allows it, all else as text.
func WriteWorkbook(w io.Writer, tables []Table, props workbook.Props) error {
	book, err := workbook.New(props)
	if err != nil {
		return err
	}
	defer book.Close()
	for _, t := range tables {
		if err := t.sheet(book); err != nil {
			return err
		}
	}
	return book.Write(w)
}

func (t Table) sheet(book *workbook.Book) error {
	columns := t.columns()
	rows := [][]string{titles(columns)}
	for _, r := range t.Records {
		rows = append(rows, cells(r, columns))
	}
	s, err := headed(book, sheetName(t.Kind), rows)
	if err != nil {
		return err
	}
	for i, r := range t.Records {
		row := make([]workbook.Value, len(columns)+1)
		if r.Entry != 0 {
			row[0] = workbook.Number(float64(r.Entry)).Decimals(0)
		}
		for j, c := range columns {
			text := rows[i+1][j+1]
			if !writable(text) {
				return unwritable(r, c.Name, text)
			}
			row[j+1] = c.value(text)
		}
		if err := s.Row(row...); err != nil {
			return err
		}
	}
	return nil
}

// sheetName is that of a kind's sheet, as people write it.
func sheetName(k *chemicals.Kind) string { return strings.ReplaceAll(k.Name, "-", " ") }

// headed begins a sheet for such rows, and writes the first, which stays in
// sight and is printed on every page.
func headed(book *workbook.Book, name string, rows [][]string) (*workbook.Sheet, error) {
	s, err := book.Sheet(name)
	if err != nil {
		return nil, err
	}
	var head []workbook.Value
	for _, title := range rows[0] {
		head = append(head, workbook.Text(title).As(workbook.Head))
	}
	setup := workbook.Setup{Landscape: true, FitWidth: true}
	for _, err := range []error{s.Widths(widths(rows)...), s.Freeze(1, 0), s.Repeat(1, 1), s.Setup(setup), s.Extent(len(head), len(rows))} {
		if err != nil {
			return nil, err
		}
	}
	return s, s.Row(head...)
}

// widths give each column room for its texts, but not for the longest ones.
func widths(rows [][]string) []float64 {
	const least, most = 8, 48
	all := make([]float64, len(rows[0]))
	for _, row := range rows {
		for i, text := range row {
			all[i] = max(all[i], float64(min(max(utf8.RuneCountInString(text)+2, least), most)))
		}
	}
	return all
}

// value is a text as a cell, as a number or day where it stays what it is.
func (c written) value(text string) workbook.Value {
	switch {
	case text == "":
		return workbook.Value{}
	case c.takes == days && text >= firstDate:
		if day, err := chemicals.ParseDay(text); err == nil {
			at := day.Time()
			return workbook.Date(at.Year(), int(at.Month()), at.Day())
		}
	case c.takes == figures, c.takes == measures && c.unit != "":
		if v, decimals, ok := figure(text); ok {
			return workbook.Number(v).Decimals(decimals)
		}
	}
	v := workbook.Text(text)
	if strings.Contains(text, "\n") {
		v = v.As(workbook.Wrap)
	}
	return v
}

// firstDate is the first day on which spreadsheet programs agree.
const firstDate = "1900-03-01"

// figure reads a number that a cell can show digit for digit.
func figure(text string) (v float64, decimals int, ok bool) {
	digits := strings.TrimPrefix(text, "-")
	whole, parts, pointed := strings.Cut(digits, ".")
	const most = 15 // digits that a cell holds
	if strings.Trim(whole+parts, "0123456789") != "" || whole == "" || pointed && parts == "" ||
		len(whole+parts) > most || len(whole) > 1 && whole[0] == '0' {
		return 0, 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, len(parts), err == nil && (v != 0 || text == digits) // no cell holds -0
}

func unwritable(r chemicals.Record, column, text string) error {
	return &chemicals.Problem{
		Where: fmt.Sprintf("%s, entry %d, %s", r.Kind.Name, r.Entry, column),
		What:  quoted(text) + " holds a character that no workbook can hold",
		Mend:  "write CSV files instead, or correct the entry",
	}
}

// writable reports whether XML, and so a workbook, allows all characters.
func writable(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool {
		return r < ' ' && r != '\n' && r != '\t' || r == 0xFFFE || r == 0xFFFF || r == utf8.RuneError
	})
}
