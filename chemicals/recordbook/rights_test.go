//go:build unix

package recordbook

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Somebody who may read the file but not write it, nor anything beside it.
func TestABookThatMayNotBeWritten(t *testing.T) {
	if path := os.Getenv(other); path != "" {
		b, err := Open(path+".copy", ForReading)
		require.NoError(t, err, "a copy reads from a folder that is closed to writing")
		assert.EqualValues(t, 2, (&story{Book: b, t: t}).count())
		require.NoError(t, b.Close())
		readStill(t, path)
		_, err = Open(path, ForWriting)
		require.ErrorIs(t, err, ErrReadOnly)
		assert.False(t, Unusable(err))
		_, err = Open(path+".copy", ForWriting)
		require.ErrorIs(t, err, ErrReadOnly)
		_, err = Create(path + ".new")
		assert.ErrorContains(t, err, "permission denied")
		return
	}
	folder := openFolder(t)
	path := filepath.Join(folder, "shop.book")
	b, err := Create(path)
	require.NoError(t, err)
	_, err = b.Apply(sheet(t, twoTanks), Author{By: "Ada", At: time.Now()}, false)
	require.NoError(t, err)
	_, err = b.Copy(t.Context(), path+".copy")
	require.NoError(t, err)
	require.NoError(t, b.Close())
	for _, p := range []string{path, path + ".copy"} {
		require.NoError(t, os.Chmod(p, 0o444))
	}
	asStranger(t, folder, path)
}

// openFolder is a folder that others may enter.
func openFolder(t *testing.T) string {
	t.Helper()
	folder, err := os.MkdirTemp("", "shop")
	require.NoError(t, err)
	require.NoError(t, os.Chmod(folder, 0o755))
	t.Cleanup(func() {
		require.NoError(t, os.Chmod(folder, 0o700))
		require.NoError(t, os.RemoveAll(folder))
	})
	return folder
}

// asStranger runs the test again as somebody who may write nothing into its
// folder.
func asStranger(t *testing.T, folder, path string) {
	t.Helper()
	c := again(t, t.Name(), path)
	program, err := os.ReadFile(c.Path)
	require.NoError(t, err)
	c.Path = filepath.Join(folder, "test") // where another user may run it
	require.NoError(t, os.WriteFile(c.Path, program, 0o755))
	c.Dir = folder
	require.NoError(t, os.Chmod(folder, 0o555))
	if os.Geteuid() == 0 {
		const nobody = 65534 // root may write anything
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
	said, err := c.CombinedOutput()
	require.NoError(t, err, string(said))
	assert.Contains(t, string(said), "--- PASS: "+t.Name())
}

// readStill reads a book of two entries in every way from a folder that is
// closed to writing.
func readStill(t *testing.T, path string) {
	t.Helper()
	b, err := Open(path, ForReading)
	require.NoError(t, err, "a book reads from a folder that is closed to writing")
	last, err := b.Verify(t.Context())
	require.NoError(t, err)
	assert.EqualValues(t, 2, last.Entry)
	shop, err := b.Read(Reading{AsOf: "2026-12-31"})
	require.NoError(t, err)
	assert.EqualValues(t, 2, shop.Last.Entry)
	_, err = b.Apply(sheet(t, nickelBath), Author{By: "Ada", At: time.Now()}, true)
	require.NoError(t, err, "a dry run only reads")
	copied := filepath.Join(t.TempDir(), "copy.book")
	last, err = b.Copy(t.Context(), copied)
	require.NoError(t, err)
	assert.EqualValues(t, 2, last.Entry)
	require.NoError(t, b.Close())
}

// A crash, or a writer at work, leaves entries beside the file.
func TestABookWithEntriesBesideItWhereNothingMayBeWritten(t *testing.T) {
	const said = "what was written last still lies in "
	if path := os.Getenv(other); path != "" {
		for _, end := range []string{walEnd, rollbackEnd} {
			_, err := Open(path+end+".book", ForReading)
			require.ErrorIs(t, err, ErrReadOnly, end)
			assert.False(t, Unusable(err))
			assert.Contains(t, faults(t, err)[0], said+path+end+".book"+end)
		}
		readStill(t, path+".book")
		return
	}
	folder := openFolder(t)
	path := filepath.Join(folder, "shop")
	for end, content := range map[string]string{walEnd: "entries", rollbackEnd: "pages", "": ""} {
		book := path + end + ".book"
		b, err := Create(book)
		require.NoError(t, err)
		_, err = b.Apply(sheet(t, twoTanks), Author{By: "Ada", At: time.Now()}, false)
		require.NoError(t, err)
		require.NoError(t, b.Close())
		if end == "" {
			end = walEnd // an empty one holds nothing
		}
		require.NoError(t, os.WriteFile(book+end, []byte(content), 0o400))
		require.NoError(t, os.Chmod(book, 0o444))
	}
	asStranger(t, folder, path)
}

// Nothing tells a reader without locks of a writer but the file itself.
func TestABookThatIsWrittenWhileItIsReadWithoutLocks(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	require.NoError(t, s.Close())
	require.NoError(t, os.Chtimes(s.path, time.Time{}, s.now)) // a file system may count time in steps
	found, err := os.Stat(s.path)
	require.NoError(t, err)
	b, err := usual().openStill(s.path, found, nil)
	require.NoError(t, err)
	defer b.Close()
	_, err = b.Verify(t.Context())
	require.NoError(t, err)
	s.Book, err = Open(s.path, ForWriting)
	require.NoError(t, err)
	s.load("tank\ntank|purpose\nB7|plate")
	_, err = s.db.Exec("PRAGMA wal_checkpoint(TRUNCATE)")
	require.NoError(t, err)
	for what, try := range map[string]func() error{
		"verify": func() error { _, err := b.Verify(t.Context()); return err },
		"read":   func() error { _, err := b.Read(Reading{AsOf: "2026-12-31"}); return err },
		"copy":   func() error { _, err := b.Copy(t.Context(), filepath.Join(t.TempDir(), "c")); return err },
	} {
		err := try()
		assert.ErrorIs(t, err, ErrLocked, what)
		assert.ErrorContains(t, err, "somebody wrote into the book while it was read", what)
	}
}
