package recordbook

import (
	"bufio"
	"bytes"
	"cmp"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"

	"bathwarden/chemicals"
)

// journalLine is an entry on a line of a journal: every column of the book, in
// JSON, by which a book can be made anew hash for hash.
type journalLine struct {
	No         int64           `json:"no"`
	Kind       string          `json:"kind"`
	Key        string          `json:"key"`
	OnDate     string          `json:"on_date"`
	Body       json.RawMessage `json:"body"` // null in a withdrawal
	Corrects   int64           `json:"corrects,omitempty"`
	Reason     string          `json:"reason"`
	RecordedAt string          `json:"recorded_at"`
	RecordedBy string          `json:"recorded_by"`
	PrevHash   string          `json:"prev_hash"`
	Hash       string          `json:"hash"`
}

const noBody = "null"

// journal gives the one line in which a journal writes a row.
func (r row) journal() []byte {
	line := strconv.AppendInt([]byte(`{"no":`), r.no, 10)
	line = appendColumn(line, "kind", r.kind)
	line = appendColumn(line, "key", r.key)
	line = appendColumn(line, "on_date", r.onDate)
	line = append(line, `,"body":`...)
	line = append(line, cmp.Or(r.body, noBody)...)
	if r.corrects != 0 {
		line = strconv.AppendInt(append(line, `,"corrects":`...), r.corrects, 10)
	}
	line = appendColumn(line, "reason", r.reason)
	line = appendColumn(line, "recorded_at", r.recordedAt)
	line = appendColumn(line, "recorded_by", r.recordedBy)
	line = appendColumn(line, "prev_hash", r.prevHash)
	line = appendColumn(line, "hash", r.hash)
	return append(line, "}\n"...)
}

func appendColumn(line []byte, name, text string) []byte {
	line = append(line, ',')
	line = appendQuoted(line, name)
	return appendQuoted(append(line, ':'), text)
}

// rowFrom reads a line that journal wrote, and no other.
func rowFrom(line []byte) (row, error) {
	if len(bytes.TrimSpace(line)) == 0 {
		return row{}, errors.New("it is empty")
	}
	var l journalLine
	if err := json.Unmarshal(line, &l); err != nil {
		return row{}, fmt.Errorf("it is not a line of a journal: %w", err)
	}
	body := string(l.Body)
	if body == noBody {
		body = ""
	}
	r := row{l.No, l.Kind, l.Key, l.OnDate, body, l.Corrects, l.Reason, l.RecordedAt, l.RecordedBy, l.PrevHash, l.Hash}
	if !bytes.Equal(r.journal(), line) {
		return row{}, errors.New("it is not written as a journal writes it: a column is missing, doubled, unknown or out of place")
	}
	return r, nil
}

// WriteJournal writes every entry of the book, one to a line.
func (b *Book) WriteJournal(w io.Writer) error {
	out := bufio.NewWriter(w)
	err := b.reading(func(tx *sql.Tx) error {
		return each(tx, 1, func(r row) error {
			_, err := out.Write(r.journal())
			return err
		})
	})
	if err != nil {
		return err
	}
	return out.Flush()
}

// LoadJournal adds to the book the entries of a journal that it does not have
// yet, hash for hash, and gives their number. What the book has must be the
// journal's beginning, or the journal the book's. Nothing is written if a line
// has a fault.
func (b *Book) LoadJournal(r io.Reader) (added int, err error) {
	err = b.writing(func(tx *sql.Tx) error {
		l, err := newLoader(tx)
		if err != nil {
			return err
		}
		defer l.into.Close()
		if err := l.all(bufio.NewReader(r)); err != nil {
			return err
		}
		added = l.added
		return errors.Join(l.faults...)
	})
	if err != nil {
		return 0, err
	}
	return added, nil
}

// loader takes the lines of a journal.
type loader struct {
	chain
	tx     *sql.Tx
	into   *sql.Stmt
	stands chemicals.LastEntry // of the book
	number int                 // of the line
	added  int
	faults []error
}

func newLoader(tx *sql.Tx) (*loader, error) {
	stands, err := lastRow(tx)
	if err != nil {
		return nil, err
	}
	into, err := prepareInsert(tx)
	if err != nil {
		return nil, err
	}
	return &loader{tx: tx, into: into, stands: stands}, nil
}

func (l *loader) all(r *bufio.Reader) error {
	const mostFaults = 20
	for {
		line, err := r.ReadBytes('\n')
		if errors.Is(err, io.EOF) && len(line) == 0 {
			return nil
		}
		l.number++
		switch {
		case errors.Is(err, io.EOF):
			l.fault("the line is cut off", "take the journal from where it is whole")
			return nil
		case err != nil:
			return &chemicals.Problem{Where: l.place(), What: err.Error(), Mend: "check the file"}
		}
		if err := l.line(line); err != nil {
			return err
		}
		if len(l.faults) == mostFaults {
			l.number++
			l.fault("the lines from here on were not looked at", "mend the others first")
			return nil
		}
	}
}

func (l *loader) place() string { return fmt.Sprintf("line %d", l.number) }

func (l *loader) fault(what, mend string) {
	l.faults = append(l.faults, &chemicals.Problem{Where: l.place(), What: what, Mend: mend})
}

const takeJournal = "take the journal as it was written, or an earlier one"

// line takes one line; the error is not the journal's fault.
func (l *loader) line(line []byte) error {
	r, err := rowFrom(line)
	if err != nil {
		l.fault(err.Error(), takeJournal)
		return nil
	}
	if wrong := l.next(r); wrong != nil {
		l.fault(wrong.Error(), takeJournal)
		return nil
	}
	if r.no <= l.stands.Entry {
		return l.same(r)
	}
	if len(l.faults) > 0 {
		return nil
	}
	if wrong, err := l.unfit(r); wrong != "" || err != nil {
		l.fault(placeOf(r.no)+": "+wrong, takeJournal)
		return err
	}
	l.added++
	return r.insert(l.into)
}

// same checks that the book has the same entry.
func (l *loader) same(r row) error {
	var hash string
	if err := l.tx.QueryRow("SELECT hash FROM entries WHERE no = $1", r.no).Scan(&hash); err != nil {
		return err
	}
	if hash != r.hash && len(l.faults) == 0 {
		l.fault(placeOf(r.no)+": the book has another", "the journal is of another book; load it into a new one")
	}
	return nil
}

// unfit says why the entry that a row corrects cannot be; empty if it can.
func (l *loader) unfit(r row) (string, error) {
	if r.corrects == 0 {
		return "", nil
	}
	e, err := find(l.tx, r.corrects)
	switch {
	case err != nil:
		return "", err
	case e.Kind.Name != r.kind:
		return fmt.Sprintf("it corrects entry %d, which is of kind %s", r.corrects, e.Kind.Name), nil
	case e.CorrectedBy != 0:
		return fmt.Sprintf("it corrects entry %d, which entry %d corrected already", r.corrects, e.CorrectedBy), nil
	case e.Body == nil:
		return fmt.Sprintf("it corrects entry %d, which is a withdrawal", r.corrects), nil
	}
	return "", nil
}
