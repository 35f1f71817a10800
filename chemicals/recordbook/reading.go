package recordbook

import (
	"database/sql"
	"errors"
	"fmt"
	"time"

	"bathwarden/chemicals"
)

// Known bounds what a reader knows: up to an entry, or up to the last entry
// that was recorded by the end of a day in the shop's time zone. The zero value
// knows the whole book. What later entries corrected or withdrew stands.
type Known struct {
	Entry int64
	Day   chemicals.Day
}

// Reading says what to read.
type Reading struct {
	AsOf       chemicals.Day
	Period     chemicals.Period
	KnownBy    Known
	EventsFrom chemicals.Day // leaves out older events of kinds that do not last; empty: none
}

// Read gives the shop as the book has it: facts that have begun by the as-of
// day, whatever ends them by then, and events up to it.
//
// Reports that were issued since the last other entry are not seen: a paper
// then reads the same before it is issued and when it is printed again.
func (b *Book) Read(r Reading) (*chemicals.Shop, error) {
	var shop *chemicals.Shop
	err := b.reading(func(tx *sql.Tx) error {
		last, err := seen(tx, r.KnownBy)
		if err != nil {
			return err
		}
		records, err := records(tx, r, last.Entry)
		if err != nil {
			return err
		}
		shop, err = chemicals.NewShop(r.AsOf, r.Period, last, records)
		return err
	})
	return shop, err
}

func records(tx *sql.Tx, r Reading, known int64) ([]chemicals.Record, error) {
	kinds, err := kindsIn(tx)
	if err != nil {
		return nil, err
	}
	own, err := shopLines(tx, known)
	if err != nil {
		return nil, err
	}
	firstDay := chemicals.Day(firmOf(own, "first day"))
	var all []chemicals.Record
	for _, k := range kinds {
		if k.Nature == chemicals.Event {
			from := r.EventsFrom
			if k.Lasting {
				from = earliest
			}
			lines, err := linesOf(tx, k, from, r.AsOf, known)
			if err != nil {
				return nil, err
			}
			all = append(all, happened(lines)...)
			continue
		}
		lines, err := linesOf(tx, k, earliest, r.AsOf, known)
		if err != nil {
			return nil, err
		}
		for _, held := range resolve(lines, firstDay, r.AsOf) {
			if held.Until == "" || held.Until >= held.From {
				all = append(all, held)
			}
		}
	}
	return all, nil
}

func happened(lines []*line) []chemicals.Record {
	records := make([]chemicals.Record, len(lines))
	for i, l := range lines {
		records[i] = chemicals.Record{Entry: l.no, Kind: l.kind, Body: l.body, From: l.kind.Day(l.body)}
	}
	return records
}

// Standing gives the records of a kind that stand, future ones too: facts in
// the order of their keys and days, with the days on which they hold; events by
// date. The body has the days as they were written.
func (b *Book) Standing(k *chemicals.Kind, known Known) ([]chemicals.Record, error) {
	var all []chemicals.Record
	err := b.reading(func(tx *sql.Tx) error {
		last, err := bound(tx, known)
		if err != nil {
			return err
		}
		lines, err := linesOf(tx, k, earliest, latest, last)
		if err != nil {
			return err
		}
		if k.Nature == chemicals.Event {
			all = happened(lines)
			return nil
		}
		own, err := shopLines(tx, last)
		all = resolve(lines, chemicals.Day(firmOf(own, "first day")), latest)
		return err
	})
	return all, err
}

// seen is the last entry that a reading could see, reports issued since
// excepted.
func seen(tx *sql.Tx, known Known) (chemicals.LastEntry, error) {
	var last chemicals.LastEntry
	to, err := bound(tx, known)
	if err != nil {
		return last, err
	}
	err = tx.QueryRow("SELECT no, hash FROM entries WHERE no <= $1 AND kind <> 'issued' ORDER BY no DESC LIMIT 1", to).Scan(&last.Entry, &last.Hash)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return last, err
}

// bound turns what is known into the number of the last entry known.
func bound(tx *sql.Tx, known Known) (int64, error) {
	last, err := lastRow(tx)
	if err != nil {
		return 0, err
	}
	switch {
	case known.Entry > last.Entry:
		return 0, &chemicals.Problem{
			What: fmt.Sprintf("the book has no entry %d", known.Entry),
			Mend: fmt.Sprintf("the last entry is %d; if a paper names a later one, this book is older than the paper or was cut off", last.Entry),
		}
	case known.Day != "":
		last.Entry, err = lastBy(tx, known.Day)
	case known.Entry != 0:
		return known.Entry, nil
	}
	return last.Entry, err
}

// lastBy is the last entry that was recorded by the end of a day in the zone
// that the shop's row names now; with a clock that went back, entries before it
// were in the book all the same.
func lastBy(tx *sql.Tx, day chemicals.Day) (int64, error) {
	own, err := shopLines(tx, allKnown)
	if err != nil {
		return 0, err
	}
	d := day.Time()
	zone := chemicals.Zone(firmOf(own, "time zone")).Location()
	over := time.Date(d.Year(), d.Month(), d.Day()+1, 0, 0, 0, 0, zone).UTC().Format(clockForm)
	var number int64
	err = tx.QueryRow("SELECT no FROM entries WHERE recorded_at < $1 ORDER BY no DESC LIMIT 1", over).Scan(&number)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return number, err
}
