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
	titles := []string{chemicals.EntryColumn}
	for _, c := range columns {
		titles = append(titles, c.title())
	}
	s, err := headed(book, strings.ReplaceAll(t.Kind.Name, "-", " "), titles, len(t.Records))
	if err != nil {
		return err
	}
	for _, r := range t.Records {
		row := make([]workbook.Value, len(titles))
		if r.Entry != 0 {
			row[0] = workbook.Number(float64(r.Entry)).Decimals(0)
		}
		for i, c := range columns {
			text := c.cell(r)
			if !writable(text) {
				return unwritable(r, c.Name, text)
			}
			row[i+1] = c.value(text)
		}
		if err := s.Row(row...); err != nil {
			return err
		}
	}
	return nil
}

// headed begins a sheet with a header row that stays in sight and is printed on
// every page.
func headed(book *workbook.Book, name string, titles []string, rows int) (*workbook.Sheet, error) {
	s, err := book.Sheet(name)
	if err != nil {
		return nil, err
	}
	widths := make([]float64, len(titles))
	head := make([]workbook.Value, len(titles))
	for i, title := range titles {
		widths[i] = float64(max(10, utf8.RuneCountInString(title)+2))
		head[i] = workbook.Text(title).As(workbook.Head)
	}
	for _, err := range []error{s.Widths(widths...), s.Freeze(1, 0), s.Repeat(1, 1), s.Extent(len(titles), rows+1)} {
		if err != nil {
			return nil, err
		}
	}
	return s, s.Row(head...)
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
