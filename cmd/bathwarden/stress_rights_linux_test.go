package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stranger is a user who owns nothing. Root may write where the rights forbid
// it, so under root the program has to run as somebody else for rights to count.
const stranger = 65534

// strangersFolder is a folder that others may enter, with a program in it that
// they may run; run runs it there as the stranger.
func strangersFolder(t *testing.T) (dir string, run func(words string) ran) {
	t.Helper()
	// The folders of t.TempDir are closed to others.
	root, err := os.MkdirTemp("", "rights")
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, os.RemoveAll(root)) })
	dir = filepath.Join(root, "shop")
	require.NoError(t, os.Chmod(root, 0o755))
	require.NoError(t, os.Mkdir(dir, 0o755))
	itself, err := os.Executable()
	require.NoError(t, err)
	text, err := os.ReadFile(itself)
	require.NoError(t, err)
	program := filepath.Join(root, "bathwarden")
	require.NoError(t, os.WriteFile(program, text, 0o755))
	run = func(words string) ran {
		t.Helper()
		c := exec.Command(program, strings.Fields(words)...)
		var out, errs strings.Builder
		c.Dir, c.Stdout, c.Stderr = dir, &out, &errs
		if os.Getuid() == 0 {
			c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: stranger, Gid: stranger}}
		}
		if err := c.Run(); c.ProcessState == nil {
			why := "the program cannot be run as another user: " + err.Error()
			if os.Getenv("CI") == "true" {
				t.Fatal(why)
			}
			t.Skip(why)
		}
		return ran{c.ProcessState.ExitCode(), out.String(), errs.String()}
	}
	return dir, run
}

const recordOne = "record check --date 2026-05-02 --item eyewash --by plater"

func TestBooksThatMayNotBeWritten(t *testing.T) {
	dir, run := strangersFolder(t)
	path := filepath.Join(dir, defaultBook)
	smallBook(t, path)
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	const mend = "check the rights on the file and its folder, or copy it to a folder of your own"
	forbidden := told("shop.bathwarden: the book cannot be written", mend)
	closed := told("shop.bathwarden: the book or a file beside it cannot be opened", mend)
	for _, c := range []struct {
		name         string
		folder, file os.FileMode
		want         string
	}{
		{"a file that may be read", 0o777, 0o444, forbidden},
		{"a file and a folder that may be read", 0o555, 0o444, forbidden},
		{"a file that may not be read", 0o777, 0o000, closed},
		{"a file in a folder, neither to be read", 0o555, 0o000, closed},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NoError(t, os.Chmod(path, c.file))
			require.NoError(t, os.Chmod(dir, c.folder))
			defer os.Chmod(dir, 0o755)
			for _, words := range []string{recordOne, "withdraw 30 --by plater --why slip", "correct 1 contact=office --by plater --why slip"} {
				assert.Equal(t, ran{code: exitFailed, err: c.want}, run(words), words)
			}
			require.NoError(t, os.Chmod(path, 0o644))
			after, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.Equal(t, whole, after)
		})
	}
	assert.Contains(t, done(t, "verify", "--book", path), ": 36 entries fit together")
}

func TestABookThatMayOnlyBeReadIsRead(t *testing.T) {
	dir, run := strangersFolder(t)
	path := filepath.Join(dir, defaultBook)
	smallBook(t, path)
	require.NoError(t, os.Chmod(path, 0o444))
	require.NoError(t, os.Chmod(dir, 0o777))
	assert.Equal(t, done(t, "verify", "--book", path), strings.Replace(run("verify").out, defaultBook, path, 1))
	assert.Equal(t, done(t, "list", "tank", "--book", path), run("list tank").out)
	assert.Equal(t, exitDone, run("copy kept").code)
	assert.Equal(t, exitDone, run("export kept.jsonl").code)
	assert.Equal(t, exitDone, run("report inventory -o page.pdf").code)
}

// TestACopyInAFolderThatMayOnlyBeRead is a copy put away, as on a locked stick.
func TestACopyInAFolderThatMayOnlyBeRead(t *testing.T) {
	dir, run := strangersFolder(t)
	path := filepath.Join(dir, defaultBook)
	book := filepath.Join(t.TempDir(), defaultBook)
	smallBook(t, book)
	done(t, "copy", path, "--book", book)
	require.NoError(t, os.Chmod(path, 0o444))
	require.NoError(t, os.Chmod(dir, 0o555))
	defer os.Chmod(dir, 0o755)
	assert.Equal(t, done(t, "verify", "--book", book), strings.Replace(run("verify").out, defaultBook, book, 1))
	assert.Equal(t, done(t, "list", "tank", "--book", book), run("list tank").out)
	assert.Equal(t, exitFailed, run(recordOne).code)
	assert.Len(t, contents(t, dir), 1)
}

func TestFoldersThatMayNotBeWritten(t *testing.T) {
	dir, run := strangersFolder(t)
	path := filepath.Join(dir, defaultBook)
	book := filepath.Join(t.TempDir(), defaultBook)
	smallBook(t, book)
	done(t, "copy", path, "--book", book)
	require.NoError(t, os.Chmod(path, 0o444))
	require.NoError(t, os.Chmod(dir, 0o555))
	defer os.Chmod(dir, 0o755)
	before := contents(t, dir)
	for words, want := range map[string]string{
		"report inventory -o page.pdf":  told("page.pdf: the file cannot be written: permission denied", "check the folder, its rights and the room on the disk"),
		"report inventory -o page.xlsx": told("page.xlsx: the file cannot be written: permission denied", "check the folder, its rights and the room on the disk"),
		"export kept.jsonl":             told("kept.jsonl: the file cannot be written: permission denied", "check the folder, its rights and the room on the disk"),
		"export kept.xlsx":              told("kept.xlsx: the file cannot be written: permission denied", "check the folder, its rights and the room on the disk"),
		"export kept":                   told("kept: cannot be made a folder: permission denied", "check the path and who may use it"),
		"copy kept.bathwarden":          told("kept.bathwarden: permission denied", "check the path and the rights on its folder"),
		"init --book new.bathwarden":    told("new.bathwarden: permission denied", "check the path and the rights on its folder"),
		"demo":                          told("fernhollow: the folder cannot be made: permission denied", "check the path and its rights"),
	} {
		assert.Equal(t, ran{code: exitFailed, err: want}, run(words), words)
	}
	unchanged(t, before, dir)
}
