package main

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/recordbook"
)

// writerName in the environment makes TestWriterToBeKilled write under that
// name, into the book that its working folder holds, until it is killed.
const writerName = "BATHWARDEN_TEST_WRITER"

// rowsOfLoad is the number of rows that such a writer loads at a time.
const rowsOfLoad = 25

// TestWriterToBeKilled is no test of its own: the tests below start it in
// processes of its own, and kill them. It records a row, then loads a sheet of
// several, and so on, and what the program prints is its acknowledgement.
func TestWriterToBeKilled(*testing.T) {
	name := os.Getenv(writerName)
	if name == "" {
		return
	}
	for n := 0; ; n++ {
		item := fmt.Sprintf("%s-%d", name, n)
		args := []string{"record", "check", "--date", "2026-05-01", "--item", item, "--by", name}
		if n%4 == 1 {
			args = []string{"load", name, "--by", name}
			writeLoad(name, item)
			item += " load"
		}
		fmt.Printf("start %s\n", item)
		if code := run(args, os.Stdout, os.Stderr); code != exitDone {
			os.Exit(code)
		}
		fmt.Printf("done %s\n", item)
	}
}

// writeLoad makes a folder with a sheet of checks.
func writeLoad(dir, item string) {
	var sheet strings.Builder
	sheet.WriteString("date,item,note\n")
	for i := range rowsOfLoad {
		fmt.Fprintf(&sheet, "2026-05-02,%s,row %d\n", item, i)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		panic(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "check.csv"), []byte(sheet.String()), 0o600); err != nil {
		panic(err)
	}
}

// writer is a process that writes until it is killed.
type writer struct {
	*exec.Cmd
	said   *bufio.Scanner
	stderr strings.Builder
}

func startWriter(t *testing.T, dir, name string) *writer {
	t.Helper()
	program, err := os.Executable()
	require.NoError(t, err)
	w := &writer{Cmd: exec.Command(program, "-test.run=^TestWriterToBeKilled$")}
	w.Dir = dir
	w.Env = append(os.Environ(), writerName+"="+name, "TMPDIR="+dir)
	w.Stderr = &w.stderr
	out, err := w.StdoutPipe()
	require.NoError(t, err)
	w.said = bufio.NewScanner(out)
	require.NoError(t, w.Start())
	require.True(t, w.said.Scan(), "the writer starts: %s", w.stderr.String())
	return w
}

// kill kills the process at once, wherever it is, and gives what it had
// acknowledged and what it had begun.
func (w *writer) kill(t *testing.T) (acknowledged, begun []string) {
	t.Helper()
	require.NoError(t, w.Process.Kill())
	begun = append(begun, strings.TrimPrefix(w.said.Text(), "start "))
	added := ""
	for w.said.Scan() {
		switch line := w.said.Text(); {
		case strings.HasPrefix(line, "start "):
			begun = append(begun, strings.TrimPrefix(line, "start "))
		case strings.HasPrefix(line, "added: ") && added == "", line == fmt.Sprintf("%d added", rowsOfLoad):
			added = begun[len(begun)-1]
			acknowledged = append(acknowledged, added)
		case strings.HasPrefix(line, "done "):
			require.Equal(t, added, strings.TrimPrefix(line, "done "), "what was done was acknowledged")
			added = ""
		}
	}
	assert.Error(t, w.Wait())
	assert.Equal(t, -1, w.ProcessState.ExitCode(), "the writer was killed, and did not end of itself: %s", w.stderr.String())
	return acknowledged, begun
}

// checks counts the checks of a book by their item, and how many entries it has.
func checks(t *testing.T, path string) (counts map[string]int, entries int64) {
	t.Helper()
	book, err := recordbook.Open(path, recordbook.ForReading)
	require.NoError(t, err)
	counts = map[string]int{}
	require.NoError(t, book.Entries(1, func(e recordbook.Entry) error {
		entries = e.Number
		counts[e.Body["item"]]++
		return nil
	}))
	require.NoError(t, book.Close())
	return counts, entries
}

// TestKilledWritersLoseNothing kills processes in the midst of writing: every
// entry that the program acknowledged is in the book, a load is there whole or
// not at all, and the chain holds.
func TestKilledWritersLoseNothing(t *testing.T) {
	rounds := 24
	if testing.Short() {
		rounds = 4
	}
	dir := t.TempDir()
	path := filepath.Join(dir, defaultBook)
	done(t, "init", "--book", path)
	random := rand.New(rand.NewPCG(9, 9))
	acknowledged, loads, started := 0, 0, time.Now()
	for round := range rounds {
		var writers []*writer
		for n := range 1 + round%2 {
			writers = append(writers, startWriter(t, dir, fmt.Sprintf("r%d-w%d", round, n)))
		}
		time.Sleep(time.Duration(10+random.IntN(290)) * time.Millisecond)
		var surely, perhaps []string
		for _, w := range writers {
			a, b := w.kill(t)
			assert.LessOrEqual(t, len(b)-len(a), 1, "only the last can be without an answer")
			surely, perhaps = append(surely, a...), append(perhaps, b...)
		}
		r := command(t, "verify", "--book", path)
		require.Equal(t, exitDone, r.code, "round %d: %s", round, r.err)
		counts, entries := checks(t, path)
		require.Contains(t, r.out, fmt.Sprintf(": %d entries fit together", entries))
		for _, item := range surely {
			assert.Equal(t, rowsOf(item), counts[strings.TrimSuffix(item, " load")], "round %d: %s was acknowledged", round, item)
		}
		for _, item := range perhaps {
			assert.Contains(t, []int{0, rowsOf(item)}, counts[strings.TrimSuffix(item, " load")], "round %d: %s is there whole or not at all", round, item)
			loads += rowsOf(item) / rowsOfLoad
		}
		acknowledged += len(surely)
	}
	assert.Greater(t, acknowledged, rounds/2, "the writers got too little done to show anything")
	assert.Positive(t, loads)
	t.Logf("%d acknowledged commands in %d rounds, %s", acknowledged, rounds, time.Since(started).Round(time.Millisecond))
	done(t, "record", "check", "--date", "2026-05-03", "--item", "after all", "--by", "plater", "--book", path)
	assert.Len(t, beside(t, dir), 0, "the next writer that ends in order leaves nothing beside the book")
}

func rowsOf(item string) int {
	if strings.HasSuffix(item, " load") {
		return rowsOfLoad
	}
	return 1
}

// beside are the files of the database next to the book.
func beside(t testing.TB, dir string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(dir, defaultBook+"-*"))
	require.NoError(t, err)
	return found
}

// sheetsOf makes a folder with a sheet of checks whose items bear a name.
func sheetsOf(t testing.TB, name string, rows int) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.Mkdir(dir, 0o700))
	text := "date,item\n"
	for i := range rows {
		text += fmt.Sprintf("2026-04-%02d,%s %d\n", 1+i%30, name, i)
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "check.csv"), []byte(text), 0o600))
	return dir
}

// wantWriters wants every row of both writers in the book, once.
func wantWriters(t *testing.T, path string, rows int) {
	t.Helper()
	assert.Contains(t, done(t, "verify", "--book", path), fmt.Sprintf(": %d entries fit together", 2*rows))
	counts, _ := checks(t, path)
	assert.Len(t, counts, 2*rows)
	for _, name := range []string{"left", "right"} {
		for i := range rows {
			assert.Equal(t, 1, counts[name+" "+strconv.Itoa(i)], "%s %d", name, i)
		}
	}
}

func TestTwoLoadsAtOnce(t *testing.T) {
	const rows = 200
	sheets := map[string]string{"left": sheetsOf(t, "left", rows), "right": sheetsOf(t, "right", rows)}
	for how, load := range map[string]func(args ...string) ran{
		"processes": separately,
		"threads":   func(args ...string) ran { return command(t, args...) },
	} {
		t.Run(how, func(t *testing.T) {
			for range 3 {
				path := filepath.Join(t.TempDir(), defaultBook)
				done(t, "init", "--book", path)
				var both sync.WaitGroup
				for name, dir := range sheets {
					both.Go(func() {
						r := load("load", dir, "--book", path, "--by", name)
						assert.Equal(t, exitDone, r.code, r.err)
					})
				}
				both.Wait()
				wantWriters(t, path, rows)
			}
		})
	}
}

// separately runs the program in a process of its own.
func separately(args ...string) ran {
	c := exec.Command("bathwarden", args...)
	var out, errs strings.Builder
	c.Stdout, c.Stderr = &out, &errs
	if err := c.Run(); c.ProcessState == nil {
		return ran{code: -1, err: err.Error()}
	}
	return ran{c.ProcessState.ExitCode(), out.String(), errs.String()}
}

func TestTwoWritersRecordAtOnce(t *testing.T) {
	const rows = 60
	path := filepath.Join(t.TempDir(), defaultBook)
	done(t, "init", "--book", path)
	var both sync.WaitGroup
	for _, name := range []string{"left", "right"} {
		both.Go(func() {
			for i := range rows {
				r := command(t, "record", "check", "--date", "2026-04-01", "--item", name+" "+strconv.Itoa(i), "--by", name, "--book", path)
				if !assert.Equal(t, exitDone, r.code, r.err) {
					return
				}
			}
		})
	}
	both.Wait()
	wantWriters(t, path, rows)
}

// TestABookHeldTooLongSaysSo holds the book for longer than a writer waits.
func TestABookHeldTooLongSaysSo(t *testing.T) {
	if testing.Short() {
		t.Skip("it waits as long as a writer does")
	}
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, defaultBook)
	done(t, "init", "--book", path)
	release := holdBook(t, path)
	c := exec.Command("bathwarden", "record", "check", "--date", "2026-04-01", "--item", "eyewash", "--by", "plater")
	var stderr strings.Builder
	c.Dir, c.Stderr = dir, &stderr
	assert.Error(t, c.Run())
	assert.Equal(t, exitFailed, c.ProcessState.ExitCode())
	assert.Equal(t, told("shop.bathwarden: another program has held the book for too long", "close it, or wait until it is done, and try again"), stderr.String())
	read := exec.Command("bathwarden", "verify")
	read.Dir = dir
	assert.NoError(t, read.Run(), "readers do not wait for a writer")
	release()
	assert.Contains(t, done(t, "verify", "--book", path), ": 0 entries fit together")
	done(t, "record", "check", "--date", "2026-04-01", "--item", "eyewash", "--by", "plater", "--book", path)
}
