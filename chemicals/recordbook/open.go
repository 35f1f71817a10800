package recordbook

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
)

func (s surroundings) open(path string, mode Mode) (*Book, error) {
	found, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, troubled(ErrNoBook, path, "there is no record book", `make one with "init", or name the file that holds it`)
	case err != nil:
		return nil, fileProblem(path, err)
	case !found.Mode().IsRegular():
		return nil, troubled(ErrNoBook, path, "it is not a file", "name the file that holds the book")
	}
	if err := s.refuseShare(path, path); err != nil {
		return nil, err
	}
	b, err := s.attach(path, mode, asFile)
	switch {
	case mode == ForReading && errors.Is(err, ErrReadOnly):
		return s.openStill(path, found, err)
	case errors.Is(err, ErrFull):
		s.sweep(path)
	}
	return b, err
}

// access is how the database takes a file.
type access string

const (
	asFile access = "mode=rw" // not mode=ro: that leaves the files of the WAL behind
	// asStill makes no file and asks for no lock: nobody may write meanwhile.
	asStill access = "mode=ro&immutable=1"
)

func (s surroundings) attach(path string, mode Mode, how access) (*Book, error) {
	pragmas := []string{"foreign_keys(1)", "synchronous(FULL)"}
	if mode == ForReading {
		pragmas = append(pragmas, "query_only(1)")
	}
	db, err := s.connect(path, how, pragmas...)
	if err != nil {
		return nil, translate(path, err)
	}
	b := &Book{path: path, mode: mode, db: db}
	err = b.look()
	if err == nil && mode == ForWriting {
		err = b.journal()
	}
	if err == nil {
		return b, nil
	}
	err = errors.Join(err, db.Close())
	if mode == ForWriting && errors.Is(err, ErrReadOnly) && formUnknown(path) {
		err = troubled(ErrDamaged, path, "the file says of itself that it is of a form which no book has", takeCopy)
	}
	return nil, err
}

// formUnknown reports whether the file's own header forbids to write it: its
// byte 18 must be 1 or 2 (SQLite, Database File Format, 1.3.3).
func formUnknown(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	var form [1]byte
	_, err = f.ReadAt(form[:], 18)
	return err == nil && form[0] != 1 && form[0] != 2
}

// openStill opens a book for reading where the files that lie beside an open
// book cannot be made. It is whole without them if no entry waits in them;
// refused is what the usual way met.
func (s surroundings) openStill(path string, found fs.FileInfo, refused error) (*Book, error) {
	for _, end := range []string{walEnd, rollbackEnd} {
		beside, err := os.Stat(path + end)
		switch {
		case errors.Is(err, fs.ErrNotExist), err == nil && beside.Size() == 0:
		case err != nil:
			return nil, refused
		default:
			return nil, troubled(ErrReadOnly, path, "what was written last still lies in "+path+end+", and it can be read only where files may be written",
				`have somebody who may write there make a copy with "copy", or copy both files into a folder of your own and name the book there`)
		}
	}
	b, err := s.attach(path, ForReading, asStill)
	if err != nil {
		return nil, err
	}
	b.still = found
	return b, nil
}

// stillSo refuses what was read of a book that is not locked, if somebody wrote
// into it since it was opened.
func (b *Book) stillSo() error {
	if b.still == nil {
		return nil
	}
	now, err := os.Stat(b.path)
	if err != nil {
		return fileProblem(b.path, err)
	}
	if !os.SameFile(now, b.still) || now.Size() != b.still.Size() || !now.ModTime().Equal(b.still.ModTime()) {
		return troubled(ErrLocked, b.path, "somebody wrote into the book while it was read from a folder in which nothing may be written", "try again")
	}
	return nil
}

// sweep takes away what an opening that failed left beside a book. That is safe
// only for whoever has the book alone; if somebody else has it, the files stay.
func (s surroundings) sweep(path string) {
	s.wait = 0
	db, err := s.connect(path, asFile, "locking_mode(EXCLUSIVE)") // which keeps no file of shared memory
	if err != nil {
		return
	}
	defer db.Close() // takes the WAL away
	if _, err := db.Exec("BEGIN EXCLUSIVE"); err != nil {
		return
	}
	_ = os.Remove(path + sharedEnd) // where it stays, it is used again or goes with the next writer
	_, _ = db.Exec("ROLLBACK")
}

// journal sets the way of writing. It alters the file, so that it comes after
// look: a file that is no book stays as it is.
func (b *Book) journal() error {
	var journal string
	if err := b.db.QueryRow("PRAGMA journal_mode = WAL").Scan(&journal); err != nil {
		return translate(b.path, err)
	}
	if journal != "wal" {
		return troubled(ErrNetwork, b.path, "the file system gives no shared memory, without which two writers would destroy the book", "keep the book on a disk of this computer")
	}
	return b.entries() // makes the files beside the book, if there is room for them
}

// connect opens an existing file with one connection.
func (s surroundings) connect(path string, how access, pragmas ...string) (*sql.DB, error) {
	whole, err := filepath.Abs(path)
	if err != nil {
		return nil, fileProblem(path, err)
	}
	slashed := filepath.ToSlash(whole)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed // C:/shop.book
	}
	query := url.Values{"_txlock": {"immediate"}}
	query.Add("_pragma", fmt.Sprintf("busy_timeout(%d)", s.wait.Milliseconds()))
	for _, p := range pragmas {
		query.Add("_pragma", p)
	}
	address := url.URL{Scheme: "file", Path: slashed, RawQuery: string(how) + "&" + query.Encode()}
	db, err := sql.Open("sqlite", address.String())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	if err := db.Ping(); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return db, nil
}

// refuseShare looks where at lies and refuses a network share.
func (s surroundings) refuseShare(at, path string) error {
	whole, err := filepath.Abs(at)
	if err != nil {
		return fileProblem(path, err)
	}
	name, err := s.share(whole)
	switch {
	case err != nil:
		return fileProblem(path, err)
	case name != "":
		return troubled(ErrNetwork, path, "it lies on a network share ("+name+"), where two computers that write at once would destroy the book",
			"keep the book on a disk of one computer, and put copies of it on the share")
	}
	return nil
}

// look checks that the file is a book of a format that this package reads.
func (b *Book) look() error {
	var id, format int64
	err := errors.Join(
		b.db.QueryRow("PRAGMA application_id").Scan(&id),
		b.db.QueryRow("PRAGMA user_version").Scan(&format),
	)
	switch {
	case err != nil:
		return translate(b.path, err)
	case id != applicationID:
		return troubled(ErrDamaged, b.path, "the file is not a record book", "name the file that holds the book, or take a copy of it")
	case format > Format:
		return troubled(ErrNewer, b.path, fmt.Sprintf("the book has format %d; this program reads up to %d", format, Format), "use the newer version of the program that wrote it")
	case format < 1:
		return troubled(ErrDamaged, b.path, fmt.Sprintf("the book has format %d, which never was", format), takeCopy)
	}
	return b.entries()
}

// entries reads the last entry, so that a table which lacks a column is found
// before anything rests on it.
func (b *Book) entries() error {
	_, err := scan(b.db.QueryRow("SELECT " + rowColumns + " FROM entries ORDER BY no DESC LIMIT 1"))
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return translate(b.path, err)
}
