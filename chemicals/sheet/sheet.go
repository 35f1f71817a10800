// Package sheet carries rows of the book's kinds in and out of CSV files and
// workbooks.
//
// A folder of CSV files, or a workbook, holds one file or sheet for each kind
// of record, named after it; names that begin with "_" are left alone. The
// first row names columns by their words, in any order, with a unit in brackets
// where one holds for the whole column: "working volume [gal]". A column that
// is not there changes nothing, an empty cell clears. A cell that a short row
// lacks counts as empty, since spreadsheet programs leave out trailing
// separators. All faults are reported at once, each with its place.
//
// What is written can be read back. In CSV the digits stay as typed; a number
// cell of a workbook shows them, but does not keep trailing zeros. Text that
// begins with = + - or @ (behind any apostrophes) is written to CSV with one
// apostrophe more, so that no spreadsheet program takes it for a formula, and
// reading takes one away.
//
// By: RFC 4180 for CSV, here also with semicolons or tabs, any line ends, and
// UTF-16 with its mark.
//
// Not covered: whether a value is one that its column takes, and what becomes
// of a row in the book; the record book tells that, by each cell's place.
package sheet

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"bathwarden/chemicals"
)

// Load reads a folder of CSV files, one CSV file, or one workbook. Its error
// joins all faults, each a *chemicals.Problem with its place; no row is given
// where there is one.
func Load(path string) ([]chemicals.Row, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &chemicals.Problem{Where: path, What: "there is no such file or folder", Mend: "check the path"}
	case err != nil:
		return nil, unreadable(path, err)
	case info.IsDir():
		return loadFolder(os.DirFS(path), path)
	}
	l := newLoad()
	switch strings.ToLower(filepath.Ext(path)) {
	case csvEnding:
		l.file(os.DirFS(filepath.Dir(path)), filepath.Base(path))
	case ".xlsx":
		l.workbook(path)
	default:
		l.fault(path, "is neither a folder of CSV files nor an .xlsx workbook", "open it in a spreadsheet program and save it as .xlsx")
	}
	return l.result()
}

// LoadFS reads the CSV files in the root of a file system.
func LoadFS(folder fs.FS) ([]chemicals.Row, error) { return loadFolder(folder, "folder") }

func loadFolder(folder fs.FS, where string) ([]chemicals.Row, error) {
	entries, err := fs.ReadDir(folder, ".")
	if err != nil {
		return nil, unreadable(where, err)
	}
	l := newLoad()
	found, books := false, []string(nil)
	for _, entry := range entries {
		switch name := entry.Name(); {
		case entry.IsDir() || leftAlone(name):
		case strings.EqualFold(filepath.Ext(name), csvEnding):
			found = true
			l.file(folder, name)
		case strings.EqualFold(filepath.Ext(name), ".xlsx"):
			books = append(books, name)
		}
	}
	switch {
	case found:
	case len(books) > 0:
		l.fault(where, "holds no CSV file but the workbook "+strings.Join(books, ", "), "load the workbook itself")
	default:
		l.fault(where, "holds no CSV file of any kind", "name the files after the kinds: "+strings.Join(fileNames(), ", "))
	}
	return l.result()
}

// leftAlone holds for the names that loading passes over: those that begin
// with "_", and the hidden ones that programs leave behind.
func leftAlone(name string) bool { return strings.HasPrefix(name, "_") || strings.HasPrefix(name, ".") }

// load gathers the rows and faults of several files or sheets.
type load struct {
	rows    []chemicals.Row
	faults  []error
	holders map[*chemicals.Kind]string // the file or sheet that holds a kind
	entries map[int64]string           // where a row corrects an entry
}

func newLoad() *load {
	return &load{holders: map[*chemicals.Kind]string{}, entries: map[int64]string{}}
}

func (l *load) fault(where, what, mend string) {
	l.faults = append(l.faults, &chemicals.Problem{Where: where, What: what, Mend: mend})
}

func (l *load) result() ([]chemicals.Row, error) {
	if len(l.faults) > 0 {
		return nil, errors.Join(l.faults...)
	}
	return l.rows, nil
}

// kind finds what a file or sheet holds by its name, which may have an ending;
// nil after a fault.
func (l *load) kind(where, name, ending string) *chemicals.Kind {
	k, ok := kindNamed(name)
	if !ok {
		l.fault(where, "is not named after a kind of record", unknownKind(name, ending))
		return nil
	}
	if holder, taken := l.holders[k]; taken {
		l.fault(where, fmt.Sprintf("holds rows of %s, and so does %s", k.Name, holder), "put all rows into one of them")
		return nil
	}
	l.holders[k] = where
	return k
}

// add takes over what was read of one file or sheet.
func (l *load) add(t *table) {
	l.faults = append(l.faults, t.faults...)
	l.rows = append(l.rows, t.rows...)
	for _, row := range t.rows {
		if row.Entry == 0 {
			continue
		}
		if other, taken := l.entries[row.Entry]; taken {
			l.fault(row.Where, fmt.Sprintf("corrects entry %d, and so does %s", row.Entry, other), "keep one of the two rows; leave the entry of a new row empty")
			continue
		}
		l.entries[row.Entry] = row.Where
	}
}

func kindNamed(name string) (*chemicals.Kind, bool) {
	i := slices.IndexFunc(chemicals.Kinds(), func(k *chemicals.Kind) bool { return loose(k.Name) == loose(name) })
	if i < 0 {
		return nil, false
	}
	return chemicals.Kinds()[i], true
}

// loose is a name without what does not count in it.
func loose(name string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '-', '_', '\u00a0':
			return -1
		}
		return unicode.ToLower(r)
	}, name)
}

func unknownKind(name, ending string) string {
	const aside = ` (a name that begins with "_" is left alone)`
	var all []string
	for _, k := range chemicals.Kinds() {
		all = append(all, k.Name)
	}
	if near := chemicals.Closest(name, all); len(near) > 0 {
		return "did you mean " + strings.Join(near, ending+" or ") + ending + "?" + aside
	}
	return "known are: " + strings.Join(all, ", ") + aside
}

func fileNames() []string {
	var all []string
	for _, k := range chemicals.Kinds() {
		all = append(all, k.Name+csvEnding)
	}
	return all
}

func unreadable(where string, err error) error {
	return barred(where, "read", err, "check the path and who may use it")
}

func unwritten(where string, err error) error {
	return barred(where, "written", err, "check the folder, its rights and the room on the disk")
}

// barred tells of a file that the system does not let us read or write.
func barred(where, done string, err error, mend string) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		err = path.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return &chemicals.Problem{Where: where, What: fmt.Sprintf("cannot be %s: %v", done, err), Mend: mend}
}
