package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// smallDisk mounts a file system of a few kilobytes, kept in memory, and makes
// it the working folder. Only root may mount. Where even root may not, as in
// many containers, TestAWriteLimitLeavesNothingBehind shows the same without.
func smallDisk(t *testing.T, kilobytes int) {
	t.Helper()
	if os.Getuid() != 0 {
		t.Skip("only root may mount a small file system")
	}
	dir := t.TempDir()
	if err := unix.Mount("none", dir, "tmpfs", 0, fmt.Sprintf("size=%dk", kilobytes)); err != nil {
		t.Skipf("a small file system cannot be mounted: %v", err)
	}
	t.Cleanup(func() { assert.NoError(t, unix.Unmount(dir, unix.MNT_DETACH)) })
	t.Chdir(dir)
}

// fill takes the room of the disk but for some kilobytes.
func fill(t testing.TB, leave int) {
	t.Helper()
	var disk unix.Statfs_t
	require.NoError(t, unix.Statfs(".", &disk))
	room := int(disk.Bavail)*int(disk.Bsize) - leave<<10
	require.Positive(t, room)
	require.NoError(t, os.WriteFile("filler", make([]byte, room), 0o600))
}

// bigSheets makes a folder with a sheet of about 2 MB.
func bigSheets(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	var text strings.Builder
	text.WriteString("date,item,note\n")
	for i := range 12000 {
		fmt.Fprintf(&text, "2026-04-%02d,walk %d,%s\n", 1+i%30, i, strings.Repeat("all is well ", 10))
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "check.csv"), []byte(text.String()), 0o600))
	return dir
}

func TestAFullDiskLeavesEverythingAsItWas(t *testing.T) {
	book, entries := exampleFile(t)
	big := bigSheets(t)
	smallDisk(t, len(book)>>10+256)
	require.NoError(t, os.WriteFile(defaultBook, book, 0o600))
	const full = "the disk is full; nothing was written"
	const room = "make room and try again"
	hash := done(t, "verify")
	before := contents(t, ".")

	// There is room for the book's working files, and for a row, but for no
	// more.
	assert.Equal(t, ran{code: exitFailed, err: told("shop.bathwarden: "+full, room)}, command(t, "load", big, "--by", "plater"))
	unchanged(t, before, ".")

	fill(t, 44)
	before = contents(t, ".")
	outputs := map[string]string{
		"report inventory -o page.pdf":  told("page.pdf: the file cannot be written: no space left on device", "check the folder, its rights and the room on the disk"),
		"report inventory -o page.xlsx": told("page.xlsx: the file cannot be written: no space left on device", "check the folder, its rights and the room on the disk"),
		"report inventory -o page.txt":  told("page.txt: the file cannot be written: no space left on device", "check the folder, its rights and the room on the disk"),
		"copy kept.bathwarden":          told("kept.bathwarden: "+full, room),
		"export kept.jsonl":             "",
		"export kept.xlsx":              "",
		"load " + big:                   told("shop.bathwarden: "+full, room),
	}
	for words, want := range outputs {
		t.Run(words, func(t *testing.T) {
			r := command(t, strings.Fields(words)...)
			assert.Equal(t, exitFailed, r.code, r.err)
			assert.Empty(t, r.out)
			assert.Contains(t, r.err, "error: ")
			if want != "" {
				assert.Equal(t, want, r.err)
			}
			unchanged(t, before, ".")
		})
	}
	assert.Equal(t, hash, done(t, "verify"))

	require.NoError(t, os.Remove("filler"))
	done(t, "record", "check", "--date", "2026-09-30", "--item", "eyewash", "--by", "plater")
	assert.Contains(t, done(t, "verify"), fmt.Sprintf(": %d entries fit together", entries+1))
}

// TestADiskWithoutAnyRoom has no room even for the files that the database
// keeps beside the book while it is open.
func TestADiskWithoutAnyRoom(t *testing.T) {
	smallDisk(t, 256)
	smallBook(t, defaultBook)
	whole, err := os.ReadFile(defaultBook)
	require.NoError(t, err)
	fill(t, 0)
	for _, words := range []string{"record check --date 2026-05-02 --item eyewash --by plater", "withdraw 30 --by plater --why slip", "init --book other.bathwarden"} {
		r := command(t, strings.Fields(words)...)
		assert.Equal(t, exitFailed, r.code, "%s: %s", words, r.err)
		assert.Regexp(t, `^error: .*\nhint: .*\n$`, r.err, words)
		after, err := os.ReadFile(defaultBook)
		require.NoError(t, err)
		assert.Equal(t, whole, after, words)
	}
	assert.NoFileExists(t, "other.bathwarden")
	require.NoError(t, os.Remove("filler"))
	assert.Contains(t, done(t, "verify"), ": 36 entries fit together")
	assert.Empty(t, beside(t, "."), "what the database laid down goes when there is room")
}

// TestAWriteLimitLeavesNothingBehind has the system refuse to make any file
// longer than a limit, as a disk does that fills up while it is written to.
func TestAWriteLimitLeavesNothingBehind(t *testing.T) {
	shell, err := exec.LookPath("sh")
	require.NoError(t, err)
	book, entries := exampleFile(t)
	big := bigSheets(t)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile(defaultBook, book, 0o600))
	hash := done(t, "verify")
	tries := []string{"report inventory -o page.pdf", "report inventory -o page.xlsx", "report inventory -o page.txt", "copy kept", "export kept.jsonl", "export kept.xlsx", "load " + big}
	before := contents(t, ".")
	for _, words := range tries {
		t.Run(words, func(t *testing.T) {
			const blocks = 72 // of 512 bytes; the database wants 32 KiB to open the book at all
			c := exec.Command(shell, append([]string{"-c", fmt.Sprintf(`ulimit -f %d; exec bathwarden "$@"`, blocks), "sh"}, strings.Fields(words)...)...)
			var out, errs strings.Builder
			c.Stdout, c.Stderr = &out, &errs
			assert.Error(t, c.Run())
			assert.Equal(t, exitFailed, c.ProcessState.ExitCode(), errs.String())
			assert.Empty(t, out.String())
			assert.Regexp(t, `^error: .*\n`, errs.String())
			// A reader that is not limited takes up what the limited one had to leave.
			assert.Equal(t, hash, done(t, "verify"))
			unchanged(t, before, ".")
		})
	}
	done(t, "record", "check", "--date", "2026-09-30", "--item", "eyewash", "--by", "plater")
	assert.Contains(t, done(t, "verify"), fmt.Sprintf(": %d entries fit together", entries+1))
}
