// Command bathwarden keeps the hazard and discharge records of an
// electroplating shop and makes its papers from them.
//
// Exit codes: 0 done (gaps are listed on standard error); 1 could not; 2 wrong
// usage; 3 gaps were listed and --strict was given, or an expected figure did
// not hold; 4 the book is missing, damaged or of a newer format.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"
	_ "time/tzdata" // the shop's time zone must be known on every machine
	"unicode"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/recordbook"
	"bathwarden/chemicals/working"
)

// program is the name and version that reports carry.
const program = "bathwarden 0.1.0"

// The exit codes.
const (
	exitDone = iota
	exitFailed
	exitUsage
	exitGaps
	exitBook
)

func main() {
	debug.SetGCPercent(200) // a command runs for seconds at most: fewer collections for some ten MB more
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

// run is main without the process: it returns the exit code.
func run(args []string, stdout, stderr io.Writer) int {
	root := newRoot(args)
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.Execute()
	if err == nil {
		return exitDone
	}
	if !errors.As(err, new(listedError)) {
		printError(stderr, err)
	}
	return exitCode(err)
}

// usageError is a fault in how the command was given.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// listedError ends a command whose findings have been printed already.
type listedError struct{ code int }

func (e listedError) Error() string { return fmt.Sprintf("exit code %d", e.code) }

func exitCode(err error) int {
	var listed listedError
	switch {
	case errors.As(err, &listed):
		return listed.code
	case errors.As(err, new(usageError)):
		return exitUsage
	case recordbook.Unusable(err):
		return exitBook
	}
	return exitFailed
}

// printError prints every fault that err joins, each with its hint.
func printError(w io.Writer, err error) {
	for _, one := range unjoin(err) {
		what, mend := describe(one)
		fmt.Fprintf(w, "error: %s\n", oneLine(what))
		if mend != "" {
			fmt.Fprintf(w, "hint: %s\n", oneLine(mend))
		}
	}
}

func describe(err error) (what, mend string) {
	var problem *chemicals.Problem
	var refusal *quantity.Refusal
	var fault *working.Fault
	switch {
	case errors.As(err, &problem):
		return problem.Error(), problem.Mend
	case errors.As(err, &fault):
		return fault.Error(), fault.Mend
	case errors.As(err, &refusal):
		return refusal.What, refusal.Mend
	}
	return err.Error(), ""
}

func unjoin(err error) []error {
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		if usage, isUsage := err.(usageError); isUsage {
			return unjoin(usage.error)
		}
		return []error{err}
	}
	var all []error
	for _, one := range joined.Unwrap() {
		all = append(all, unjoin(one)...)
	}
	return all
}

// oneLine keeps a message on its line whatever text it quotes, and shows by
// their numbers the signs that would steer a terminal or turn the direction of
// writing.
func oneLine(text string) string {
	if !strings.ContainsFunc(text, steers) {
		return text
	}
	var line strings.Builder
	for _, r := range text {
		switch {
		case unicode.IsSpace(r):
			line.WriteByte(' ')
		case steers(r):
			fmt.Fprintf(&line, "<%U>", r)
		default:
			line.WriteRune(r)
		}
	}
	return line.String()
}

func steers(r rune) bool {
	return unicode.IsControl(r) || '\u202a' <= r && r <= '\u202e' || '\u2066' <= r && r <= '\u2069'
}
