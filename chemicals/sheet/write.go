package sheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"github.com/google/renameio/v2/maybe"

	"bathwarden/chemicals"
)

// Table is what becomes one file or sheet: records of one kind.
type Table struct {
	Kind    *chemicals.Kind
	Records []chemicals.Record
}

// written is a column on its way out.
type written struct {
	*chemicals.Column
	takes takes
	unit  string // that all its values share, and that goes into the header
}

// stated parts a quantity as typed into its number and its unit.
var stated = regexp.MustCompile(`^([+\-\x{2212}]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(\S.*)$`)

// columns are the table's columns in the order of the kind.
func (t Table) columns() []written {
	var all []written
	for i := range t.Kind.Columns {
		c := written{Column: &t.Kind.Columns[i]}
		c.takes = takenBy(t.Kind, c.Column)
		if c.takes == measures {
			c.unit = t.sharedUnit(c.Name)
		}
		all = append(all, c)
	}
	return all
}

// sharedUnit is the unit of all values of a column, empty where they differ.
func (t Table) sharedUnit(column string) string {
	shared := ""
	for _, r := range t.Records {
		text := r.Body[column]
		if text == "" {
			continue
		}
		parts := stated.FindStringSubmatch(text)
		if parts == nil || shared != "" && parts[2] != shared {
			return ""
		}
		shared = parts[2]
	}
	return shared
}

// cell is a record's text in the column, without the unit of the header.
func (c written) cell(r chemicals.Record) string {
	text := r.Body[c.Name]
	if c.unit == "" || text == "" {
		return text
	}
	return strings.TrimSpace(strings.TrimSuffix(text, c.unit))
}

// WriteFolder writes a CSV file for each table into a folder, which it makes
// where there is none. Files of the same name are replaced: whether they may be
// is the caller's to ask. All are written aside before the first is put in its
// place; where one cannot be written, nothing stays behind.
func WriteFolder(dir string, tables []Table) error {
	files := make([]csvFile, len(tables))
	for i, t := range tables {
		files[i] = csvFile{name: t.Kind.Name + csvEnding, rows: t.csvRows()}
	}
	return writeFolder(dir, files)
}

// titles are the header, and cells a record below it.
func titles(columns []written) []string {
	all := []string{chemicals.EntryColumn}
	for _, c := range columns {
		all = append(all, titled(c.Name, c.unit))
	}
	return all
}

func cells(r chemicals.Record, columns []written) []string {
	all := []string{""}
	if r.Entry != 0 {
		all[0] = strconv.FormatInt(r.Entry, 10)
	}
	for _, c := range columns {
		all = append(all, c.cell(r))
	}
	return all
}

// csvRows are the header and the records, with free text guarded.
func (t Table) csvRows() [][]string {
	columns := t.columns()
	rows := [][]string{titles(columns)}
	for _, r := range t.Records {
		row := cells(r, columns)
		for i, c := range columns {
			if c.takes == anyText {
				row[i+1] = guarded(row[i+1])
			}
		}
		rows = append(rows, row)
	}
	return rows
}

type csvFile struct {
	name string
	rows [][]string
}

func writeFolder(dir string, files []csvFile) error {
	made, err := makeFolder(dir)
	if err == nil {
		err = writeFiles(dir, files)
	}
	if err != nil {
		for _, folder := range made {
			_ = os.Remove(folder) // it stays where somebody else put something in
		}
	}
	return err
}

// makeFolder makes a folder and those above it that are missing, and gives the
// ones that it made, the innermost first.
func makeFolder(dir string) (made []string, err error) {
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		if _, err := os.Lstat(at); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		made = append(made, at)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return made, barred(dir, "made a folder", err, "check the path and who may use it")
	}
	return made, nil
}

func writeFiles(dir string, files []csvFile) error {
	aside, err := os.MkdirTemp(dir, ".writing-")
	if err != nil {
		return unwritten(dir, err)
	}
	defer os.RemoveAll(aside)
	for _, f := range files {
		data, err := encoded(f.rows)
		if err == nil {
			err = maybe.WriteFile(filepath.Join(aside, f.name), data, 0o644)
		}
		if err != nil {
			return unwritten(filepath.Join(dir, f.name), err)
		}
	}
	var added []string
	for _, f := range files {
		path := filepath.Join(dir, f.name)
		_, absent := os.Lstat(path)
		if err := os.Rename(filepath.Join(aside, f.name), path); err != nil {
			for _, one := range added {
				_ = os.Remove(one)
			}
			return unwritten(path, err)
		}
		if absent != nil {
			added = append(added, path)
		}
	}
	return nil
}

// encoded is CSV as spreadsheet programs of every country take it: with the
// mark of UTF-8, without which they garble µ and °.
func encoded(rows [][]string) ([]byte, error) {
	var out bytes.Buffer
	out.WriteString("\ufeff")
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	err := w.WriteAll(rows)
	return out.Bytes(), err
}
