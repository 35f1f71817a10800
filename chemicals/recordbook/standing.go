package recordbook

import (
	"cmp"
	"database/sql"
	"errors"
	"slices"

	"bathwarden/chemicals"
)

// line is one line of the book as it stands: an entry that no later one
// corrects or withdraws.
type line struct {
	no    int64
	kind  *chemicals.Kind
	body  chemicals.Body
	key   string
	group string // rows of one group end one another: the key, in a list its first part

	given   bool   // a row of the load speaks of it
	where   string // that row's place
	claimed bool   // a row of the load names it by its number
	fresh   bool   // the load adds it, and not as a correction
}

func newLine(no int64, k *chemicals.Kind, body chemicals.Body) *line {
	l := &line{no: no, kind: k, body: body, key: k.Key(body)}
	l.group = l.key
	if k.Nature == chemicals.List {
		l.group = k.Group(body)
	}
	return l
}

const (
	earliest = ""           // before every day
	latest   = "9999-12-31" // after every day that a column takes
	allKnown = int64(1<<63 - 1)
)

const selectStanding = `SELECT e.no, e.body FROM entries e
	WHERE e.kind = $1 AND e.on_date >= $2 AND e.on_date <= $3 AND e.no <= $4 AND e.body <> ''
	AND NOT EXISTS (SELECT 1 FROM entries c WHERE c.corrects = e.no AND c.no <= $4)
	ORDER BY e.on_date, e.no`

// linesOf gives the lines of a kind that stand in the book as known by an
// entry, with their days in a span, by day and number.
func linesOf(tx *sql.Tx, k *chemicals.Kind, first, last chemicals.Day, known int64) ([]*line, error) {
	rows, err := tx.Query(selectStanding, k.Name, string(first), string(last), known)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var lines []*line
	for rows.Next() {
		r := row{kind: k.Name}
		if err := rows.Scan(&r.no, &r.body); err != nil {
			return nil, err
		}
		body, err := readBody(k, r.body)
		if err != nil {
			return nil, unreadable(placeOf(r.no), err)
		}
		if err := readable(r.no, k, body); err != nil {
			return nil, err
		}
		lines = append(lines, newLine(r.no, k, body))
	}
	return lines, rows.Err()
}

// firmOf gives what the shop's own row says of a column: the row that stands
// last. It is empty where there is none.
func firmOf(lines []*line, column string) string {
	if len(lines) == 0 {
		return ""
	}
	return lines[len(lines)-1].body[column]
}

// shopLines are the rows of the shop itself.
func shopLines(tx *sql.Tx, known int64) ([]*line, error) {
	k, err := chemicals.KindOf("shop")
	if err != nil {
		return nil, err
	}
	return linesOf(tx, k, earliest, latest, known)
}

// begins is the first day on which a row holds: its own, else the shop's first.
func (l *line) begins(firstDay chemicals.Day) chemicals.Day {
	return beginning(l.body, firstDay)
}

func beginning(body chemicals.Body, firstDay chemicals.Day) chemicals.Day {
	if from := body[chemicals.FromColumn]; from != "" {
		return chemicals.Day(from)
	}
	return firstDay
}

// resolve gives facts their days: from their own first day, or the shop's,
// until their own last day, or the day before the next row of their group
// begins, whichever is first. Rows that begin after asOf are left out and end
// nothing. The records come in the order of their keys and days.
func resolve(lines []*line, firstDay, asOf chemicals.Day) []chemicals.Record {
	groups := map[string][]*line{}
	for _, l := range lines {
		if l.begins(firstDay) <= asOf {
			groups[l.group] = append(groups[l.group], l)
		}
	}
	var held []*line
	ends := map[*line]chemicals.Day{}
	for _, group := range groups {
		for _, l := range group {
			held = append(held, l)
			ends[l] = end(l, group, firstDay)
		}
	}
	slices.SortFunc(held, func(a, b *line) int {
		return cmp.Or(cmp.Compare(a.key, b.key), cmp.Compare(a.begins(firstDay), b.begins(firstDay)), cmp.Compare(a.no, b.no))
	})
	records := make([]chemicals.Record, len(held))
	for i, l := range held {
		records[i] = chemicals.Record{Entry: l.no, Kind: l.kind, Body: l.body, From: l.begins(firstDay), Until: ends[l]}
	}
	return records
}

// end is the last day of a row among those of its group; empty for none. Two
// rows of one key and day can come about when the shop's first day is
// corrected; the later entry holds, the other ends before it begins.
func end(l *line, group []*line, firstDay chemicals.Day) chemicals.Day {
	begins := l.begins(firstDay)
	var nearest chemicals.Day
	for _, next := range group {
		later := next.begins(firstDay)
		ends := later > begins || later == begins && next.key == l.key && next.no > l.no
		if ends && (nearest == "" || later < nearest) {
			nearest = later
		}
	}
	until := chemicals.Day(l.body[chemicals.UntilColumn])
	if nearest == "" {
		return until
	}
	if before := nearest.Add(-1); until == "" || before < until {
		return before
	}
	return until
}

// kindsIn are the kinds that the book holds. It skips through the index, so
// that it costs a few look-ups however many entries there are.
func kindsIn(tx *sql.Tx) ([]*chemicals.Kind, error) {
	var kinds []*chemicals.Kind
	for last := ""; ; {
		var next string
		err := tx.QueryRow("SELECT kind FROM entries WHERE kind > $1 ORDER BY kind LIMIT 1", last).Scan(&next)
		if errors.Is(err, sql.ErrNoRows) {
			return kinds, nil
		}
		if err != nil {
			return nil, err
		}
		k, err := kindOf("the book", next)
		if err != nil {
			return nil, err
		}
		kinds, last = append(kinds, k), next
	}
}
