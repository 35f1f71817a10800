package recordbook_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

// writerEnv names the book that a child process writes into until it is killed.
const writerEnv = "RECORDBOOK_TEST_WRITER"

func TestMain(m *testing.M) {
	if path := os.Getenv(writerEnv); path != "" {
		if err := writeUntilKilled(path); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// writeUntilKilled records one check after the other and says the number of
// each entry when the book has acknowledged it.
func writeUntilKilled(path string) error {
	b, err := recordbook.Open(path, recordbook.ForWriting)
	if err != nil {
		return err
	}
	kind, err := chemicals.KindOf("check")
	if err != nil {
		return err
	}
	for i := 0; ; i++ {
		row := chemicals.Row{Kind: kind, Given: map[string]chemicals.Cell{
			"date": {Text: "2026-06-01"}, "item": {Text: fmt.Sprintf("writer %d, look %d", os.Getpid(), i)},
		}}
		out, err := b.Apply([]chemicals.Row{row}, recordbook.Author{By: "plater", At: time.Unix(0, 0)}, false)
		switch {
		case errors.Is(err, recordbook.ErrLocked):
			continue // on a busy computer the other writer may get every turn
		case err != nil:
			return err
		}
		fmt.Println(out.Changes[0].Entry)
		time.Sleep(time.Millisecond) // leaves the other writer a turn
	}
}

// startWriter starts a child, waits for its first entry, and gives a function
// that kills it and returns the entries that it had acknowledged.
func startWriter(t *testing.T, path string) (kill func() []int64) {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), writerEnv+"="+path)
	c.Stderr = os.Stderr
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	said, begun := make(chan []int64, 1), make(chan bool, 1)
	go func() {
		var entries []int64
		for lines := bufio.NewScanner(out); lines.Scan(); {
			if n, err := strconv.ParseInt(lines.Text(), 10, 64); err == nil {
				entries = append(entries, n)
				if len(entries) == 1 {
					begun <- true
				}
			}
		}
		said <- entries
	}()
	select {
	case <-begun:
	case <-time.After(time.Minute):
		_ = c.Process.Kill()
		require.Fail(t, "the writer does not begin")
	}
	return func() []int64 {
		require.NoError(t, c.Process.Kill())
		entries := <-said
		_ = c.Wait() // it was killed
		return entries
	}
}

func TestAKilledWriterLosesNoAcknowledgedEntry(t *testing.T) {
	rounds := 24
	if testing.Short() {
		rounds = 4
	}
	random := rand.New(rand.NewPCG(1, 2))
	path := filepath.Join(t.TempDir(), "shop.bathwarden")
	b, err := recordbook.Create(path)
	require.NoError(t, err)
	require.NoError(t, b.Close())
	total := 0
	for round := range rounds {
		kills := []func() []int64{startWriter(t, path)}
		if round%3 == 0 {
			kills = append(kills, startWriter(t, path))
		}
		time.Sleep(time.Duration(random.IntN(60)) * time.Millisecond)
		var acknowledged []int64
		for _, kill := range kills {
			acknowledged = append(acknowledged, kill()...)
		}
		book, err := recordbook.Open(path, recordbook.ForReading)
		require.NoError(t, err)
		last, err := book.Verify(context.Background())
		require.NoError(t, err, "round %d", round)
		for _, n := range acknowledged {
			assert.LessOrEqual(t, n, last.Entry, "round %d: an acknowledged entry is gone", round)
		}
		total += len(acknowledged)
		require.NoError(t, book.Close())
	}
	assert.Greater(t, total, 2*rounds, "the writers wrote too little for this to show anything")
}

func TestAFileThatIsNoBookStaysAsItIs(t *testing.T) {
	path := filepath.Join(t.TempDir(), "other.db")
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	require.NoError(t, raw(t, path, "CREATE TABLE other (a)"))
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	_, err = recordbook.Open(path, recordbook.ForWriting)
	require.ErrorIs(t, err, recordbook.ErrDamaged)
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, before, after, "another program's file was rewritten")
}
