package recordbook

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

func TestABookMayLieUnderAnyName(t *testing.T) {
	path := filepath.Join(t.TempDir(), "the shop's  book #1, 100%20 done?.bath&warden=ü")
	b, err := Create(path)
	require.NoError(t, err)
	require.NoError(t, b.Close())
	entries, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Len(t, entries, 1, "closing leaves files behind")
	assert.Equal(t, filepath.Base(path), entries[0].Name())
	b, err = Open(path, ForReading)
	require.NoError(t, err)
	require.NoError(t, b.Close())
	entries, err = os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, entries, 1, "reading leaves files behind")
}

func TestANewBookTakesNoFilesOfAnEarlierOne(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.book")
	require.NoError(t, os.WriteFile(path+"-wal", []byte("entries of another book"), 0o600))
	_, err := Create(path)
	assert.ErrorIs(t, err, ErrExists)
	assert.NoFileExists(t, path)
	_, err = Create(filepath.Join(filepath.Dir(path), "no such folder", "shop.book"))
	assert.ErrorContains(t, err, "shop.book: no such file or directory")
}

// talk fills several pages of a book.
func talk() string {
	text := "check\ndate|item|note"
	for i := range 40 {
		text += fmt.Sprintf("\n2026-02-02|eyewash %d|%s", i, strings.Repeat("much was said ", 100))
	}
	return text
}

func TestAFileThatIsNoWholeBookIsRefused(t *testing.T) {
	s := newStory(t)
	s.load(talk())
	copied := filepath.Join(t.TempDir(), "copy.book")
	_, err := s.Copy(context.Background(), copied)
	require.NoError(t, err)
	whole, err := os.ReadFile(copied)
	require.NoError(t, err)
	tests := map[string]struct {
		content []byte
		sql     string
		is      error
		want    string
	}{
		"empty":            {content: []byte{}, is: ErrDamaged, want: "not a record book"},
		"no database":      {content: []byte(strings.Repeat("a letter to a friend. ", 100)), is: ErrDamaged, want: "damaged or not a record book"},
		"cut off":          {content: whole[:len(whole)-8192], is: ErrDamaged, want: "damaged or not a record book"},
		"cut off early":    {content: whole[:300], is: ErrDamaged, want: "not a record book"},
		"another database": {content: whole, sql: "PRAGMA application_id = 7", is: ErrDamaged, want: "not a record book"},
		"newer":            {content: whole, sql: "PRAGMA user_version = 2", is: ErrNewer, want: "the book has format 2; this program reads up to 1"},
		"of no format":     {content: whole, sql: "PRAGMA user_version = 0", is: ErrDamaged, want: "format 0, which never was"},
		"without entries":  {content: whole, sql: "DROP TABLE entries", is: ErrDamaged, want: "entries cannot be read"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "shop.book")
			require.NoError(t, os.WriteFile(path, test.content, 0o600))
			if test.sql != "" {
				db, err := sql.Open("sqlite", path)
				require.NoError(t, err)
				_, err = db.Exec(test.sql)
				require.NoError(t, err)
				require.NoError(t, db.Close())
			}
			for _, mode := range []Mode{ForReading, ForWriting} {
				_, err := Open(path, mode)
				require.ErrorIs(t, err, test.is)
				assert.True(t, Unusable(err))
				assert.Contains(t, faults(t, err)[0], test.want)
			}
		})
	}
	_, err = Open(t.TempDir(), ForReading)
	assert.ErrorIs(t, err, ErrNoBook, "a folder is no book")
}

func TestDamageInsideTheFileShows(t *testing.T) {
	s := newStory(t)
	s.load(talk())
	path := filepath.Join(t.TempDir(), "copy.book")
	_, err := s.Copy(context.Background(), path)
	require.NoError(t, err)
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	const page = 4096
	for at := 3 * page; at < 5*page; at++ { // two pages in the midst
		content[at] = 0
	}
	require.NoError(t, os.WriteFile(path, content, 0o600))
	b, err := Open(path, ForReading)
	require.NoError(t, err)
	_, err = b.Verify(context.Background())
	assert.ErrorIs(t, err, ErrDamaged)
	require.NoError(t, b.Close())
}

func TestAnIndexThatLacksARowShows(t *testing.T) {
	s := fiveEntries(t)
	path := filepath.Join(t.TempDir(), "copy.book")
	_, err := s.Copy(context.Background(), path)
	require.NoError(t, err)
	var page int
	require.NoError(t, s.db.QueryRow("SELECT rootpage FROM sqlite_schema WHERE name = 'entries_by_day'").Scan(&page))
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	const size = 4096
	leaf := content[(page-1)*size : page*size]
	require.Contains(t, string(leaf), "tank2026-03-01")
	copy(leaf[strings.Index(string(leaf), "tank2026-03-01"):], "tank2036")
	require.NoError(t, os.WriteFile(path, content, 0o600))
	b, err := Open(path, ForReading)
	require.NoError(t, err)
	_, err = b.Verify(context.Background())
	assert.ErrorIs(t, err, ErrDamaged)
	assert.ErrorContains(t, err, "the file is damaged: ")
	require.NoError(t, b.Close())
}

func TestABookOnANetworkShareIsRefused(t *testing.T) {
	path := newStory(t).path
	onShare := usual()
	onShare.share = func(string) (string, error) { return "SMB", nil }
	for what, try := range map[string]func() (*Book, error){
		"create":         func() (*Book, error) { return onShare.create(path + ".new") },
		"open for read":  func() (*Book, error) { return onShare.open(path, ForReading) },
		"open for write": func() (*Book, error) { return onShare.open(path, ForWriting) },
	} {
		_, err := try()
		require.ErrorIs(t, err, ErrNetwork, what)
		assert.ErrorContains(t, err, "network share (SMB)", what)
		assert.False(t, Unusable(err), what)
	}
	assert.NoFileExists(t, path+".new")
}

func TestPathsThatNameAServer(t *testing.T) {
	for path, want := range map[string]bool{
		`\\server\share\shop.book`:         true,
		`//server/share/shop.book`:         true,
		`\\?\UNC\server\share\shop.book`:   true,
		`\\.\unc\server\share\shop.book`:   true,
		`\\?\C:\shop.book`:                 false,
		`C:\shop.book`:                     false,
		`\shop.book`:                       false,
		`shop.book`:                        false,
		`C:\\server\share\not a server`:    false,
		`relative\\server\share\shop.book`: false,
	} {
		assert.Equal(t, want, unc(path), path)
	}
}

func TestABookThatAnotherHoldsForTooLong(t *testing.T) {
	s := newStory(t)
	impatient := usual()
	impatient.wait = 20 * time.Millisecond
	other, err := impatient.open(s.path, ForWriting)
	require.NoError(t, err)
	defer other.Close()
	tx, err := s.db.Begin()
	require.NoError(t, err)
	_, err = other.Apply(sheet(t, twoTanks), s.author(), false)
	assert.ErrorIs(t, err, ErrLocked)
	_, err = other.Standing(chemicals.Kinds()[0], Known{})
	require.NoError(t, err, "a reader need not wait")
	require.NoError(t, tx.Rollback())
	_, err = other.Apply(sheet(t, twoTanks), s.author(), false)
	require.NoError(t, err)
}

func TestAFullDiskLeavesTheBookAsItWas(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	_, err := s.db.Exec("PRAGMA max_page_count = 12")
	require.NoError(t, err)
	many := "check\ndate|item"
	for i := range 500 {
		many += fmt.Sprintf("\n2026-02-02|eyewash %d", i)
	}
	_, err = s.Apply(sheet(t, many), s.author(), false)
	require.ErrorIs(t, err, ErrFull)
	assert.EqualValues(t, 2, s.count())
	_, err = s.Verify(context.Background())
	require.NoError(t, err)
}

func TestABookOpenedForReadingIsNotWritten(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	b, err := Open(s.path, ForReading)
	require.NoError(t, err)
	defer b.Close()
	_, err = b.db.Exec("CREATE TABLE other (a)")
	require.Error(t, err)
	out, err := b.Apply(sheet(t, nickelBath), s.author(), true)
	require.NoError(t, err, "a dry run only reads")
	assert.Equal(t, 3, out.Count(Added))
	_, err = b.Apply(sheet(t, nickelBath), s.author(), false)
	assert.ErrorIs(t, err, ErrReadOnly)
	_, err = b.LoadJournal(strings.NewReader(""))
	assert.ErrorIs(t, err, ErrReadOnly)

	last, err := b.Copy(context.Background(), filepath.Join(t.TempDir(), "copy.book"))
	require.NoError(t, err, "a copy may be taken all the same")
	assert.EqualValues(t, 2, last.Entry)
	_, err = b.db.Exec("CREATE TABLE other (a)")
	assert.Error(t, err, "and leaves the file closed to writing")
	assert.EqualValues(t, 2, s.count())
}

func TestACopyThatFailsLeavesNoFile(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	stopped, stop := context.WithCancel(context.Background())
	stop()
	to := filepath.Join(t.TempDir(), "copy.book")
	_, err := s.Copy(stopped, to)
	require.Error(t, err)
	assert.NoFileExists(t, to)
}

// The test program runs itself again with this variable to be another process.
const other = "RECORDBOOK_OTHER_PROCESS"

func again(t *testing.T, test, path string) *exec.Cmd {
	t.Helper()
	program, err := os.Executable()
	require.NoError(t, err)
	c := exec.Command(program, "-test.run=^"+test+"$", "-test.v")
	c.Env = append(os.Environ(), other+"="+path)
	return c
}

func TestTwoProcessesWriteAtOnce(t *testing.T) {
	const loads = 20
	if path := os.Getenv(other); path != "" {
		b, err := Open(path, ForWriting)
		require.NoError(t, err)
		for i := range loads {
			text := fmt.Sprintf("check\ndate|item\n2026-02-02|%d of %d", i, os.Getpid())
			_, err := b.Apply(sheet(t, text), Author{By: "Ada", At: time.Now()}, false)
			require.NoError(t, err)
		}
		require.NoError(t, b.Close())
		return
	}
	s := newStory(t)
	var both []*exec.Cmd
	var said [2]strings.Builder
	for i := range said {
		c := again(t, t.Name(), s.path)
		c.Stdout, c.Stderr = &said[i], &said[i]
		require.NoError(t, c.Start())
		both = append(both, c)
	}
	for i, c := range both {
		require.NoError(t, c.Wait(), said[i].String())
	}
	last, err := s.Verify(context.Background())
	require.NoError(t, err)
	assert.EqualValues(t, len(both)*loads, last.Entry)
}
