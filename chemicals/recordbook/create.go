package recordbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"bathwarden/chemicals"
)

func (s surroundings) create(path string) (*Book, error) {
	if err := s.refuseShare(filepath.Dir(path), path); err != nil {
		return nil, err
	}
	if err := newFile(path); err != nil {
		return nil, err
	}
	b, err := s.fill(path)
	if err != nil {
		return nil, errors.Join(err, remove(path))
	}
	return b, nil
}

func (s surroundings) fill(path string) (*Book, error) {
	if err := s.lay(path); err != nil {
		return nil, translate(path, err)
	}
	return s.open(path, ForWriting)
}

// newFile makes an empty file for the owner alone, under a name of which no
// earlier book has left anything.
func newFile(path string) error {
	taken := troubled(ErrExists, path, "the file exists already", "choose another name, or move it away first")
	if _, err := os.Lstat(path); err == nil {
		return taken
	}
	for _, end := range []string{walEnd, rollbackEnd} {
		if _, err := os.Lstat(path + end); err == nil {
			return troubled(ErrExists, path+end, "it is left of an earlier book of this name and would be mixed into the new one", "move it away together with that book, or choose another name")
		}
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	switch {
	case errors.Is(err, fs.ErrExist):
		return taken
	case err != nil:
		return fileProblem(path, err)
	}
	return f.Close()
}

// fileProblem says what the operating system said.
func fileProblem(path string, err error) *chemicals.Problem {
	what := err.Error()
	var said *fs.PathError
	if errors.As(err, &said) {
		what = said.Err.Error()
	}
	return &chemicals.Problem{Where: path, What: what, Mend: "check the path and the rights on its folder"}
}

// The files that the database keeps beside a book while it is open.
const (
	walEnd      = "-wal"
	sharedEnd   = "-shm"
	rollbackEnd = "-journal"
)

// remove takes away a book that was just made, with all that lies beside it.
func remove(path string) error {
	var all []error
	for _, end := range []string{"", walEnd, sharedEnd, rollbackEnd} {
		if err := os.Remove(path + end); err != nil && !errors.Is(err, fs.ErrNotExist) {
			all = append(all, fileProblem(path+end, err))
		}
	}
	return errors.Join(all...)
}

// lay writes the tables into an empty file. The journal is not yet a WAL, so
// that the file is whole by itself when this returns.
func (s surroundings) lay(path string) error {
	db, err := s.connect(path, asFile, "synchronous(FULL)")
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
