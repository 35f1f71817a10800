package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestWhatWasPassedOverIsRefused: each was once taken, or refused in words that
// do not say where, what or how to mend.
func TestWhatWasPassedOverIsRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	for _, name := range []string{"folder.jsonl", "folder.xlsx", "folder.pdf", "empty"} {
		require.NoError(t, os.Mkdir(name, 0o700))
	}
	before := contents(t, ".")
	for _, c := range []struct {
		do   string
		more []string
		code int
		want string // all that is printed
	}{
		{"list --known-by 0", nil, exitUsage, told(`--known-by: "0" is not the number of an entry`, "entries are numbered from 1 on; leave --known-by out to know them all")},
		{"list --known-by -1", nil, exitUsage, told(`--known-by: "-1" is not the number of an entry`, "entries are numbered from 1 on; leave --known-by out to know them all")},
		{"report inventory --known-by 99999999999999999999", nil, exitUsage, told(`--known-by: "99999999999999999999" is not the number of an entry`, "entries are numbered from 1 on; leave --known-by out to know them all")},
		{"history --known-by 37", nil, exitFailed, told("--known-by: the book has no entry 37", "the last entry is 36; if a paper names a later one, this book is older than the paper or was cut off")},
		{"report inventory --as-of 2026-02-28 --period 2026-03", nil, exitUsage, told(`--period: "2026-03" begins after the as-of day, 2026-02-28`, "give an earlier period, or a later day with --as-of")},
		{"list check --as-of 2026-02-28 --period 2026-02-01..2026-03-01", nil, exitUsage, told(`--period: "2026-02-01..2026-03-01" ends after the as-of day, 2026-02-28`, "write 2026-02-01..2026-02-28, or give a later day with --as-of")},
		{"history --as-of 2026-02-28 --period 2026-03-01..2026-03-01", nil, exitUsage, told(`--period: "2026-03-01..2026-03-01" begins after the as-of day, 2026-02-28`, "give an earlier period, or a later day with --as-of")},
		{"list --as-of x --period 2199", nil, exitUsage, told(`--as-of: "x" is not a day`, "write it as year-month-day: 2026-03-31")},

		{"correct 16 --by plater --why slip", nil, exitUsage, told("no column is given", "see bathwarden correct --help")},
		{"correct 16 title=a --clear title --by plater --why slip", nil, exitUsage, told("--clear: title is given and cleared at once", "leave one of the two out")},
		{"correct", nil, exitUsage, told("correct takes the number of an entry, then COLUMN=VALUE", "see bathwarden correct --help")},
		{"correct 16 title=a --by plater", nil, exitFailed, told("--why: entry 16 would be replaced, and no reason is given", "say why with --why")},
		{"withdraw 30 --by plater", nil, exitFailed, told("--why: entry 30 would be replaced, and no reason is given", "say why with --why")},
		{"record tank --tank N1 --title x --by plater", nil, exitFailed, told("--why: entry 16 would be replaced, and no reason is given", "say why with --why")},
		{"record check --date 2026-05-02 --by plater", nil, exitFailed, told("--item: no value is given for item", `give one, such as "words"`)},
		{"record tank --purpose plate --by plater", nil, exitFailed, told("--tank: no value is given for tank", `give one, such as "B5"`)},
		{"record check --date 2026-05-02 --item eyewash --by", []string{"a\x01b"}, exitFailed, told("--by: the text holds a control character", "type it again, or paste it as plain text")},
		{"record check --date 2026-05-02 --item eyewash --by plater --why", []string{"a\u202eb"}, exitFailed, told("--why: the text holds U+202E, which turns the direction of writing, as its character 2", "type it again without it; letters of every script find their direction by themselves")},

		{"record tnak --tank N1", nil, exitUsage, told(`"tnak" is not a kind of record`, "did you mean tank?")},
		{"record --tank N1 tnak", nil, exitUsage, told(`"tnak" is not a kind of record`, "did you mean tank?")},
		{"record tnak --as-of", nil, exitUsage, told(`"tnak" is not a kind of record`, "did you mean tank?")},
		{"record --tank N1", nil, exitUsage, told("record wants a kind", "see bathwarden record --help")},
		{"report inventroy -o page.pdf", nil, exitUsage, told(`there is no paper "inventroy"`, "did you mean inventory?")},
		{"lode sheets --foo", nil, exitUsage, told(`there is no command "lode"`, "did you mean load?")},
		{"help lode", nil, exitUsage, told(`there is no command "lode"`, "did you mean load?")},
		{"help record tnak", nil, exitUsage, told(`"tnak" is not a kind of record`, "did you mean tank?")},

		{"record tank extra --tank N1", nil, exitUsage, told("tank takes no words but flags", "see bathwarden record tank --help")},
		{"report inventory extra", nil, exitUsage, told("inventory takes no arguments", "see bathwarden report inventory --help")},
		{"record tank --tank N1 --pH 4", nil, exitUsage, told("unknown flag: --pH", "did you mean --ph?")},
		{"record tank --tank N1 --colour red", nil, exitUsage, told("unknown flag: --colour", "see bathwarden record tank --help")},
		{"--xyzzyx", nil, exitUsage, told("unknown flag: --xyzzyx", "see bathwarden --help")},
		{"list -x", nil, exitUsage, told("unknown shorthand flag: 'x' in -x", "see bathwarden list --help")},
		{"list --=x", nil, exitUsage, told("bad flag syntax: --=x", "see bathwarden list --help")},
		{"list --json=maybe", nil, exitUsage, told(`--json: "maybe" is neither true nor false`, "write --json alone, or leave it out")},
		{"list --as-of", nil, exitUsage, told("--as-of: no value stands behind it", "write --as-of DAY")},
		{"report inventory -o", nil, exitUsage, told("-o: no value stands behind it", "write -o FILE")},
		{"record tank --tank N1 --clear", []string{`a"b`}, exitUsage, told(`--clear: "a\"b" cannot be read`, "see bathwarden record tank --help")},
		{"list tank bath", nil, exitUsage, told("list takes one kind at most", "see bathwarden list --help")},
		{"explain tank bath", nil, exitUsage, told("explain takes one kind at most", "see bathwarden explain --help")},
		{"demo a b", nil, exitUsage, told("demo takes one folder at most", "see bathwarden demo --help")},

		{"list --book", []string{""}, exitUsage, told("--book: the text behind it is empty", "give one, or leave the flag out")},
		{"list --as-of", []string{"", "--known-by", ""}, exitUsage, told("--as-of: the text behind it is empty", "give one, or leave the flag out") + told("--known-by: the text behind it is empty", "give one, or leave the flag out")},
		{"record check --date 2026-05-02 --item eyewash --by", []string{""}, exitUsage, told("--by: the text behind it is empty", "give one, or leave the flag out")},
		{"record tank --tank N1 --clear", []string{""}, exitUsage, told("--clear: the text behind it is empty", "give one, or leave the flag out")},
		{"report inventory -o", []string{""}, exitUsage, told("--output: the text behind it is empty", "give one, or leave the flag out")},
		{"calc --file", []string{""}, exitUsage, told("--file: the text behind it is empty", "give one, or leave the flag out")},
		{"export", []string{""}, exitUsage, told(`export takes a path, and nothing more; "" is none`, "see bathwarden export --help")},
		{"copy", []string{""}, exitUsage, told(`copy takes the name of the new file, and nothing more; "" is none`, "see bathwarden copy --help")},
		{"demo", []string{""}, exitUsage, told(`demo takes one folder at most; "" is none`, "see bathwarden demo --help")},
		{"load folder.jsonl --by plater", nil, exitFailed, told("folder.jsonl: it is a folder", "name a file")},
		{"calc --file empty", nil, exitFailed, told("empty: it is a folder", "name a file")},
		{"export folder.jsonl --force", nil, exitFailed, told("folder.jsonl: it is a folder", "choose another name, or a file in it")},
		{"export folder.xlsx", nil, exitFailed, told("folder.xlsx: it is a folder", "choose another name, or a file in it")},
		{"report inventory -o folder.pdf --force", nil, exitUsage, told("folder.pdf: it is a folder", "choose another name, or a file in it")},

		{"verify 3 123abc", nil, exitUsage, told(`"123abc" is not the hash of an entry`, "give at least its first twelve digits, 0 to 9 and a to f, as they are printed")},
		{"verify 3 0123456789xyz", nil, exitUsage, told(`"0123456789xyz" is not the hash of an entry`, "give at least its first twelve digits, 0 to 9 and a to f, as they are printed")},
		{"verify three 0123456789ab", nil, exitUsage, told(`"three" is not the number of an entry`, "bathwarden list KIND and history show the numbers")},

		{"calc plating.deposit metal= valence=2 charge=4Ah", []string{"efficiency=95 %"}, exitFailed, told("metal: it has no value", `give metal="Ni"`)},
		{"calc convert to=g/L value=5", nil, exitFailed, told(`value: "5" has no unit`, `write it as "350 g/L"`)},
		{"calc convert to=furlong", []string{"value=5 g/L"}, exitFailed, told(`to: "furlong" is not a known unit`, "name the unit to convert to, such as g/L or lb/10⁶ ft²")},
		{"calc plating.deposit metal=Ni valence=0 charge=4Ah colour=red", []string{"efficiency=95 %"}, exitFailed,
			told("valence: a valence of 0 deposits nothing", "give the electrons that deposit one atom, from 1 to 8: 2 for nickel(II)") + told(`colour: "colour" is not an input`, "known here: metal, valence, efficiency, molar_mass, density, charge, current, time, area")},
		{"calc stock.containment volumes=[55 colour=red", nil, exitUsage,
			told("volumes: did not find expected ',' or ']'", `write a list as "[55 gal, 275 gal]" and named values as "{Ni: 2 kg, Cu: 1 kg}"`) + told(`colour: "colour" is not an input`, "known here: volumes")},

		{"record tank --purpose plate --by plater --tank", []string{"N\u200b1"}, exitFailed, told(`--tank: "N\u200b1" holds U+200B, which does not show, as its character 2`, "type the name again, without it")},
		{"record tank --purpose plate --by plater --tank", []string{"N\u202e1"}, exitFailed, told(`--tank: "N\u202e1" holds U+202E, which does not show, as its character 2`, "type the name again, without it")},
		{"record bath --concentration 3g/L --by plater --ingredient Ni --tank", []string{"N1\ufeff"}, exitFailed, told(`--tank: "N1\ufeff" holds U+FEFF, which does not show, as its character 3`, "type the name again, without it")},
		{"record tank --tank N2 --purpose plate --by plater --title", []string{"a\u2067b"}, exitFailed, told("--title: the text holds U+2067, which turns the direction of writing, as its character 2", "type it again without it; letters of every script find their direction by themselves")},
	} {
		words := append(strings.Fields(c.do), c.more...)
		t.Run(strings.Join(words, " "), func(t *testing.T) {
			assert.Equal(t, ran{code: c.code, err: c.want}, command(t, words...))
			unchanged(t, before, ".")
		})
	}
}

// TestAPeriodThatIsNotOverIsCut: the month, half year or year in which the as-of
// day lies means what of it has passed, and the paper says so.
func TestAPeriodThatIsNotOverIsCut(t *testing.T) {
	exampleHere(t)
	for period, want := range map[string]string{
		"2026-03":                "2026-03-01 to 2026-03-17",
		"2026-H1":                "2026-01-01 to 2026-03-17",
		"2026":                   "2026-01-01 to 2026-03-17",
		"2026-02":                "2026-02-01 to 2026-02-28",
		"2026-03-01..2026-03-17": "2026-03-01 to 2026-03-17",
	} {
		for _, p := range papers() {
			text := done(t, "report", p.name, "--as-of", "2026-03-17", "--period", period)
			assert.Contains(t, text, want, "%s, %s", p.name, period)
		}
	}
	checks := func(flags ...string) int {
		return counted(t, append([]string{"--as-of", "2026-03-17"}, flags...)...)["check"]
	}
	assert.Equal(t, checks("--period", "2026-03-01..2026-03-17"), checks("--period", "2026-03"))
	assert.Positive(t, checks("--period", "2026-03"))
}

// told of the entries of the small book, by their numbers.
func numbers(t testing.TB, words ...string) (all []int) {
	t.Helper()
	var entries []entryJSON
	require.NoError(t, json.Unmarshal([]byte(done(t, append([]string{"history", "--json"}, words...)...)), &entries))
	for _, e := range entries {
		all = append(all, int(e.Entry))
	}
	return all
}

func TestHistoryHeedsItsFlags(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	require.Len(t, numbers(t), 36)
	assert.Len(t, numbers(t, "--known-by", "30"), 30)
	assert.Len(t, numbers(t, "--known-by", "2026-05-04"), 36)
	assert.Empty(t, numbers(t, "--known-by", "2026-05-03"))
	assert.Equal(t, []int{18}, numbers(t, "tank", "A1", "--known-by", "34"))
	assert.Equal(t, []int{18, 35}, numbers(t, "tank", "A1", "--known-by", "35"))
	assert.NotContains(t, done(t, "history", "tank", "A1", "--known-by", "34"), "replaced by", "what a later entry did was not known")
	assert.Contains(t, done(t, "history", "tank", "A1", "--known-by", "35"), "replaced by entry 35")

	// The checks are of February 1, 8 and 15; entry 36 withdraws that of the 8th.
	assert.Equal(t, []int{30, 31, 32, 36}, numbers(t, "check"))
	assert.Equal(t, []int{30, 31, 36}, numbers(t, "check", "--as-of", "2026-02-14"))
	assert.Equal(t, []int{31, 36}, numbers(t, "check", "--period", "2026-02-02..2026-02-14"))
	assert.Equal(t, []int{31}, numbers(t, "check", "--period", "2026-02-02..2026-02-14", "--known-by", "35"))
	assert.Empty(t, numbers(t, "check", "--period", "2026-03"))
	// A fact without a first day holds from the shop's, 2026-01-01.
	assert.Contains(t, numbers(t, "--period", "2026-01-01..2026-01-01"), 16)
	assert.Empty(t, numbers(t, "--as-of", "2025-12-31"))
	assert.Equal(t, "no such entry\n", done(t, "history", "tank", "--as-of", "2025-12-31"))
	assert.Equal(t, []int{34}, numbers(t, "bath", "--period", "2026-04"), "the change of April")
}

func TestVerifyPrintsNothingBeforeAllIsChecked(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	hash := strings.Fields(done(t, "verify"))
	last := hash[len(hash)-1]
	assert.Contains(t, done(t, "verify", "36", strings.ToUpper(last[:6])+" "+last[6:12]), "entry 36 has the hash that was given")
	r := command(t, "verify", "35", last)
	assert.Equal(t, exitFailed, r.code)
	assert.Empty(t, r.out)
	assert.Regexp(t, `^error: entry 35: its hash is .*\nhint: `, r.err)
}

// TestHalfMadeThingsAreRemoved has the system refuse to make any file longer
// than a limit, as a disk does that fills up while it is written to.
func TestHalfMadeThingsAreRemoved(t *testing.T) {
	shell, err := exec.LookPath("sh")
	require.NoError(t, err)
	book, _ := exampleFile(t)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile(defaultBook, book, 0o600))
	var long strings.Builder
	for i := range 40 {
		fmt.Fprintf(&long, "2026-09-01,eyewash,%d %s\n", i, strings.Repeat("flows clear ", 250))
	}
	require.NoError(t, os.Mkdir("sheets", 0o700))
	require.NoError(t, os.WriteFile("sheets/check.csv", []byte("date,item,note\n"+long.String()), 0o600))
	done(t, "load", "sheets", "--by", "plater")
	require.NoError(t, os.Mkdir("there", 0o700))
	done(t, "export", "whole")
	const block, few = 512, 80 // the database wants 64 blocks to open the book at all
	require.Greater(t, len(contents(t, "whole")["check.csv"]), few*block, "no file is too long for the limit")
	before := contents(t, ".")
	for _, c := range []struct {
		words  string
		blocks int
		want   string
	}{
		{"export kept", few, `^error: kept/[a-z-]+\.csv: cannot be written: file too large\nhint: check the folder, its rights and the room on the disk\n$`},
		{"export there/kept", few, `^error: there/kept/[a-z-]+\.csv: cannot be written: file too large\nhint: `},
		{"export there", few, `^error: there/[a-z-]+\.csv: cannot be written: file too large\nhint: `},
		{"export kept.jsonl", few, `^error: kept\.jsonl: the file cannot be written: file too large\nhint: check the folder, its rights and the room on the disk\n$`},
		{"export kept.xlsx", few, `^error: kept\.xlsx: the file cannot be written: .*file too large\nhint: check the folder, its rights and the room on the disk\n$`},
		{"demo", 200, `^error: fernhollow/shop\.bathwarden: .*\nhint: `},
		{"init --example --book other", 200, `^error: other: .*\nhint: `},
	} {
		t.Run(fmt.Sprintf("%s, %d blocks", c.words, c.blocks), func(t *testing.T) {
			cmd := exec.Command(shell, append([]string{"-c", fmt.Sprintf(`ulimit -f %d; exec bathwarden "$@"`, c.blocks), "sh"}, strings.Fields(c.words)...)...)
			var out, errs strings.Builder
			cmd.Stdout, cmd.Stderr = &out, &errs
			assert.Error(t, cmd.Run())
			assert.Equal(t, exitFailed, cmd.ProcessState.ExitCode(), errs.String())
			assert.Empty(t, out.String())
			assert.Regexp(t, c.want, errs.String())
			done(t, "verify") // takes up what a limited reader had to leave beside the book
			unchanged(t, before, ".")
		})
	}
	for _, words := range []string{"export kept", "export there", "demo"} {
		done(t, strings.Fields(words)...)
	}
	assert.Equal(t, contents(t, "whole"), contents(t, "kept"))
	assert.Equal(t, contents(t, "whole"), contents(t, "there"))
	assert.Contains(t, contents(t, "fernhollow"), "inventory.pdf")
}

func TestNothingOnTheTerminalPretends(t *testing.T) {
	t.Chdir(t.TempDir())
	smallBook(t, defaultBook)
	out := done(t, "record", "check", "--date", "2026-05-02", "--item", "eyewash\nwithdrawn: shop, entry 1", "--by", "plater")
	assert.Len(t, strings.Split(strings.TrimSpace(out), "\n"), 2, "%q", out)
	title := strings.Replace(soundExample, "id: a", `id: "a\x1b[31m\nerror: b\u202e"`, 1)
	for _, text := range []string{title, title[:strings.Index(title, "expect")]} {
		require.NoError(t, os.WriteFile("x.yaml", []byte(text), 0o600))
		out = done(t, "calc", "--file", "x.yaml")
		assert.NotContains(t, out, "\x1b")
		assert.NotContains(t, out, "\u202e")
		assert.Equal(t, "a<U+001B>[31m error: b<U+202E>", strings.SplitN(out, "\n", 2)[0])
	}
	for _, words := range [][]string{
		{"calc", "plating.deposit", "metal=N\x1b[2J"}, {"lo\x07de"}, {"list", "--as-of", "\u009b31m"}, {"--\x1bfoo"}, {"sources", "a\u2067b"},
	} {
		r := command(t, words...)
		assert.NotEqual(t, exitDone, r.code, "%q", words)
		for _, line := range strings.Split(strings.TrimSuffix(r.err, "\n"), "\n") {
			assert.False(t, strings.ContainsFunc(line, steers), "%q: %q", words, line)
			assert.Regexp(t, `^(error|hint): `, line, "%q", words)
		}
	}
}

// TestAnAnswerThatLacksItsUnitIsNotJudged: it was once said not to hold.
func TestAnAnswerThatLacksItsUnitIsNotJudged(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("x.yaml", []byte(strings.Replace(soundExample, "is: 20.8 g", "is: 20.8", 1)), 0o600))
	assert.Equal(t, ran{code: exitFailed, err: told(`x.yaml line 4: mass is expected to be "20.8", which has no unit`, `write its unit behind it; the output is "20.80 g"`)}, command(t, "calc", "--file", "x.yaml"))
}

// TestEveryCommandSaysWhatItDoesNotKnow gives every command a flag and a word
// that it does not take: what is printed has three parts and names the help that
// stands by the command.
func TestEveryCommandSaysWhatItDoesNotKnow(t *testing.T) {
	t.Chdir(t.TempDir())
	root := newRoot([]string{recordName})
	tried := 0
	for _, c := range root.Commands() {
		below := append(c.Commands(), c)
		for _, c := range below[:min(len(below), 3)] {
			path := strings.Fields(c.CommandPath())[1:]
			r := command(t, append(path, "--xyzzyx")...)
			assert.Equal(t, exitUsage, r.code, path)
			assert.Empty(t, r.out, path)
			assert.Regexp(t, `^error: .+\nhint: .+\n$`, r.err, path)
			if !c.HasSubCommands() {
				assert.Equal(t, told("unknown flag: --xyzzyx", "see "+c.CommandPath()+" --help"), r.err)
			}
			tried++
		}
	}
	assert.Greater(t, tried, 20)
	assert.Empty(t, contents(t, "."))
}
