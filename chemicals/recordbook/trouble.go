package recordbook

import (
	"context"
	"errors"

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

// passed is an error of whoever uses the book, on its way through it.
type passed struct{ error }

// translate turns what the database says into the user's words, each part of a
// joined error by itself. What is neither the user's nor the system's fault is
// that of the file: the statements are always the same.
func translate(path string, err error) error {
	var through passed
	var said *sqlite.Error
	joined, isJoined := err.(interface{ Unwrap() []error })
	switch {
	case isJoined:
		return translateAll(path, joined.Unwrap())
	case err == nil, errors.As(err, new(*chemicals.Problem)), errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case errors.As(err, &through):
		return through.error
	case errors.As(err, &said):
		return translateCode(path, said)
	}
	return troubled(ErrDamaged, path, "the book's entries cannot be read: a value is not what a book writes there", takeCopy)
}

// translateAll says what several parts have in common only once.
func translateAll(path string, parts []error) error {
	var all []error
	said := map[string]bool{}
	for _, part := range parts {
		part = translate(path, part)
		if !said[part.Error()] {
			all = append(all, part)
		}
		said[part.Error()] = true
	}
	return errors.Join(all...)
}

const checkRights = "check the rights on the file and its folder, or copy it to a folder of your own"

func translateCode(path string, said *sqlite.Error) error {
	const primary = 0xff // the low byte of an extended result code
	switch said.Code() & primary {
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED, sqlite3.SQLITE_PROTOCOL:
		return troubled(ErrLocked, path, "another program has held the book for too long", "close it, or wait until it is done, and try again")
	case sqlite3.SQLITE_READONLY:
		return troubled(ErrReadOnly, path, "the book cannot be written", checkRights)
	case sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM:
		return troubled(ErrReadOnly, path, "the book or a file beside it cannot be opened", checkRights)
	case sqlite3.SQLITE_CORRUPT:
		return troubled(ErrDamaged, path, "the file is damaged or not a record book: its pages do not fit together", takeCopy)
	case sqlite3.SQLITE_NOTADB:
		return troubled(ErrDamaged, path, "the file is damaged or not a record book: "+said.Error(), takeCopy)
	case sqlite3.SQLITE_FULL:
		return troubled(ErrFull, path, "the disk is full; nothing was written", makeRoom)
	case sqlite3.SQLITE_IOERR:
		return translateIO(path, said.Code())
	case sqlite3.SQLITE_NOMEM:
		return outOfMemory(path)
	}
	return troubled(ErrDamaged, path, "the book's entries cannot be read: the tables in the file are not those of a book", takeCopy)
}

const makeRoom = "make room and try again"

// translateIO takes apart what the operating system refused.
func translateIO(path string, code int) error {
	switch code {
	case sqlite3.SQLITE_IOERR_NOMEM:
		return outOfMemory(path)
	case sqlite3.SQLITE_IOERR_SHORT_READ:
		return troubled(ErrDamaged, path, "the book is shorter than it says it is", takeCopy)
	case sqlite3.SQLITE_IOERR_READ, sqlite3.SQLITE_IOERR_DATA, sqlite3.SQLITE_IOERR_CORRUPTFS:
		return troubled(ErrDamaged, path, "the disk does not give back what was written", "copy the file to another disk, verify it there, and else "+takeCopy)
	case sqlite3.SQLITE_IOERR_SHMSIZE, sqlite3.SQLITE_IOERR_SHMOPEN, sqlite3.SQLITE_IOERR_SHMMAP:
		return troubled(ErrFull, path, "the disk is full, or no more may be written: there is no room for the file that lies beside an open book; nothing was written", makeRoom)
	case sqlite3.SQLITE_IOERR_WRITE, sqlite3.SQLITE_IOERR_TRUNCATE, sqlite3.SQLITE_IOERR_FSYNC, sqlite3.SQLITE_IOERR_DIR_FSYNC, sqlite3.SQLITE_IOERR_DELETE:
		return troubled(ErrFull, path, "the book cannot be written: the system takes no more, by a limit, a quota or a fault of the disk; nothing was written", "make room or have the limit raised, try again, and verify the book")
	}
	return &chemicals.Problem{Where: path, What: "the system refuses the book or a file beside it; nothing was written", Mend: "check the disk and the rights on the file and its folder, then verify the book"}
}

func outOfMemory(path string) error {
	return &chemicals.Problem{Where: path, What: "this computer has no memory left for the book; nothing was written", Mend: "close other programs and try again"}
}
