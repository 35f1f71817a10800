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
		_, err = Open(path, ForWriting)
		require.ErrorIs(t, err, ErrReadOnly)
		assert.False(t, Unusable(err))
		_, err = Open(path+".copy", ForWriting)
		require.ErrorIs(t, err, ErrReadOnly)
		_, err = Create(path + ".new")
		assert.ErrorContains(t, err, "permission denied")
		return
	}
	folder, err := os.MkdirTemp("", "shop")
	require.NoError(t, err)
	t.Cleanup(func() {
		require.NoError(t, os.Chmod(folder, 0o700))
		require.NoError(t, os.RemoveAll(folder))
	})
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
