package main

import (
	"errors"
	"io/fs"
	"os"

	"github.com/google/renameio/v2/maybe"

	"bathwarden/chemicals"
)

// openFile opens a file, and nothing but a file, to be read.
func openFile(path string) (*os.File, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, &chemicals.Problem{Where: path, What: "the file cannot be opened: " + plainError(err), Mend: "check the path and its rights"}
	}
	if info, err := file.Stat(); err == nil && info.IsDir() {
		_ = file.Close()
		return nil, &chemicals.Problem{Where: path, What: "it is a folder", Mend: "name a file"}
	}
	return file, nil
}

// isThere is false only where the system says that nothing stands at a path.
func isThere(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

// free says why a file may not be written at a path, if something is there.
func free(path string, force bool) error {
	info, err := os.Lstat(path)
	switch {
	case err != nil: // writing will tell what else is wrong
		return nil
	case info.IsDir():
		return &chemicals.Problem{Where: path, What: "it is a folder", Mend: "choose another name, or a file in it"}
	case !force:
		return &chemicals.Problem{Where: path, What: "the file exists already", Mend: "choose another name, or replace it with --force"}
	}
	return nil
}

// writeFile writes aside and renames; the file is whole or not there.
func writeFile(path string, content []byte, force bool) error {
	if err := free(path, force); err != nil {
		return err
	}
	if err := maybe.WriteFile(path, content, 0o644); err != nil {
		return unwritten(path, err)
	}
	return nil
}

// unwritten says where a file could not be written and how to mend it. What has
// its place and hint already, such as damage to the book that is written out,
// stays as it is.
func unwritten(path string, err error) error {
	if _, told := errors.AsType[*chemicals.Problem](err); told {
		return err
	}
	return &chemicals.Problem{Where: path, What: "the file cannot be written: " + plainError(err), Mend: "check the folder, its rights and the room on the disk"}
}

// plainError is what the system said, without the path that the caller names.
func plainError(err error) string {
	var path *os.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err.Error()
	case errors.As(err, &link):
		return link.Err.Error()
	}
	return err.Error()
}

// removeBook takes away a book that could not be made whole, and the files that
// the database keeps beside it.
func removeBook(path string) {
	for _, beside := range []string{"", "-wal", "-shm", "-journal"} {
		_ = os.Remove(path + beside) // the error that led here tells more
	}
}
