package recordbook

import (
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"time"

	"modernc.org/sqlite"

	"bathwarden/chemicals"
)

// Entry is one entry of the book as it was written.
type Entry struct {
	Number      int64
	Kind        *chemicals.Kind
	Key         string         // as it was compared, parts joined by tabs; empty for an event
	Body        chemicals.Body // nil: it withdraws the entry in Corrects
	Corrects    int64          // the entry it replaces, 0 for none
	CorrectedBy int64          // the entry that replaces or withdraws it, 0 for none
	Reason      string
	RecordedAt  time.Time
	RecordedBy  string
	Hash        string
}

// row is an entry in the text form in which it is kept and hashed.
type row struct {
	no         int64
	kind       string
	key        string
	onDate     string
	body       string
	corrects   int64
	reason     string
	recordedAt string
	recordedBy string
	prevHash   string
	hash       string
}

// hashForm is the mark of the text form below; another form gets another mark.
const hashForm = "record book entry, form 1\n"

// sum is the SHA-256 in hexadecimal of one line per column: its name, the
// length of its value in bytes, a colon, the value, a line feed; before them
// the mark of the form. An absent number is empty.
func (r row) sum() string {
	corrects := ""
	if r.corrects != 0 {
		corrects = strconv.FormatInt(r.corrects, 10)
	}
	text := []byte(hashForm)
	for _, c := range [...]struct{ name, value string }{
		{"no", strconv.FormatInt(r.no, 10)},
		{"kind", r.kind},
		{"key", r.key},
		{"on_date", r.onDate},
		{"body", r.body},
		{"corrects", corrects},
		{"reason", r.reason},
		{"recorded_at", r.recordedAt},
		{"recorded_by", r.recordedBy},
		{"prev_hash", r.prevHash},
	} {
		text = append(text, c.name...)
		text = append(text, ' ')
		text = strconv.AppendInt(text, int64(len(c.value)), 10)
		text = append(text, ':')
		text = append(text, c.value...)
		text = append(text, '\n')
	}
	digest := sha256.Sum256(text)
	return hex.EncodeToString(digest[:])
}

// rowColumns are in the order in which scan reads and insert writes them.
const rowColumns = "no, kind, key, on_date, body, corrects, reason, recorded_at, recorded_by, prev_hash, hash"

func scan(from interface{ Scan(...any) error }) (row, error) {
	var r row
	var corrects sql.NullInt64
	err := from.Scan(&r.no, &r.kind, &r.key, &r.onDate, &r.body, &corrects, &r.reason, &r.recordedAt, &r.recordedBy, &r.prevHash, &r.hash)
	r.corrects = corrects.Int64
	if err != nil && !errors.Is(err, sql.ErrNoRows) && !errors.As(err, new(*sqlite.Error)) {
		err = troubled(ErrDamaged, placeOf(r.no), "a column holds what no book writes there", takeCopy)
	}
	return r, err
}

func prepareInsert(tx *sql.Tx) (*sql.Stmt, error) {
	return tx.Prepare("INSERT INTO entries (" + rowColumns + ") VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)")
}

func (r row) insert(into *sql.Stmt) error {
	corrects := sql.NullInt64{Int64: r.corrects, Valid: r.corrects != 0}
	_, err := into.Exec(r.no, r.kind, r.key, r.onDate, r.body, corrects, r.reason, r.recordedAt, r.recordedBy, r.prevHash, r.hash)
	return err
}

// writeBody gives the one text of a body: a JSON object with its columns in
// the order of their names, without blanks; empty for no body.
func writeBody(body chemicals.Body) string {
	if body == nil {
		return ""
	}
	columns := make([]string, 0, len(body))
	for column := range body {
		columns = append(columns, column)
	}
	slices.Sort(columns)
	text := []byte{'{'}
	for i, column := range columns {
		if i > 0 {
			text = append(text, ',')
		}
		text = appendQuoted(text, column)
		text = append(text, ':')
		text = appendQuoted(text, body[column])
	}
	return string(append(text, '}'))
}

// appendQuoted writes a JSON string in one form for ever, which a library's
// encoder does not promise: only what must be escaped is.
func appendQuoted(to []byte, text string) []byte {
	to = append(to, '"')
	for i := range len(text) {
		switch c := text[i]; {
		case c == '"', c == '\\':
			to = append(to, '\\', c)
		case c == '\n':
			to = append(to, `\n`...)
		case c == '\t':
			to = append(to, `\t`...)
		case c < ' ':
			to = fmt.Appendf(to, `\u%04x`, c)
		default:
			to = append(to, c)
		}
	}
	return append(to, '"')
}

// readBody reads what writeBody wrote.
func readBody(k *chemicals.Kind, text string) (chemicals.Body, error) {
	if text == "" {
		return nil, nil
	}
	var body chemicals.Body
	if err := json.Unmarshal([]byte(text), &body); err != nil {
		return nil, errors.New("its body cannot be read: " + jsonFault(err))
	}
	if body == nil {
		return nil, errors.New("its body is no object")
	}
	known := 0
	for i := range k.Columns {
		if _, ok := body[k.Columns[i].Name]; ok {
			known++
		}
	}
	if known < len(body) {
		return nil, fmt.Errorf("its body has a column that %s does not have in this program", k.Name)
	}
	return body, nil
}

const clockForm = "2006-01-02T15:04:05Z"

// readable refuses a body with a value that its column cannot read: comparing
// it would panic. What the body lacks is no matter here.
func readable(number int64, k *chemicals.Kind, body chemicals.Body) error {
	_, err := k.Check(body)
	for _, problem := range problems(err) {
		if body[problem.Where] != "" {
			return unreadable(placeOf(number), fmt.Errorf("its %s cannot be read: %s", problem.Where, problem.What))
		}
	}
	return nil
}

// readClock reads the time at which an entry was recorded, and no other form.
func readClock(text string) (time.Time, error) {
	t, err := time.Parse(clockForm, text)
	if err != nil {
		return t, fmt.Errorf("%q is not a time in UTC such as %s", text, clockForm)
	}
	return t, nil
}

// entry reads a row that stands in the book; what it cannot read is a fault of
// the book.
func (r row) entry() (Entry, error) {
	where := placeOf(r.no)
	k, err := kindOf(where, r.kind)
	if err != nil {
		return Entry{}, err
	}
	body, err := readBody(k, r.body)
	if err != nil {
		return Entry{}, unreadable(where, err)
	}
	at, err := readClock(r.recordedAt)
	if err != nil {
		return Entry{}, unreadable(where, err)
	}
	return Entry{
		Number: r.no, Kind: k, Key: r.key, Body: body, Corrects: r.corrects,
		Reason: r.reason, RecordedAt: at, RecordedBy: r.recordedBy, Hash: r.hash,
	}, nil
}

func placeOf(number int64) string { return fmt.Sprintf("entry %d", number) }

func kindOf(where, name string) (*chemicals.Kind, error) {
	for _, k := range chemicals.Kinds() {
		if k.Name == name {
			return k, nil
		}
	}
	return nil, troubled(ErrNewer, where, fmt.Sprintf("it is of kind %q, which this program does not know", name), "use the newer version of the program that wrote it")
}

func unreadable(where string, err error) error {
	return troubled(ErrDamaged, where, err.Error(), "verify the book; if its chain holds, a newer version of the program wrote the entry: use that one")
}

// lastRow is the last entry's number and hash; 0 and empty for an empty book.
func lastRow(tx *sql.Tx) (chemicals.LastEntry, error) {
	var last chemicals.LastEntry
	err := tx.QueryRow("SELECT no, hash FROM entries ORDER BY no DESC LIMIT 1").Scan(&last.Entry, &last.Hash)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return last, err
}

// find reads one entry and what became of it.
func find(tx *sql.Tx, number int64) (Entry, error) {
	r, err := scan(tx.QueryRow("SELECT "+rowColumns+" FROM entries WHERE no = $1", number))
	if errors.Is(err, sql.ErrNoRows) {
		return Entry{}, noSuchEntry(tx, number)
	}
	if err != nil {
		return Entry{}, err
	}
	e, err := r.entry()
	if err == nil {
		err = readable(number, e.Kind, e.Body)
	}
	if err != nil {
		return Entry{}, err
	}
	err = tx.QueryRow("SELECT no FROM entries WHERE corrects = $1", number).Scan(&e.CorrectedBy)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return e, err
}

func noSuchEntry(tx *sql.Tx, number int64) error {
	last, err := lastRow(tx)
	if err != nil {
		return err
	}
	mend := "see the numbers in the history"
	switch {
	case last.Entry < number:
		mend = fmt.Sprintf("the last entry is %d", last.Entry)
	case number > 0:
		return lacking(number)
	}
	return &chemicals.Problem{What: fmt.Sprintf("the book has no entry %d", number), Mend: mend}
}

// lacking says that an entry before the last is not there.
func lacking(number int64) error {
	return troubled(ErrDamaged, placeOf(number), "the book lacks it and has later ones", takeCopy)
}

// Entry gives one entry.
func (b *Book) Entry(number int64) (Entry, error) {
	var e Entry
	err := b.reading(func(tx *sql.Tx) (err error) {
		e, err = find(tx, number)
		return err
	})
	return e, err
}

// each gives the rows from number from on, in order.
func each(tx *sql.Tx, from int64, do func(row) error) error {
	rows, err := tx.Query("SELECT "+rowColumns+" FROM entries WHERE no >= $1 ORDER BY no", from)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		r, err := scan(rows)
		if err != nil {
			return err
		}
		if err := do(r); err != nil {
			return err
		}
	}
	return rows.Err()
}
