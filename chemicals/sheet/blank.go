package sheet

import (
	"io"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/workbook"
)

// helpName is that of the sheet which explains the others; loading leaves it
// alone.
const helpName = "_help"

// BlankFolder writes a CSV file with nothing but its header for each kind, and
// one that explains their columns. New rows bear no entry number, so there is no
// column for it.
func BlankFolder(dir string) error {
	files := []csvFile{{name: helpName + csvEnding, rows: helpRows()}}
	for _, k := range chemicals.Kinds() {
		files = append(files, csvFile{name: k.Name + csvEnding, rows: [][]string{columnNames(k)}})
	}
	return writeFolder(dir, files)
}

// BlankWorkbook is BlankFolder as a workbook.
func BlankWorkbook(w io.Writer, props workbook.Props) error {
	book, err := workbook.New(props)
	if err != nil {
		return err
	}
	defer book.Close()
	rows := helpRows()
	help, err := headed(book, helpName, rows)
	if err != nil {
		return err
	}
	for _, row := range rows[1:] {
		var cells []workbook.Value
		for _, text := range row {
			cells = append(cells, workbook.Text(text).As(workbook.Wrap))
		}
		if err := help.Row(cells...); err != nil {
			return err
		}
	}
	for _, k := range chemicals.Kinds() {
		if _, err := headed(book, sheetName(k), [][]string{columnNames(k)}); err != nil {
			return err
		}
	}
	return book.Write(w)
}

// helpRows explain each kind and its columns, below a header.
func helpRows() [][]string {
	rows := [][]string{{"kind", "column", "needed", "what it is", "takes", "example"}}
	for _, k := range chemicals.Kinds() {
		rows = append(rows, []string{k.Name, "", "", k.Help, "", ""})
		for j := range k.Columns {
			c := &k.Columns[j]
			rows = append(rows, []string{k.Name, c.Name, needed(c), c.Help, taken(k, c), c.Example})
		}
	}
	return rows
}

func needed(c *chemicals.Column) string {
	switch {
	case c.Key:
		return "names the row"
	case c.Must:
		return "yes"
	}
	return ""
}

func taken(k *chemicals.Kind, c *chemicals.Column) string {
	switch takenBy(k, c) {
	case yesNo, otherForm:
		if len(c.Words) == 0 {
			return "as in the example"
		}
		return chemicals.Words(c.Words)
	case figures:
		return "a number"
	case days:
		return "a day: year-month-day"
	case measures:
		return "a number with a unit, in the cell or as " + titled(c.Name, unitWords(k, c)[0]) + " in the header: " + strings.Join(unitWords(k, c), ", ")
	}
	if c.Of != "" {
		return "the name of a " + c.Of
	}
	return "words"
}
