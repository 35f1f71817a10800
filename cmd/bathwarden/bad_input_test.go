package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// badInput is something that somebody typed and that the program must refuse:
// words parted by blanks, further words as they are, the exit code, and all that
// it prints.
type badInput struct {
	name string
	do   string
	more []string
	code int
	want string
}

// refuseAll wants every case refused in its own words and nothing changed, made
// or left behind by any.
func refuseAll(t *testing.T, cases []badInput, further ...string) {
	t.Helper()
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	require.NoError(t, os.CopyFS("sheets", smallSheets))
	require.NoError(t, os.Mkdir("empty", 0o700))
	require.NoError(t, os.WriteFile("there.pdf", []byte("a page\n"), 0o600))
	require.NoError(t, os.WriteFile("example.yaml", []byte(soundExample), 0o600))
	done(t, "export", "book.jsonl")
	before := contents(t, ".")
	seen := map[string]bool{}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			args := append(strings.Fields(c.do), c.more...)
			if !strings.Contains(c.do, "--by") {
				args = append(args, further...)
			}
			assert.Equal(t, ran{code: c.code, err: c.want}, command(t, args...))
			unchanged(t, before, ".")
		})
		assert.False(t, seen[c.name], "two cases are named %q", c.name)
		seen[c.name] = true
	}
}

func TestBadFlagsAndPaths(t *testing.T) { refuseAll(t, badFlags) }

var badFlags = []badInput{
	{"command with a slip", "lode sheets", nil, 2,
		told(`there is no command "lode"`, "did you mean load?")},
	{"kind with a slip", "list tnak", nil, 2,
		told(`"tnak" is not a kind of record`, "did you mean tank?")},
	{"kind to explain with a slip", "explain tnak", nil, 2,
		told(`"tnak" is not a kind of record`, "did you mean tank?")},
	{"kind whose history is asked with a slip", "history tnak", nil, 2,
		told(`"tnak" is not a kind of record`, "did you mean tank?")},
	{"record without columns", "record tank", nil, 2,
		told("no column is given", "see bathwarden record tank --help")},
	{"more names than a tank has", "history tank N1 N2", nil, 1,
		told("a tank has fewer names than were given", "give the names of its key columns, or none for the whole history")},
	{"as-of that is no day", "list tank --as-of tomorrow", nil, 2,
		told(`--as-of: "tomorrow" is not a day`, "write it as year-month-day: 2026-03-31")},
	{"as-of that never was", "list tank --as-of 2026-02-29", nil, 2,
		told(`--as-of: "2026-02-29" is not a day of the calendar`, "check month and day; the order is year-month-day")},
	{"month 13", "list check --period 2026-13", nil, 2,
		told(`--period: "2026-13" names the month 13, which no year has`, "write a month from 01 to 12, such as 2026-03")},
	{"third half year", "list check --period 2026-H3", nil, 2,
		told(`--period: "2026-H3" is not a period`, "write 2026-03, 2026-H1, 2026, or two days as 2026-03-01..2026-03-31")},
	{"period backwards", "list check --period 2026-03-31..2026-03-01", nil, 2,
		told(`--period: the period from "2026-03-31" to "2026-03-01" has no days`, "write the earlier day first, and both: 2026-03-01..2026-03-31")},
	{"period of a word", "list check --period spring", nil, 2,
		told(`--period: "spring" is not a period`, "write 2026-03, 2026-H1, 2026, or two days as 2026-03-01..2026-03-31")},
	{"period of two digits", "list check --period 26", nil, 2,
		told(`--period: "26" is not a period`, "write 2026-03, 2026-H1, 2026, or two days as 2026-03-01..2026-03-31")},
	{"known by a day that never was", "list check --known-by 2026-13-01", nil, 2,
		told(`--known-by: "2026-13-01" is not a day of the calendar`, "check month and day; the order is year-month-day")},
	{"known by an entry to come", "list check --known-by 37", nil, 1,
		told("--known-by: the book has no entry 37", "the last entry is 36; if a paper names a later one, this book is older than the paper or was cut off")},
	{"every flag at fault", "list check --as-of x --period y --known-by z", nil, 2,
		told(`--as-of: "x" is not a day`, "write it as year-month-day: 2026-03-31") + told(`--period: "y" is not a period`, "write 2026-03, 2026-H1, 2026, or two days as 2026-03-01..2026-03-31") + told(`--known-by: "z" is neither the number of an entry nor a day`, "write the number of an entry, as history shows it, or a day as year-month-day: 2026-03-31")},
	{"units of neither system", "report inventory --units imperial", nil, 2,
		told(`--units: "imperial" is not a system of units`, "write metric or us")},
	{"page without an ending", "report inventory -o page", nil, 2,
		told(`-o: "page" has no ending that says what to write`, "end it in .xlsx, .pdf or .txt")},
	{"page of another program", "report inventory -o page.docx", nil, 2,
		told(`-o: "page.docx" has no ending that says what to write`, "end it in .xlsx, .pdf or .txt")},
	{"issue without a file", "report inventory --issue", nil, 2,
		told("--issue: only a file can be issued", "name one with -o")},
	{"receiver without an issue", "report inventory --to inspector", nil, 2,
		told("--to: a receiver is recorded only with --issue", "add --issue, or leave --to out")},
	{"report into a folder that is not there", "report inventory -o nowhere/page.pdf", nil, 1,
		told("nowhere/page.pdf: the file cannot be written: no such file or directory", "check the folder, its rights and the room on the disk")},
	{"report over a page", "report inventory -o there.pdf", nil, 2,
		told("there.pdf: the file exists already", "choose another name, or replace it with --force")},
	{"export of another program", "export book.ods", nil, 2,
		told("book.ods: its ending does not say what to write", "end it in .xlsx or .jsonl, or give a folder without an ending")},
	{"export as one CSV file", "export book.csv", nil, 2,
		told("book.csv: its ending does not say what to write", "end it in .xlsx or .jsonl, or give a folder without an ending")},
	{"export over a journal", "export book.jsonl", nil, 1,
		told("book.jsonl: the file exists already", "choose another name, or replace it with --force")},
	{"export into a folder that is not empty", "export sheets", nil, 1,
		told("sheets: the folder is not empty", "name a new folder")},
	{"export into a folder that is not there", "export nowhere/book.jsonl", nil, 1,
		told("nowhere/book.jsonl: the file cannot be written: no such file or directory", "check the folder, its rights and the room on the disk")},
	{"export below a file", "export book.jsonl/sheets", nil, 1,
		told("book.jsonl/sheets: cannot be made a folder: not a directory", "check the path and who may use it")},
	{"export over the book", "export shop.bathwarden", nil, 2,
		told("shop.bathwarden: its ending does not say what to write", "end it in .xlsx or .jsonl, or give a folder without an ending")},
	{"export nothing", "export", nil, 2,
		told("export takes a path, and nothing more", "see bathwarden export --help")},
	{"copy nothing", "copy", nil, 2,
		told("copy takes the name of the new file, and nothing more", "see bathwarden copy --help")},
	{"copy over the book", "copy shop.bathwarden", nil, 1,
		told("shop.bathwarden: the file exists already", "choose another name, or move it away first")},
	{"copy over a file", "copy there.pdf", nil, 1,
		told("there.pdf: the file exists already", "choose another name, or move it away first")},
	{"copy into a folder that is not there", "copy nowhere/book", nil, 1,
		told("nowhere/book: no such file or directory", "check the path and the rights on its folder")},
	{"load nothing", "load", nil, 2,
		told("load takes a folder, an .xlsx workbook or a .jsonl journal, and nothing more", "see bathwarden load --help")},
	{"load what is not there", "load nowhere", nil, 1,
		told("nowhere: there is no such file or folder", "check the path")},
	{"load a file of another program", "load there.pdf", nil, 1,
		told("there.pdf: is neither a folder of CSV files nor an .xlsx workbook", "open it in a spreadsheet program and save it as .xlsx")},
	{"load the book itself", "load shop.bathwarden", nil, 1,
		told("shop.bathwarden: is neither a folder of CSV files nor an .xlsx workbook", "open it in a spreadsheet program and save it as .xlsx")},
	{"dry run of a journal", "load book.jsonl --dry-run", nil, 2,
		told("--dry-run: a journal is taken whole or not at all", "leave --dry-run out; every line is checked before anything is written")},
	{"init over the book", "init", nil, 1,
		told("shop.bathwarden: the file exists already", "choose another name, or move it away first")},
	{"init with a word", "init shop2", nil, 2,
		told("init takes no arguments", "see bathwarden init --help")},
	{"init in a folder that is not there", "init --book nowhere/book", nil, 1,
		told("nowhere/book: no such file or directory", "check the path and the rights on its folder")},
	{"demo over a folder", "demo sheets", nil, 1,
		told("sheets: it is there already", "name another folder (bathwarden demo DIR), or remove this one")},
	{"demo below a folder that is not there", "demo nowhere/demo", nil, 1,
		told("nowhere/demo: the folder cannot be made: no such file or directory", "check the path and its rights")},
	{"book that is not there", "list --book nobook", nil, 4,
		told("nobook: there is no record book", `make one with "init", or name the file that holds it`)},
	{"book that is a folder", "list --book sheets", nil, 4,
		told("sheets: it is not a file", "name the file that holds the book")},
	{"book that is a journal", "list --book book.jsonl", nil, 4,
		told("book.jsonl: the file is damaged or not a record book: file is not a database (26)", "keep the file as it is, and go on with the last copy that verifies")},
	{"book that is a page", "verify --book there.pdf", nil, 4,
		told("there.pdf: the file is damaged or not a record book: file is not a database (26)", "keep the file as it is, and go on with the last copy that verifies")},
	{"verify an entry without its hash", "verify 3", nil, 2,
		told("verify takes nothing, or an entry's number and its hash", "both stand at the foot of each paper")},
	{"verify too much", "verify 3 abc def", nil, 2,
		told("verify takes nothing, or an entry's number and its hash", "both stand at the foot of each paper")},
	{"unknown substance", "sources unobtainium", nil, 2,
		told(`the published tables have no substance "unobtainium"`, "bathwarden sources lists them all")},
}
