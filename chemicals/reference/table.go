package reference

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
)

const folder = "data"

// fault is one thing wrong in one line of a table.
type fault struct {
	file       string
	line       int
	what, mend string
}

func (f *fault) Error() string {
	if f.line == 0 {
		return fmt.Sprintf("%s: %s; %s", f.file, f.what, f.mend)
	}
	return fmt.Sprintf("%s line %d: %s; %s", f.file, f.line, f.what, f.mend)
}

// loader reads the tables into a Set and gathers the faults of all of them.
type loader struct {
	set     *Set
	files   map[string][]byte // by name, "data/oels.csv"
	read    map[string]bool
	sources map[string]*sourceRow
	faults  []*fault
	first   map[string]int // line of the first row with a key
	byID    map[string]*Substance
	groups  map[string]bool
}

// table reads one file of the folder. The header must be the given columns;
// those marked * are together the row's key, which must not come twice.
func (l *loader) table(name string, columns ...string) []row {
	file := path.Join(folder, name+".csv")
	l.read[file] = true
	data, ok := l.files[file]
	if !ok {
		l.fault(&fault{file: file, what: "the table is missing", mend: "put it back"})
		return nil
	}
	head := &header{file: file, index: make(map[string]int, len(columns))}
	for i, column := range columns {
		bare := strings.TrimPrefix(column, "*")
		head.index[bare] = i
		head.columns = append(head.columns, bare)
		if bare != column {
			head.key = append(head.key, bare)
		}
	}
	return l.rows(head, csv.NewReader(strings.NewReader(string(data))))
}

func (l *loader) rows(head *header, in *csv.Reader) []row {
	in.FieldsPerRecord = -1 // counted below, so that one short row does not hide the next
	var rows []row
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			return rows
		}
		if bad := new(csv.ParseError); errors.As(err, &bad) {
			l.fault(&fault{head.file, bad.Line, bad.Err.Error(), "put the cell in quotes and double the quotes inside"})
			return rows
		}
		line, _ := in.FieldPos(0)
		r := row{loader: l, head: head, line: line, cells: cells}
		switch {
		case line == 1:
			if !slices.Equal(cells, head.columns) {
				r.fault(fmt.Sprintf("the header is %q", strings.Join(cells, ",")), fmt.Sprintf("write %q", strings.Join(head.columns, ",")))
				return nil
			}
		case len(cells) != len(head.columns):
			r.fault(fmt.Sprintf("the row has %d cells", len(cells)), fmt.Sprintf("the table has %d columns", len(head.columns)))
		default:
			r.once(r.texts(head.key)...)
			rows = append(rows, r)
		}
	}
}

func (l *loader) fault(f *fault) { l.faults = append(l.faults, f) }

// strangers names the files of the folder that no table is read from.
func (l *loader) strangers() {
	for file := range l.files {
		if !l.read[file] {
			l.fault(&fault{file: file, what: "no table has this name", mend: "rename it or take it out"})
		}
	}
}

func readFiles(fsys fs.FS) (map[string][]byte, error) {
	names, err := fs.Glob(fsys, folder+"/*")
	if err != nil {
		return nil, err
	}
	files := make(map[string][]byte, len(names))
	for _, name := range names {
		if files[name], err = fs.ReadFile(fsys, name); err != nil {
			return nil, err
		}
	}
	return files, nil
}

type header struct {
	file    string
	columns []string
	key     []string
	index   map[string]int
}

// row is one line of a table. Its readers record a fault and return the zero
// value where a cell does not hold what the column wants.
type row struct {
	loader *loader
	head   *header
	line   int
	cells  []string
}

func (r row) fault(what, mend string) { r.loader.fault(&fault{r.head.file, r.line, what, mend}) }

// text is the cell as it stands. A column that the table was not read with is
// a mistake in this package.
func (r row) text(column string) string {
	i, ok := r.head.index[column]
	if !ok {
		panic("reference: " + r.head.file + " has no column " + column)
	}
	return r.cells[i]
}

func (r row) has(column string) bool {
	_, ok := r.head.index[column]
	return ok
}

func (r row) texts(columns []string) []string {
	all := make([]string, len(columns))
	for i, column := range columns {
		all[i] = r.text(column)
	}
	return all
}

// must is a cell that may not be empty.
func (r row) must(column string) string {
	text := r.text(column)
	if text == "" {
		r.fault(column+" is empty", "fill it in")
	}
	return text
}

// list is a cell of several words parted by ';'.
func (r row) list(column string) []string {
	if r.text(column) == "" {
		return nil
	}
	return strings.Split(r.text(column), ";")
}

func (r row) yes(column string) bool {
	return word(r, column, "", "yes") == "yes"
}

// once refuses a key that an earlier row of the table has.
func (r row) once(key ...string) {
	if len(key) == 0 {
		return
	}
	known := r.head.file + "\x00" + strings.Join(key, "\x00")
	if line, ok := r.loader.first[known]; ok {
		words := slices.DeleteFunc(slices.Clone(key), func(word string) bool { return word == "" })
		r.fault(fmt.Sprintf("%q is already in line %d", strings.Join(words, ", "), line), "take one of the two out")
		return
	}
	r.loader.first[known] = r.line
}

// word reads a cell that holds one of a closed list of words.
func word[W ~string](r row, column string, words ...W) W {
	text := W(r.text(column))
	if slices.Contains(words, text) {
		return text
	}
	var known []string
	for _, w := range words {
		if w != "" {
			known = append(known, string(w))
		}
	}
	r.fault(fmt.Sprintf("%s %q is not known", column, text), "write one of: "+strings.Join(known, ", "))
	return ""
}

// stated reads a quantity with its unit; an empty cell states nothing.
func stated[Q quantity.Quantity[Q]](r row, column string) quantity.Stated[Q] {
	var q quantity.Stated[Q]
	err := q.UnmarshalText([]byte(r.text(column)))
	if refused := new(quantity.Refusal); errors.As(err, &refused) {
		r.fault(column+" "+refused.What, refused.Mend)
	}
	return q
}

func mustState[Q quantity.Quantity[Q]](r row, column string) quantity.Stated[Q] {
	r.must(column)
	return stated[Q](r, column)
}

// Sourced says from where a value of the tables is known.
type Sourced struct {
	Ref       source.Ref
	ConfirmIn source.Ref // where it should be read again; not Known if nowhere better is known
	Note      string
}

func (r row) sourced() Sourced {
	known := Sourced{Ref: r.ref("source")}
	if r.has("confirm in") && r.text("confirm in") != "" {
		known.ConfirmIn = r.ref("confirm in")
	}
	if r.has("note") {
		known.Note = r.text("note")
	}
	return known
}

// ref looks a key of the table of sources up.
func (r row) ref(column string) source.Ref {
	key := r.text(column)
	if key == "" {
		r.fault(column+" is empty", "name a key of data/sources.csv")
		return source.Ref{}
	}
	found, ok := r.loader.sources[key]
	if !ok {
		r.fault(fmt.Sprintf("%s %q is not a key of data/sources.csv", column, key), "add it there or mend the key")
		return source.Ref{}
	}
	found.used = true
	return found.ref
}
