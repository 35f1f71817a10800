package recordbook

import (
	"bufio"
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"io"

	"bathwarden/chemicals"
)

// LoadJournal adds to the book the entries of a journal that it does not have
// yet, hash for hash, and gives their number. What the book has must be the
// journal's beginning, or the journal the book's. Nothing is written if a line
// has a fault: each new entry must be one that the book could have written. A
// fault names its line, and the file if r is an open one.
//
// Not looked at is what two first days make of one another: two rows of one key
// and day, or a row that ends before the shop begins, may stand in an old book.
func (b *Book) LoadJournal(r io.Reader) (added int, err error) {
	err = b.writing(func(tx *sql.Tx) error {
		l, err := newLoader(tx)
		if err != nil {
			return err
		}
		defer l.into.Close()
		if file, ok := r.(interface{ Name() string }); ok {
			l.file = file.Name()
		}
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
	register
	tx     *sql.Tx
	into   *sql.Stmt
	stands chemicals.LastEntry // of the book
	file   string              // that is read; empty if it has no name
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
	return &loader{tx: tx, into: into, stands: stands, register: newRegister()}, nil
}

const (
	mostFaults  = 20
	takeJournal = "take the journal as it was written, or an earlier one"
)

func (l *loader) all(r *bufio.Reader) error {
	for {
		line, err := r.ReadBytes('\n')
		if errors.Is(err, io.EOF) && len(line) == 0 {
			break
		}
		l.number++
		switch {
		case errors.Is(err, io.EOF):
			l.fault("the line is cut off", "take the journal from where it is whole")
			return nil
		case err != nil:
			return l.unreadable(err)
		case bytes.HasSuffix(line, []byte("\r\n")):
			l.fault("its line ends are CR LF where a journal has LF: a program has written the file anew", takeJournal)
			return nil
		}
		if err := l.line(line); err != nil {
			return err
		}
		if len(l.faults) >= mostFaults {
			l.number++
			l.fault("the lines from here on were not looked at", "mend the others first")
			return nil
		}
	}
	if l.number == 0 {
		l.faults = append(l.faults, &chemicals.Problem{Where: l.file, What: "it holds no entry", Mend: "name a journal that export wrote from a book with entries"})
	}
	l.citations()
	return nil
}

// unreadable says that the journal itself cannot be read.
func (l *loader) unreadable(err error) error {
	problem := fileProblem(l.file, err)
	problem.Mend = "name a journal that export wrote, and check who may read it"
	return problem
}

func (l *loader) place(line int) string {
	if l.file == "" {
		return fmt.Sprintf("line %d", line)
	}
	return fmt.Sprintf("%s line %d", l.file, line)
}

func (l *loader) fault(what, mend string) {
	l.faults = append(l.faults, &chemicals.Problem{Where: l.place(l.number), What: what, Mend: mend})
}

// wrong notes what is wrong with an entry.
func (l *loader) wrong(number int64, what string) {
	l.fault(placeOf(number)+": "+what, takeJournal)
}

// line takes one line; the error is not the journal's fault.
func (l *loader) line(line []byte) error {
	r, err := rowFrom(line)
	if err != nil {
		l.fault(err.Error(), takeJournal)
		return nil
	}
	e, misfit := l.next(r)
	if misfit != nil {
		l.fault(misfit.Error(), takeJournal)
		return nil
	}
	if r.no <= l.stands.Entry {
		l.post(l.number, r, e)
		return l.same(r)
	}
	before := len(l.faults)
	for _, what := range append(r.unsound(e), l.unfit(r, e)...) {
		l.wrong(r.no, what)
	}
	if len(l.faults) > before {
		return nil
	}
	l.post(l.number, r, e)
	if before > 0 {
		return nil // an entry of which it may speak is missing
	}
	l.added++
	return r.insert(l.into)
}

// same checks that the book has the same entry.
func (l *loader) same(r row) error {
	own, err := scan(l.tx.QueryRow("SELECT "+rowColumns+" FROM entries WHERE no = $1", r.no))
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return lacking(r.no)
	case err != nil:
		return err
	case own.hash == r.hash || len(l.faults) > 0:
		return nil
	case own.hash != own.sum():
		return troubled(ErrDamaged, placeOf(r.no), "it was changed in the book: the hash that was written with it is another", takeCopy)
	}
	l.fault(placeOf(r.no)+": the book has another", "the journal is of another book; load it into a new one")
	return nil
}

// citations notes the entries that name what the journal, taken whole, does not
// have. A name may be gone for a while within it: of one load that renames a
// tank and corrects what names it, the tank comes first.
func (l *loader) citations() {
	if len(l.faults) > 0 || l.added == 0 {
		return
	}
	for number := int64(1); number <= l.last.Entry && len(l.faults) < mostFaults; number++ {
		p := l.entries[number]
		l.number = p.line
		for _, what := range l.uncited(p) {
			l.wrong(number, what)
		}
	}
	if len(l.faults) >= mostFaults {
		l.number++
		l.fault("what the lines from here on name was not looked at", "mend the others first")
	}
}
