package recordbook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"bathwarden/chemicals"
)

// chain follows entries from the first on and finds the one that does not fit.
type chain struct {
	last chemicals.LastEntry
}

// next reads a row that follows the one before. The error says in what way it
// does not, or cannot be read.
func (c *chain) next(r row) (Entry, error) {
	wrong := c.misfit(r)
	c.last = chemicals.LastEntry{Entry: r.no, Hash: r.hash}
	if wrong != "" {
		return Entry{}, troubled(ErrDamaged, placeOf(r.no), wrong, takeCopy)
	}
	e, err := r.entry()
	if err == nil && writeBody(e.Body) != r.body {
		err = unreadable(placeOf(r.no), errors.New("its body is not in the form in which bodies are written"))
	}
	return e, err
}

// misfit says in what way a row does not follow the one before; empty if it does.
func (c *chain) misfit(r row) string {
	switch {
	case r.no != c.last.Entry+1:
		return fmt.Sprintf("it follows entry %d: entries are missing or out of order", c.last.Entry)
	case r.prevHash != c.last.Hash:
		return fmt.Sprintf("it does not follow entry %d: the hash that it gives for that entry is another", c.last.Entry)
	case r.hash != r.sum():
		return "its content was changed: the hash that was written with it is another"
	case r.corrects < 0 || r.corrects >= r.no:
		return fmt.Sprintf("it corrects entry %d, which is not an earlier one", r.corrects)
	case r.body == "" && r.corrects == 0:
		return "it has no body and withdraws nothing"
	}
	return ""
}

// Verify recomputes the whole chain, has the database check its file, and gives
// the last entry. The error names the first entry that does not fit.
func (b *Book) Verify(ctx context.Context) (chemicals.LastEntry, error) {
	var c chain
	err := b.within(ctx, true, func(tx *sql.Tx) error {
		if err := c.follow(tx, allKnown); err != nil {
			return errors.Join(err, b.integrity(tx))
		}
		return errors.Join(b.integrity(tx), b.rules(tx))
	})
	if err != nil {
		return chemicals.LastEntry{}, err
	}
	return c.last, nil
}

func (c *chain) follow(tx *sql.Tx, last int64) error {
	enough := errors.New("enough")
	err := each(tx, 1-1<<62, func(r row) error {
		if r.no > last {
			return enough
		}
		_, err := c.next(r)
		return err
	})
	if err == enough {
		return nil
	}
	return err
}

// integrity has the database check its file.
func (b *Book) integrity(tx *sql.Tx) error {
	rows, err := tx.Query("PRAGMA integrity_check(10)")
	if err != nil {
		return err
	}
	defer rows.Close()
	var said []string
	for rows.Next() {
		var line string
		if err := rows.Scan(&line); err != nil {
			return err
		}
		said = append(said, line)
	}
	if err := rows.Err(); err != nil || len(said) == 1 && said[0] == "ok" {
		return err
	}
	return troubled(ErrDamaged, b.path, "the file is damaged: "+strings.Join(said, "; "), takeCopy)
}

// rules checks that the table still refuses change.
func (b *Book) rules(tx *sql.Tx) error {
	rows, err := tx.Query("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL")
	if err != nil {
		return err
	}
	defer rows.Close()
	missing := statements()
	for rows.Next() {
		var name, text string
		if err := rows.Scan(&name, &text); err != nil {
			return err
		}
		if !missing[text] {
			return troubled(ErrDamaged, b.path, fmt.Sprintf("%q was put into the file or altered there", name), takeCopy)
		}
		delete(missing, text)
	}
	if err := rows.Err(); err != nil || len(missing) == 0 {
		return err
	}
	return troubled(ErrDamaged, b.path, "a rule that keeps entries from being changed was taken out of the file", takeCopy)
}

// statements are those of schema.sql as the database keeps them: from the first
// word to the last, without the semicolon.
func statements() map[string]bool {
	all := map[string]bool{}
	for _, part := range strings.Split("\n"+schema, "\nCREATE ")[1:] {
		end := ";"
		if strings.HasPrefix(part, "TRIGGER") {
			end = "END;"
		}
		text := "CREATE " + part[:strings.LastIndex(part, end)]
		if end == "END;" {
			text += "END"
		}
		all[text] = true
	}
	return all
}

// VerifyEntry recomputes the chain up to an entry and compares that entry's hash
// with one from a paper: the whole, or at least its first twelve digits.
func (b *Book) VerifyEntry(ctx context.Context, number int64, hash string) error {
	printed := strings.ToLower(strings.Join(strings.Fields(hash), ""))
	const least, most = 12, 64
	if len(printed) < least || len(printed) > most || strings.Trim(printed, "0123456789abcdef") != "" {
		return &chemicals.Problem{What: fmt.Sprintf("%q is not the hash of an entry", hash), Mend: "give at least its first twelve digits, 0 to 9 and a to f, as they are printed"}
	}
	return b.within(ctx, true, func(tx *sql.Tx) error {
		var c chain
		if err := c.follow(tx, number); err != nil {
			return err
		}
		switch {
		case c.last.Entry < number:
			return &chemicals.Problem{
				Where: b.path,
				What:  fmt.Sprintf("the book ends with entry %d; entry %d, which the paper names, is not in it", c.last.Entry, number),
				Mend:  "check the number; if it is as printed, this book is older than the paper or its end was cut off",
			}
		case number < 1:
			return noSuchEntry(tx, number)
		case !strings.HasPrefix(c.last.Hash, printed):
			return &chemicals.Problem{
				Where: placeOf(number),
				What:  fmt.Sprintf("its hash is %s, and the paper has %s", c.last.Hash, printed),
				Mend:  "check the digits; if they are as printed, the paper comes from another book or this one was rewritten",
			}
		}
		return nil
	})
}
