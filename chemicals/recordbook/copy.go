package recordbook

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"bathwarden/chemicals"
)

// Copy writes the whole book into a new file and verifies it there. A copy may
// lie on a network share, where it can be kept but not opened as a book.
func (b *Book) Copy(ctx context.Context, path string) (chemicals.LastEntry, error) {
	var last chemicals.LastEntry
	if err := newFile(path); err != nil {
		return last, err
	}
	err := b.pour(ctx, path)
	if err == nil {
		last, err = b.compare(ctx, path)
	}
	if moved := b.stillSo(); moved != nil {
		err = moved
	}
	if err != nil {
		return chemicals.LastEntry{}, errors.Join(err, remove(path))
	}
	return last, nil
}

// pour writes the book into an empty file and onto the disk.
func (b *Book) pour(ctx context.Context, path string) error {
	conn, err := b.db.Conn(ctx)
	if err != nil {
		return translate(b.path, err)
	}
	defer conn.Close()
	if b.mode == ForReading {
		// It refuses to write any file, the copy too.
		if _, err := conn.ExecContext(ctx, "PRAGMA query_only = 0"); err != nil {
			return translate(b.path, err)
		}
		defer conn.ExecContext(context.WithoutCancel(ctx), "PRAGMA query_only = 1")
	}
	whole, err := filepath.Abs(path) // SQLite reads meaning into names such as :memory:
	if err != nil {
		return fileProblem(path, err)
	}
	if _, err := conn.ExecContext(ctx, "VACUUM INTO $1", whole); err != nil {
		return b.blame(ctx, path, err)
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return fileProblem(path, err)
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return fileProblem(path, err)
	}
	return nil
}

// blame says whose fault it is that a copy cannot be written: what is wrong with
// what stands in the file is the book's, what the disk refuses is the copy's.
func (b *Book) blame(ctx context.Context, path string, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	ours := translate(b.path, err)
	if errors.Is(ours, ErrDamaged) || errors.Is(ours, ErrLocked) {
		return ours
	}
	return translate(path, err)
}

// compare verifies a copy and checks that it is a beginning of this book:
// somebody may have written since. What is wrong with a copy that was just
// made is most often wrong with the book.
func (b *Book) compare(ctx context.Context, path string) (chemicals.LastEntry, error) {
	last, err := verifyCopy(ctx, path)
	if err != nil {
		if _, ours := b.Verify(ctx); ours != nil {
			err = ours
		}
		return last, err
	}
	if last.Entry == 0 {
		return last, nil
	}
	own, err := b.Entry(last.Entry)
	if err == nil && own.Hash != last.Hash {
		err = &chemicals.Problem{Where: path, What: fmt.Sprintf("entry %d of the copy is not that of the book", last.Entry), Mend: "verify the book, then copy again"}
	}
	return last, err
}

func verifyCopy(ctx context.Context, path string) (chemicals.LastEntry, error) {
	anywhere := usual()
	anywhere.share = func(string) (string, error) { return "", nil }
	c, err := anywhere.open(path, ForReading)
	if err != nil {
		return chemicals.LastEntry{}, err
	}
	last, err := c.Verify(ctx)
	return last, errors.Join(err, c.Close())
}
