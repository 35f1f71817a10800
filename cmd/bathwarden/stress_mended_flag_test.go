package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEveryCommandReadsEveryFlag: each of these does its work, and with a flag of
// all commands that cannot be read each refuses before it does anything.
func TestEveryCommandReadsEveryFlag(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	require.NoError(t, os.CopyFS("sheets", smallSheets))
	before := contents(t, ".")
	commands := []string{
		"init --book new", "load sheets --dry-run", "export e.jsonl", "export e.xlsx", "export e", "record check --date 2026-05-02 --item eyewash --by plater",
		"correct 16 title=a --by plater --why slip", "withdraw 32 --by plater --why slip", "list", "list tank", "history", "history tank N1", "verify", "copy c.b", "demo",
		"hazards", "hazards N1", "rinse", "discharge", "report inventory", "report inspection -o i.pdf", "report rinsewater",
		"calc", "calc convert to=oz/gal value=5g/L", "sources", "explain", "explain tank", "version",
	}
	have := map[string]bool{}
	for _, c := range commands {
		have[strings.Fields(c)[0]] = true
	}
	for _, c := range newRoot(nil).Commands() {
		assert.True(t, have[c.Name()], "%s is not tried", c.Name())
	}
	const notADay = "write it as year-month-day: 2026-03-31"
	faults := map[string]string{
		"--as-of zz":        told(`--as-of: "zz" is not a day`, notADay),
		"--period zz":       told(`--period: "zz" is not a period`, "write 2026-03, 2026-H1, 2026, or two days as 2026-03-01..2026-03-31"),
		"--known-by zz":     told(`--known-by: "zz" is neither the number of an entry nor a day`, "write the number of an entry, as history shows it, or a day as year-month-day: 2026-03-31"),
		"--units furlong":   told(`--units: "furlong" is not a system of units`, "write metric or us"),
		"--period 2026-14":  told(`--period: "2026-14" names the month 14, which no year has`, "write a month from 01 to 12, such as 2026-03"),
		"--period 2026-00":  told(`--period: "2026-00" names the month 00, which no year has`, "write a month from 01 to 12, such as 2026-03"),
		"--known-by 2026-3": told(`--known-by: "2026-3" is neither the number of an entry nor a day`, "write the number of an entry, as history shows it, or a day as year-month-day: 2026-03-31"),
		"--as-of zz --units furlong": told(`--as-of: "zz" is not a day`, notADay) +
			told(`--units: "furlong" is not a system of units`, "write metric or us"),
	}
	for _, c := range commands {
		for flags, want := range faults {
			assert.Equal(t, ran{code: exitUsage, err: want}, command(t, append(strings.Fields(c), strings.Fields(flags)...)...), "%s %s", c, flags)
		}
		assert.Equal(t, ran{code: exitUsage, err: told(`--as-of: " " is not a day`, notADay)}, command(t, append(strings.Fields(c), "--as-of", " ")...), c)
	}
	unchanged(t, before, ".")
	for _, c := range commands {
		done(t, append(strings.Fields(c), "--as-of", "2026-05-31", "--period", "2026-03", "--known-by", "30", "--units", "us")...)
	}
}

// TestTheBookIsAskedOnlyForRightFlags: the flags come before the book.
func TestTheBookIsAskedOnlyForRightFlags(t *testing.T) {
	t.Chdir(t.TempDir())
	assert.Equal(t, exitUsage, command(t, "list", "--as-of", "zz").code)
	assert.Equal(t, exitBook, command(t, "list", "--as-of", "2026-03-31").code)
	assert.Equal(t, ran{code: exitUsage, err: told(`there is no command "lode"`, "did you mean load?")}, command(t, "lode", "--as-of", "zz"))
}

// TestWrongWordsAreRefused: each was once taken, or refused in words that
// do not say where, what or how to mend.
func TestWrongWordsAreRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	require.NoError(t, os.Mkdir("folder", 0o700))
	require.NoError(t, os.Mkdir("folder.pdf", 0o700))
	before := contents(t, ".")
	const (
		beyond  = "the last entry is 36; if a paper names a later one, this book is older than the paper or was cut off"
		noJSON  = "leave it out; discharge --json, rinse --json, list --json and hazards --json give the figures"
		forWhom = "leave it out, or write bathwarden report inspection --for sewer"
		inside  = "choose another name, or a file in it"
		ending  = "end it in .xlsx, .pdf or .txt"
	)
	for _, c := range []struct {
		do   string
		more []string
		code int
		want string
	}{
		{"history tank NOSUCH", nil, exitFailed, told(`no entry of tank is named "NOSUCH"`, "bathwarden list tank shows what stands")},
		{"history tank N2", nil, exitFailed, told(`no entry of tank is named "N2"`, "did you mean N1?")},
		{"history tank N2 --json", nil, exitFailed, told(`no entry of tank is named "N2"`, "did you mean N1?")},
		{"history tank", []string{""}, exitFailed, told(`no entry of tank is named ""`, "bathwarden list tank shows what stands")},
		{"history bath N9 Muriatic", nil, exitFailed, told(`no entry of bath is named "N9, Muriatic"`, "did you mean N1?")},
		{"history bath N1", []string{"Boric acit"}, exitFailed, told(`no entry of bath is named "N1, Boric acit"`, "did you mean Boric acid?")},
		{"history bath A1", []string{"Boric acid"}, exitFailed, told(`no entry of bath is named "A1, Boric acid"`, "bathwarden list bath shows what stands")},

		{"report inventory --json", nil, exitUsage, told("--json: a paper has no JSON", noJSON)},
		{"report inspection --for sewer --json -o js.pdf", nil, exitUsage, told("--json: a paper has no JSON", noJSON)},
		{"report inventory --for sewer", nil, exitUsage, told("--for: only inspection takes it, inventory does not", forWhom)},
		{"report rinsewater --for=sewer -o x.pdf", nil, exitUsage, told("--for: only inspection takes it, rinsewater does not", forWhom)},
		{"report inventory --fro sewer", nil, exitUsage, told("unknown flag: --fro", "see bathwarden report inventory --help")},
		{"report inspection -o .", nil, exitUsage, told(".: it is a folder", inside)},
		{"report inventory -o folder", nil, exitUsage, told("folder: it is a folder", inside)},
		{"report inventory -o folder.pdf", nil, exitUsage, told("folder.pdf: it is a folder", inside)},
		{"report inventory -o shop.bathwarden", nil, exitUsage, told(`-o: "shop.bathwarden" has no ending that says what to write`, ending)},
		{"report inventory -o shop.bathwarden --force", nil, exitUsage, told(`-o: "shop.bathwarden" has no ending that says what to write`, ending)},
		{"report inventory -o page --to inspector", nil, exitUsage, told("--to: a receiver is recorded only with --issue", "add --issue, or leave --to out") + told(`-o: "page" has no ending that says what to write`, ending)},

		{"export nodir/x", nil, exitFailed, told(`nodir/x: there is no folder "nodir" to make it in`, "make that folder first, or name another place")},
		{"export nodir/deeper/x/", nil, exitFailed, told(`nodir/deeper/x/: there is no folder "nodir/deeper" to make it in`, "make that folder first, or name another place")},

		{"list --known-by 99999", nil, exitFailed, told("--known-by: the book has no entry 99999", beyond)},
		{"history --known-by 99999", nil, exitFailed, told("--known-by: the book has no entry 99999", beyond)},
		{"discharge --known-by 99999", nil, exitFailed, told("--known-by: the book has no entry 99999", beyond)},
		{"hazards --known-by 37", nil, exitFailed, told("--known-by: the book has no entry 37", beyond)},

		{"", []string{""}, exitUsage, told(`there is no command ""`, "see bathwarden --help")},
		{"hazards N1 A1", nil, exitUsage, told("hazards takes one tank or product at most", "see bathwarden hazards --help")},
		{"hazards Boric acid", nil, exitUsage, told("hazards takes one tank or product at most", "see bathwarden hazards --help")},
	} {
		words := append(strings.Fields(c.do), c.more...)
		assert.Equal(t, ran{code: c.code, err: c.want}, command(t, words...), "%q", words)
		unchanged(t, before, ".")
	}
	assert.Contains(t, done(t, "hazards", "boric acid"), "product Boric acid\n", "a name with a blank, as one word")
	assert.Contains(t, done(t, "history", "bath", "N1", "boric acid"), "5.5 oz/gal")
	assert.Equal(t, "no such entry\n", done(t, "history", "tank", "A1", "--as-of", "2025-12-31"), "the name is one of the book's")
	done(t, "export", "folder/x/")
	assert.FileExists(t, "folder/x/tank.csv")
}

// TestLongLinesOfDischargeAreBroken: a line behind the first is set in by two
// more columns, and no word is lost.
func TestLongLinesOfDischargeAreBroken(t *testing.T) {
	exampleHere(t)
	for _, day := range []string{"2026-03-31", "2026-06-30", "2026-09-30"} {
		out := done(t, "discharge", "--as-of", day)
		for _, line := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), 100, line)
		}
	}
	out := done(t, "discharge", "--as-of", "2026-06-30")
	assert.Contains(t, out, `
joins before treatment, outfall 1: boiler blowdown (dilute, 2 gal/min), compressor cooling
  (dilute, 0.5 gal/min), floor washing (unregulated, 4 gal/min)
`)
	assert.Contains(t, out, `
  Ni at outfall 1 on 2026-03-27, sample 2603-C, notice of the result: closed by entry 1679 on
    2026-04-02 15:05; due 2026-04-03 10:20
`)
}
