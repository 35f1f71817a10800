// Package recordbook keeps the shop's record book: numbered, dated entries in
// one file, never erased, only corrected or withdrawn by later ones. Each entry
// carries a hash over its columns and the hash before it, so that a change or a
// gap anywhere shows when the chain is recomputed.
//
// Rows go in by Apply, Correct and Withdraw; what stands comes out by Read and
// Standing; Verify recomputes the chain. WriteJournal writes the entries as
// lines of text, from which LoadJournal makes them anew. The file is an SQLite
// database whose statements are in schema.sql.
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
	"io/fs"
	"time"
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

	still fs.FileInfo // of a book that is read without locks, as it was opened; else nil
}

// surroundings is what opening depends on beside the file.
type surroundings struct {
	wait  time.Duration // for another writer
	share func(path string) (string, error)
}

func usual() surroundings { return surroundings{wait: 5 * time.Second, share: share} }

// Create makes an empty book, which nobody but its owner can read, and opens it
// for writing. An existing file is never touched; if the book cannot be made,
// no file stays.
func Create(path string) (*Book, error) { return usual().create(path) }

// Open opens a book.
func Open(path string, mode Mode) (*Book, error) { return usual().open(path, mode) }

// Close closes the book.
func (b *Book) Close() error { return translate(b.path, b.db.Close()) }

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
	err := b.transact(ctx, readOnly, do)
	if moved := b.stillSo(); moved != nil {
		return moved // whatever else was met
	}
	if err != nil && ctx.Err() != nil {
		return ctx.Err()
	}
	return translate(b.path, err)
}

func (b *Book) transact(ctx context.Context, readOnly bool, do func(*sql.Tx) error) error {
	tx, err := b.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: readOnly})
	if err != nil {
		return err
	}
	if err := do(tx); err != nil {
		_ = tx.Rollback() // the first error tells more
		return err
	}
	if readOnly {
		return tx.Rollback()
	}
	return tx.Commit()
}
