package sheet

import (
	"fmt"
	"io"
	"io/fs"
	"iter"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"bathwarden/chemicals"
	"bathwarden/chemicals/workbook"
)

const csvEnding = ".csv"

// What a shop's sheet may hold; beyond that it is some other file.
const (
	maxBytes = 1 << 30
	maxRows  = 2_000_000
	maxCells = 1000
)

// file reads one CSV file.
func (l *load) file(folder fs.FS, name string) {
	k := l.kind(name, name[:len(name)-len(csvEnding)], csvEnding)
	if k == nil {
		return
	}
	text, err := textOf(folder, name)
	if err != nil {
		l.faults = append(l.faults, err)
		return
	}
	p := place{name: name}
	comma := separator(text, k)
	if at := tooMany(text, comma); at > 0 {
		l.fault(p.row(at), fmt.Sprintf("holds more than %d rows", maxRows), "check that it is the right file; split it if it is")
		return
	}
	t := newTable(k, p)
	t.read(lines(text, comma, p))
	l.add(t)
}

// tooMany is the number of the line with which there are more rows than are
// read, counted before any is kept; 0 where there are not.
func tooMany(text string, comma byte) int {
	if lineEnds(text) < maxRows {
		return 0
	}
	rows := -1 // the header
	for l := range lines(text, comma, place{}) {
		if !l.blank() {
			rows++
		}
		if rows > maxRows {
			return l.number
		}
	}
	return 0
}

// textOf reads a file's text, whichever encoding of Unicode it is in.
func textOf(folder fs.FS, name string) (string, error) {
	in, err := folder.Open(name)
	if err != nil {
		return "", unreadable(name, err)
	}
	defer in.Close()
	var text strings.Builder
	if info, err := in.Stat(); err == nil {
		if info.Size() > maxBytes {
			return "", tooBig(name)
		}
		text.Grow(int(info.Size()) + 1)
	}
	decoder := unicode.BOMOverride(transform.Nop)
	n, err := io.Copy(&text, transform.NewReader(io.LimitReader(in, maxBytes+1), decoder))
	switch {
	case err != nil:
		return "", unreadable(name, err)
	case n > maxBytes:
		return "", tooBig(name)
	}
	return text.String(), sound(name, text.String())
}

func tooBig(name string) error {
	return &chemicals.Problem{Where: name, What: "is larger than 1 GiB", Mend: "check that it is the right file; split it if it is"}
}

// sound refuses what is no text in Unicode.
func sound(name, text string) error {
	const again = "open it in a spreadsheet program and save it as CSV UTF-8"
	at := strings.IndexByte(text, 0)
	if at < 0 {
		if utf8.ValidString(text) {
			return nil
		}
		at = invalid(text)
		return &chemicals.Problem{
			Where: place{name: name}.row(1 + lineEnds(text[:at])),
			What:  fmt.Sprintf("byte 0x%02X is not UTF-8", text[at]),
			Mend:  again,
		}
	}
	if strings.HasPrefix(text, "PK\x03\x04") {
		return &chemicals.Problem{Where: name, What: "is not text but a packed file, perhaps a workbook", Mend: "name a workbook .xlsx and load it by itself, or save it as CSV UTF-8"}
	}
	return &chemicals.Problem{Where: place{name: name}.row(1 + lineEnds(text[:at])), What: "holds a NUL byte, which no text does", Mend: again}
}

// invalid is the offset of the first byte that is not UTF-8.
func invalid(text string) int {
	for i, r := range text {
		if r == utf8.RuneError && !strings.HasPrefix(text[i:], string(utf8.RuneError)) {
			return i
		}
	}
	return len(text)
}

// lineEnds counts the line ends of any sort.
func lineEnds(text string) int {
	return strings.Count(text, "\n") + strings.Count(text, "\r") - strings.Count(text, "\r\n")
}

// separator finds what parts the cells: that with which one of the first rows
// names the most columns.
func separator(text string, k *chemicals.Kind) byte {
	best, most := byte(','), 0
	for _, comma := range []byte{',', ';', '\t'} {
		rows := 0
		for l := range lines(text, comma, place{}) {
			if known, _ := columnsNamed(k, l); known > most {
				best, most = comma, known
			}
			if rows++; rows == firstRows {
				break
			}
		}
	}
	return best
}

// lines runs over the rows of a CSV text. The cells of a row hold until the
// next.
func lines(text string, comma byte, p place) iter.Seq[line] {
	return func(yield func(line) bool) {
		s := &scanner{text: text, comma: comma, line: 1, place: p}
		for s.text != "" {
			if !yield(s.next()) {
				return
			}
		}
	}
}

// scanner takes a CSV text apart.
type scanner struct {
	text  string // what is left
	comma byte
	line  int // where it begins
	place place
	cells []cell
}

func (s *scanner) next() line {
	s.cells = s.cells[:0]
	l := line{number: s.line}
	for column := 1; ; column++ {
		c := cell{is: workbook.KindText, line: s.line, column: column}
		if strings.HasPrefix(s.text, `"`) {
			c.text = s.quoted(&l, c)
		} else {
			c.text = s.plain(&l, c)
		}
		if column <= maxCells {
			s.cells = append(s.cells, c.settled())
		}
		if s.endOfRow() {
			if column > maxCells {
				l.faults = []error{&chemicals.Problem{
					Where: s.place.row(l.number),
					What:  fmt.Sprintf("holds %d cells; at most %d are read", column, maxCells), Mend: "check that it is the right file",
				}}
			}
			l.cells = s.cells
			return l
		}
	}
}

func (s *scanner) fault(l *line, where, what, mend string) {
	if len(l.faults) > maxCells {
		return // it is no sheet, and that is told once the row ends
	}
	l.faults = append(l.faults, &chemicals.Problem{Where: where, What: what, Mend: mend})
}

// plain reads a cell without quotes.
func (s *scanner) plain(l *line, c cell) string {
	end := s.stop()
	text := s.text[:end]
	s.text = s.text[end:]
	switch {
	case strings.HasPrefix(strings.TrimSpace(text), `"`):
		s.fault(l, s.place.cell(c, ""), "blanks stand before the quote that begins the cell", "let the quote follow the separator")
	case strings.Contains(text, `"`):
		s.fault(l, s.place.cell(c, ""), "a quote stands in a cell that does not begin with one", `begin and end the cell with a quote and double those inside: "5"" pipe"`)
	}
	return text
}

// quoted reads a cell in quotes, over line ends.
func (s *scanner) quoted(l *line, c cell) string {
	end := 1
	for {
		n := strings.IndexByte(s.text[end:], '"')
		if n < 0 {
			s.fault(l, s.place.cell(c, ""), "a quote is opened and never closed", "close it at the end of the cell, and double the quotes inside")
			s.text = ""
			return ""
		}
		end += n
		if !strings.HasPrefix(s.text[end+1:], `"`) {
			break
		}
		end += 2
	}
	inside := s.text[1:end]
	s.line += lineEnds(inside)
	s.text = s.text[end+1:]
	if rest := s.stop(); rest > 0 {
		s.fault(l, s.place.cell(c, ""), "text follows a closing quote", `double the quotes inside the cell: "5"" pipe"`)
		s.text = s.text[rest:]
	}
	return strings.ReplaceAll(inside, `""`, `"`)
}

// stop is where the next separator or line end stands.
func (s *scanner) stop() int {
	for i := range len(s.text) {
		if b := s.text[i]; b == s.comma || b == '\n' || b == '\r' {
			return i
		}
	}
	return len(s.text)
}

// endOfRow steps over a separator or a line end.
func (s *scanner) endOfRow() bool {
	switch {
	case s.text == "":
		return true
	case s.text[0] == s.comma:
		s.text = s.text[1:]
		return false
	case strings.HasPrefix(s.text, "\r\n"):
		s.text = s.text[2:]
	default:
		s.text = s.text[1:]
	}
	s.line++
	return true
}
