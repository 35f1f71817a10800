package recordbook

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// smallDisk mounts a file system of a few kilobytes, kept in memory. Only root
// may mount; where even root may not, the test of a write limit shows the same.
func smallDisk(t *testing.T, kilobytes int) string {
	t.Helper()
	if os.Getuid() != 0 {
		t.Skip("only root may mount a small file system")
	}
	dir := t.TempDir()
	if err := unix.Mount("none", dir, "tmpfs", 0, fmt.Sprintf("size=%dk", kilobytes)); err != nil {
		t.Skipf("a small file system cannot be mounted: %v", err)
	}
	t.Cleanup(func() { assert.NoError(t, unix.Unmount(dir, unix.MNT_DETACH)) })
	return dir
}

// fill takes the room of a disk but for some kilobytes.
func fill(t *testing.T, dir string, leave int) {
	t.Helper()
	filler := filepath.Join(dir, "filler")
	require.NoError(t, os.WriteFile(filler, nil, 0o600))
	var disk unix.Statfs_t
	require.NoError(t, unix.Statfs(dir, &disk))
	room := int(disk.Bavail)*int(disk.Bsize) - leave<<10
	require.Positive(t, room)
	require.NoError(t, os.WriteFile(filler, make([]byte, room), 0o600))
}

// files are the names in a folder.
func files(t *testing.T, dir string) []string {
	t.Helper()
	found, err := os.ReadDir(dir)
	require.NoError(t, err)
	var names []string
	for _, f := range found {
		names = append(names, f.Name())
	}
	return names
}

// openings are the ways to come by a book, of which each wants room.
func openings(dir string) map[string]func() error {
	shop := filepath.Join(dir, "shop.book")
	return map[string]func() error{
		"read":   func() error { return closed(Open(shop, ForReading)) },
		"write":  func() error { return closed(Open(shop, ForWriting)) },
		"create": func() error { return closed(Create(filepath.Join(dir, "new.book"))) },
	}
}

func closed(b *Book, err error) error {
	if err != nil {
		return err
	}
	return b.Close()
}

func TestADiskWithoutRoomSaysSoAndKeepsNothing(t *testing.T) {
	dir := smallDisk(t, 256)
	require.NoError(t, closed(Create(filepath.Join(dir, "shop.book"))))
	for leave := 0; leave <= 28; leave += 4 { // the database wants 32 kB beside the book
		fill(t, dir, leave)
		for what, try := range openings(dir) {
			err := try()
			require.ErrorIs(t, err, ErrFull, "%s with %d kB left", what, leave)
			assert.Contains(t, faults(t, err)[0], "the disk is full", what)
			assert.Equal(t, []string{"filler", "shop.book"}, files(t, dir), "%s with %d kB left", what, leave)
		}
	}
	fill(t, dir, 64)
	for what, try := range openings(dir) {
		require.NoError(t, try(), what)
	}
}

func TestAFullDiskTakesNoCopy(t *testing.T) {
	dir := smallDisk(t, 256)
	s := newStory(t)
	s.load(twoTanks)
	fill(t, dir, 4)
	_, err := s.Copy(t.Context(), filepath.Join(dir, "copy.book"))
	require.ErrorIs(t, err, ErrFull)
	assert.Equal(t, []string{filepath.Join(dir, "copy.book") + ": the disk is full; nothing was written"}, faults(t, err))
	assert.Equal(t, []string{"filler"}, files(t, dir))
}

// The system may refuse to make a file longer than a limit.
func TestAWriteLimitSaysSoAndKeepsNothing(t *testing.T) {
	if path := os.Getenv(other); path != "" {
		dir := filepath.Dir(path)
		for limit := uint64(0); limit < 32; limit += 4 {
			require.NoError(t, unix.Setrlimit(unix.RLIMIT_FSIZE, &unix.Rlimit{Cur: limit << 10, Max: unix.RLIM_INFINITY}))
			for what, try := range openings(dir) {
				err := try()
				require.ErrorIs(t, err, ErrFull, "%s up to %d kB", what, limit)
				assert.Regexp(t, `^[^:]*: (the disk is full, or no more may be written|the book cannot be written): [^()]*$`, faults(t, err)[0], what)
				assert.Equal(t, []string{"shop.book"}, files(t, dir), "%s up to %d kB", what, limit)
			}
		}
		return
	}
	path := filepath.Join(t.TempDir(), "shop.book")
	require.NoError(t, closed(Create(path)))
	said, err := again(t, t.Name(), path).CombinedOutput()
	require.NoError(t, err, string(said))
	assert.Contains(t, string(said), "--- PASS: "+t.Name())
	assert.NoError(t, openings(filepath.Dir(path))["create"]())
}

// What lies beside a book that somebody has open is not the sweeper's.
func TestOnlyWhatNobodyUsesIsSweptAway(t *testing.T) {
	if path := os.Getenv(other); path != "" {
		usual().sweep(path)
		return
	}
	s := newStory(t)
	s.load(twoTanks)
	dir := filepath.Dir(s.path)
	before := files(t, dir)
	require.Len(t, before, 3, "an open book has two files beside it")
	usual().sweep(s.path)
	said, err := again(t, t.Name(), s.path).CombinedOutput()
	require.NoError(t, err, string(said))
	assert.Equal(t, before, files(t, dir))
	s.load("tank\ntank|purpose\nB7|plate")
	_, err = s.Verify(t.Context())
	require.NoError(t, err)
}
