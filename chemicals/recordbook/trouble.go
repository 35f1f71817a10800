package recordbook

import (
	"errors"
	"fmt"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"bathwarden/chemicals"
)

// What can be wrong with the book as a whole. An error that is one of these is
// also a *chemicals.Problem, which says what to do.
var (
	ErrNoBook   = errors.New("no record book")
	ErrExists   = errors.New("file exists already")
	ErrDamaged  = errors.New("record book damaged")
	ErrNewer    = errors.New("record book of a newer format")
	ErrReadOnly = errors.New("record book is read-only")
	ErrLocked   = errors.New("record book locked")
	ErrFull     = errors.New("disk full")
	ErrNetwork  = errors.New("record book on a network share")
)

// Unusable reports whether the book is missing, damaged or of a newer format,
// so that no command can do anything with it.
func Unusable(err error) bool {
	return errors.Is(err, ErrNoBook) || errors.Is(err, ErrDamaged) || errors.Is(err, ErrNewer)
}

// trouble is a problem that is one of the errors above.
type trouble struct {
	*chemicals.Problem
	is error
}

func (t *trouble) Unwrap() error        { return t.Problem }
func (t *trouble) Is(target error) bool { return target == t.is }

func troubled(is error, where, what, mend string) error {
	return &trouble{&chemicals.Problem{Where: where, What: what, Mend: mend}, is}
}

const takeCopy = "keep the file as it is, and go on with the last copy that verifies"

// translate turns what the database says into the user's words; every other
// error passes as it is.
func translate(path string, err error) error {
	var said *sqlite.Error
	if !errors.As(err, &said) {
		return err
	}
	const primary = 0xff // the low byte of an extended result code
	code := said.Code()
	switch {
	case code == sqlite3.SQLITE_IOERR_SHORT_READ:
		return troubled(ErrDamaged, path, "the book is shorter than it says it is", takeCopy)
	case code&primary == sqlite3.SQLITE_BUSY, code&primary == sqlite3.SQLITE_LOCKED:
		return troubled(ErrLocked, path, "another program has held the book for too long", "close it, or wait until it is done, and try again")
	case code&primary == sqlite3.SQLITE_READONLY:
		return troubled(ErrReadOnly, path, "the book cannot be written", "check the rights on the file and its folder, or copy it to a folder of your own")
	case code&primary == sqlite3.SQLITE_CANTOPEN, code&primary == sqlite3.SQLITE_PERM:
		return troubled(ErrReadOnly, path, "the book or a file beside it cannot be opened", "check the rights on the file and its folder, or copy it to a folder of your own")
	case code&primary == sqlite3.SQLITE_CORRUPT, code&primary == sqlite3.SQLITE_NOTADB:
		return troubled(ErrDamaged, path, "the file is damaged or not a record book: "+said.Error(), takeCopy)
	case code&primary == sqlite3.SQLITE_FULL:
		return troubled(ErrFull, path, "the disk is full; nothing was written", "make room and try again")
	}
	return &chemicals.Problem{
		Where: path,
		What:  fmt.Sprintf("the database refused: %s", said.Error()),
		Mend:  "nothing was written; check disk and rights, then verify the book",
	}
}
