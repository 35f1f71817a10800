package recordbook

import (
	"fmt"
	"slices"
	"time"

	"bathwarden/chemicals"
)

// draft is an entry to be written.
type draft struct {
	no       int64
	row      *chemicals.Row // that asked for it
	replaces *line          // that it corrects or withdraws; nil for none
	stands   *line          // by it; nil for a withdrawal
}

// draft plans an entry: that body stands, in place of another line or as a new
// one, or with a nil body that the other line was never true.
func (p *plan) draft(r *chemicals.Row, body chemicals.Body, replaces *line, change Change) {
	d := draft{no: p.last.Entry + int64(len(p.drafts)) + 1, row: r, replaces: replaces}
	s := p.shelves[r.Kind]
	if replaces != nil && s != nil {
		s.remove(replaces)
	}
	if replaces != nil && p.reason(d) == "" && !slices.ContainsFunc(p.drafts, func(d draft) bool { return d.replaces != nil }) {
		p.fault(&chemicals.Problem{Where: "why", What: fmt.Sprintf("entry %d would be replaced, and no reason is given", replaces.no), Mend: "say why"})
	}
	if body != nil {
		d.stands = newLine(d.no, r.Kind, body)
		d.stands.given, d.stands.where, d.stands.fresh = true, r.Where, replaces == nil
		if s != nil {
			s.put(d.stands)
		}
	}
	p.drafts = append(p.drafts, d)
	change.Entry = d.no
	if body == nil {
		body = replaces.body
	}
	p.note(r, body, change)
}

// note writes down what becomes of a row.
func (p *plan) note(r *chemicals.Row, body chemicals.Body, change Change) {
	change.Kind, change.Where = r.Kind, r.Where
	change.Name, change.Day = nameOf(r.Kind, body), r.Kind.Day(body)
	p.changes = append(p.changes, change)
}

// reason is why a draft is written: the author's words, or for a correction
// the place of the row that asks for it.
func (p *plan) reason(d draft) string {
	if p.author.Why == "" && d.replaces != nil {
		return d.row.Where
	}
	return p.author.Why
}

// outcome sums up the plan.
func (p *plan) outcome() (Outcome, error) {
	out := Outcome{Changes: p.changes}
	for _, k := range p.loaded {
		stood, err := p.stood(k)
		if err != nil {
			return Outcome{}, err
		}
		for i := range p.changes {
			c := &p.changes[i]
			if c.Kind == k && (c.Deed == Unchanged || c.Deed == Corrected) {
				stood--
			}
		}
		if stood > 0 {
			out.Untouched = append(out.Untouched, Count{Kind: k, Rows: stood})
		}
	}
	return out, nil
}

// stood counts the lines of a kind that stood before the load: every entry
// that replaces another takes one away, and a withdrawal puts none.
func (p *plan) stood(k *chemicals.Kind) (int, error) {
	if s := p.shelves[k]; s != nil {
		return s.stood, nil
	}
	var entries, replacing, withdrawals int
	// kind || '' keeps SQLite from walking the index of all entries of the kind
	// where the short one of corrections will do: 0.1 ms for 270 ms, measured
	// over 500,000 entries.
	err := p.tx.QueryRow(`SELECT (SELECT count(*) FROM entries WHERE kind = $1), count(*), count(CASE WHEN body = '' THEN 1 END)
		FROM entries WHERE corrects IS NOT NULL AND kind || '' = $1`, k.Name).Scan(&entries, &replacing, &withdrawals)
	return entries - replacing - withdrawals, err
}

// write puts the drafts into the book, each chained to the one before.
func (p *plan) write() error {
	if len(p.drafts) == 0 {
		return nil
	}
	into, err := prepareInsert(p.tx)
	if err != nil {
		return err
	}
	defer into.Close()
	before := p.last.Hash
	for _, d := range p.drafts {
		r := p.written(d)
		r.prevHash = before
		r.hash = r.sum()
		if err := r.insert(into); err != nil {
			return err
		}
		before = r.hash
	}
	return nil
}

func (p *plan) written(d draft) row {
	said := d.stands
	r := row{no: d.no, kind: d.row.Kind.Name, reason: p.reason(d), recordedBy: p.author.By}
	if d.replaces != nil {
		r.corrects = d.replaces.no
	}
	if said == nil {
		said = d.replaces
	} else {
		r.body = writeBody(said.body)
	}
	day := said.kind.Day(said.body)
	r.key, r.onDate = said.key, string(day)
	r.recordedAt = p.recordedAt(day).UTC().Format(clockForm)
	return r
}

func (p *plan) recordedAt(day chemicals.Day) time.Time {
	switch {
	case !p.author.OwnDays:
		return p.author.At
	case day == "":
		day = p.ownDay
	}
	return day.Time().Add(12 * time.Hour)
}
