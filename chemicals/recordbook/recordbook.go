// Package recordbook keeps the shop's record book: numbered, dated entries in
// one file, never erased, only corrected or withdrawn by later ones. Each entry
// carries a hash over its columns and the hash before it, so that a change or a
// gap anywhere shows when the chain is recomputed.
//
// Rows go in by Apply, Correct and Withdraw; what stands comes out by Read and
// Standing; Verify recomputes the chain. The file is an SQLite database whose
// statements are in schema.sql.
//
// Not covered: who may write (the rights on the file say that), a book on a
// network share (refused: its locks cannot be trusted), and proof against
// somebody who recomputes the whole chain; a hash on a paper that was handed
// out is the guard against that.
package recordbook

import (
	"context"
	"database/sql"
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"bathwarden/chemicals"
)

// Format is the format of the books that this package writes.
const Format = 1

// applicationID marks the file as a record book: "BWRB" in SQLite's header.
const applicationID = 0x42575242

//go:embed schema.sql
var schema string

// Mode says what a book is opened for.
type Mode int

// The modes.
const (
	ForReading Mode = iota + 1
	ForWriting
)

// Book is an open record book.
type Book struct {
	path string
	mode Mode
	db   *sql.DB // one connection
}

// surroundings is what opening depends on beside the file.
type surroundings struct {
	wait  time.Duration // for another writer
	share func(path string) (string, error)
}

func usual() surroundings { return surroundings{wait: 5 * time.Second, share: share} }

// Create makes an empty book, which nobody but its owner can read, and opens it
// for writing. An existing file is never touched.
func Create(path string) (*Book, error) { return usual().create(path) }

// Open opens a book.
func Open(path string, mode Mode) (*Book, error) { return usual().open(path, mode) }

// Close closes the book.
func (b *Book) Close() error { return translate(b.path, b.db.Close()) }

func (s surroundings) create(path string) (*Book, error) {
	if err := s.refuseShare(filepath.Dir(path), path); err != nil {
		return nil, err
	}
	for _, end := range []string{"-wal", "-journal"} {
		if _, err := os.Lstat(path + end); err == nil {
			return nil, troubled(ErrExists, path+end, "it is left of an earlier book of this name and would be mixed into the new one", "move it away together with that book, or choose another name")
		}
	}
	if err := newFile(path); err != nil {
		return nil, err
	}
	if err := s.lay(path); err != nil {
		return nil, errors.Join(translate(path, err), os.Remove(path))
	}
	return s.open(path, ForWriting)
}

// newFile makes an empty file for the owner alone.
func newFile(path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	switch {
	case errors.Is(err, fs.ErrExist):
		return troubled(ErrExists, path, "the file exists already", "choose another name, or move it away first")
	case err != nil:
		return fileProblem(path, err)
	}
	return f.Close()
}

// fileProblem says what the operating system said.
func fileProblem(path string, err error) error {
	what := err.Error()
	var said *fs.PathError
	if errors.As(err, &said) {
		what = said.Err.Error()
	}
	return &chemicals.Problem{Where: path, What: what, Mend: "check the path and the rights on its folder"}
}

// lay writes the tables into an empty file. The journal is not yet a WAL, so
// that the file is whole by itself when this returns.
func (s surroundings) lay(path string) error {
	db, err := s.connect(path, "synchronous(FULL)")
	if err != nil {
		return err
	}
	tx, err := db.Begin()
	if err != nil {
		return errors.Join(err, db.Close())
	}
	marks := fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d;\n", applicationID, Format)
	if _, err := tx.Exec(marks + schema); err != nil {
		return errors.Join(err, tx.Rollback(), db.Close())
	}
	return errors.Join(tx.Commit(), db.Close())
}

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
	pragmas := []string{"foreign_keys(1)", "synchronous(FULL)"}
	if mode == ForReading {
		// Not mode=ro: that leaves the files of the WAL behind.
		pragmas = append(pragmas, "query_only(1)")
	}
	db, err := s.connect(path, pragmas...)
	if err != nil {
		return nil, translate(path, err)
	}
	b := &Book{path: path, mode: mode, db: db}
	if err := b.look(); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	if mode == ForWriting {
		if err := b.journal(); err != nil {
			return nil, errors.Join(err, db.Close())
		}
	}
	return b, nil
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
	return nil
}

// connect opens an existing file with one connection.
func (s surroundings) connect(path string, pragmas ...string) (*sql.DB, error) {
	whole, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	slashed := filepath.ToSlash(whole)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed // C:/shop.book
	}
	query := url.Values{"mode": {"rw"}, "_txlock": {"immediate"}}
	query.Add("_pragma", fmt.Sprintf("busy_timeout(%d)", s.wait.Milliseconds()))
	for _, p := range pragmas {
		query.Add("_pragma", p)
	}
	address := url.URL{Scheme: "file", Path: slashed, RawQuery: query.Encode()}
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
	var id, format, last int64
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
	if err := b.db.QueryRow("SELECT coalesce(max(no), 0) FROM entries").Scan(&last); err != nil {
		return troubled(ErrDamaged, b.path, "the book's entries cannot be read: "+err.Error(), takeCopy)
	}
	return nil
}

// reading runs do on the book as it stands at one moment.
func (b *Book) reading(do func(*sql.Tx) error) error {
	return b.within(context.Background(), true, do)
}

// writing runs do alone; what it wrote stays only if it returns no error.
func (b *Book) writing(do func(*sql.Tx) error) error {
	if b.mode != ForWriting {
		return troubled(ErrReadOnly, b.path, "the book was opened for reading", "open it for writing")
	}
	return b.within(context.Background(), false, do)
}

func (b *Book) within(ctx context.Context, readOnly bool, do func(*sql.Tx) error) error {
	tx, err := b.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: readOnly})
	if err != nil {
		return translate(b.path, err)
	}
	if err := do(tx); err != nil {
		_ = tx.Rollback() // the first error tells more
		return translate(b.path, err)
	}
	if readOnly {
		return translate(b.path, tx.Rollback())
	}
	return translate(b.path, tx.Commit())
}
