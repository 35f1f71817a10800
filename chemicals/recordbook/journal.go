package recordbook

import (
	"bufio"
	"bytes"
	"cmp"
	"database/sql"
	"encoding/json"
	"errors"
	"io"
	"strconv"
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
	switch {
	case len(bytes.TrimSpace(line)) == 0:
		return row{}, errors.New("it is empty")
	case bytes.HasPrefix(line, []byte("\ufeff")):
		return row{}, errors.New("it begins with a byte order mark, which a journal does not have")
	}
	var l journalLine
	if err := json.Unmarshal(line, &l); err != nil {
		return row{}, errors.New("it is not a line of a journal: " + jsonFault(err))
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
			if _, err := out.Write(r.journal()); err != nil {
				return passed{err}
			}
			return nil
		})
	})
	if err != nil {
		return err
	}
	return out.Flush()
}
