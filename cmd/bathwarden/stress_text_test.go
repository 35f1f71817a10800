package main

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/reports/rinsewater"
)

// hostile are texts that programs on the way have taken for something else.
var hostile = []string{
	"=1+1", "=cmd|' /C calc'!A0", `=HYPERLINK("file:///etc/passwd","look")`, "+1+1", "-1+1", "@SUM(A1:A9)", "'=1+1", "''=1+1", "=",
	"  =2+2", "％", "%s %d %!v", "{{.Name}}", "$(id)", "`id`", "a|b", "C:\\line\\new", `say "so"`, "<b>bold</b> &amp; <!-- -->", "]]>", "-->", "#REF!", "TRUE", "NULL",
	"0123", "1e5", "1,5", "2026-03-31", "12/31/2026", "é", "decompose\u0301", "Ünïcödé ÅÄÖ ß ﬁ", "µm °C ² ³ ₂ Ω ≤ → ✓", "鍍金槽 ニッケル 도금",
	"😀🧪👩‍🔬🇩🇪", "حوض النيكل ١٢٣", "אמבט ניקל", "right\u200f to left\u200e", "zero\u200bwidth\ufeff", "soft\u00adhyphen", "no\u00a0break", "a\u0300\u0301\u0302\u0303\u0304\u0305\u0306",
	"line\nbreak\n=3+3", "𝔘𝔫𝔦 𐍈", "\U0010fffd",
}

// long are texts of the greatest length that a text may have.
var long = []string{strings.Repeat("x", 4000), strings.Repeat("=1+1 ", 800)[:3999], strings.Repeat("漢", 4000), strings.Repeat("😀 ", 2000)[:9999]}

// hostileBook loads the texts from CSV into a new book in a new working folder,
// and gives them as the book keeps them. Each stands in a name or a title that
// the inventory prints, and in a note.
func hostileBook(t testing.TB, texts ...string) (kept []string) {
	t.Helper()
	t.(interface{ Chdir(string) }).Chdir(t.TempDir())
	require.NoError(t, os.Mkdir("sheets", 0o700))
	rows := map[string][][]string{
		"shop":     {{"name", "address", "contact", "first day", "time zone"}, {hostile[2], texts[len(texts)-1], hostile[0], "2026-01-01", "UTC"}},
		"location": {{"location", "title", "description"}},
		"product":  {{"product", "title", "supplier", "use"}},
		"tank":     {{"tank", "title", "purpose", "working volume", "cover"}},
		"check":    {{"date", "item", "note"}},
	}
	unnamed := strings.NewReplacer(";", ",", "\u200b", "", "\u200e", "", "\u200f", "", "\u00ad", "", "\ufeff", "") // what no name may hold
	for i, text := range texts {
		name := unnamed.Replace(text)
		if runes := []rune(name); len(runes) > 70 {
			name = string(runes[:70])
		}
		day := "2026-04-01"
		rows["location"] = append(rows["location"], []string{"L" + name, text, text})
		rows["product"] = append(rows["product"], []string{name, text, text, text})
		rows["tank"] = append(rows["tank"], []string{name, text, "plate", "10 L", text})
		rows["check"] = append(rows["check"], []string{day, "item", text})
		if i%2 == 0 {
			rows["check"][i+1][1] = text
		}
		kept = append(kept, strings.TrimSpace(text))
	}
	for kind, sheet := range rows {
		var text bytes.Buffer
		w := csv.NewWriter(&text)
		for _, row := range sheet {
			for i := range row {
				// An apostrophe before a guarded text is the guard itself.
				if strings.HasPrefix(row[i], "'") {
					row[i] = "'" + row[i]
				}
			}
			require.NoError(t, w.Write(row))
		}
		w.Flush()
		require.NoError(t, os.WriteFile(filepath.Join("sheets", kind+".csv"), text.Bytes(), 0o600))
	}
	done(t, "init")
	done(t, "load", "sheets", "--by", "=by()")
	return kept
}

func TestTextsStayWhatTheyAre(t *testing.T) {
	kept := hostileBook(t, slices.Concat(hostile, long)...)
	before := done(t, "verify")
	var got []string
	for _, row := range bodies(t, defaultBook, "product") {
		got = append(got, row["title"].(string))
	}
	assert.ElementsMatch(t, kept, got)

	for _, path := range []string{"out", "out.xlsx", "out.jsonl"} {
		done(t, "export", path)
		assert.NotContains(t, done(t, "load", path, "--by", "plater"), "added")
		assert.Equal(t, before, done(t, "verify"), path)
		done(t, "init", "--book", path+".other")
	}
	done(t, "load", "out.jsonl", "--book", "out.jsonl.other")
	assert.Equal(t, strings.TrimPrefix(before, defaultBook), strings.TrimPrefix(done(t, "verify", "--book", "out.jsonl.other"), "out.jsonl.other"))

	// Without its entry numbers, a sheet makes the same rows in another book.
	withoutEntries(t, "out")
	done(t, "load", "out", "--book", "out.other", "--by", "plater")
	for _, kind := range []string{"shop", "location", "product", "tank", "check"} {
		assert.Equal(t, bodies(t, defaultBook, kind), bodies(t, "out.other", kind), kind)
	}
}

// withoutEntries takes the first column out of the sheets of a folder.
func withoutEntries(t testing.TB, dir string) {
	t.Helper()
	for name, text := range contents(t, dir) {
		rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
		require.NoError(t, err, name)
		var without bytes.Buffer
		w := csv.NewWriter(&without)
		for _, row := range rows {
			require.NoError(t, w.Write(row[1:]))
		}
		w.Flush()
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), without.Bytes(), 0o600))
	}
}

// bodies are the rows of a kind that stand in a book, without their entries.
func bodies(t testing.TB, book, kind string) (rows []map[string]any) {
	t.Helper()
	require.NoError(t, json.Unmarshal([]byte(done(t, "list", kind, "--json", "--as-of", "2026-05-01", "--book", book)), &rows))
	for _, row := range rows {
		delete(row, "entry")
	}
	return rows
}

// TestNoTextBecomesAFormulaInCSV reads the exported files as a spreadsheet
// program does that takes what begins with these signs for a formula.
func TestNoTextBecomesAFormulaInCSV(t *testing.T) {
	hostileBook(t, slices.Concat(hostile, long)...)
	done(t, "export", "out")
	cells := 0
	for name, text := range contents(t, "out") {
		rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
		require.NoError(t, err, name)
		for _, row := range rows {
			for _, cell := range row {
				cells++
				assert.NotRegexp(t, `^[\s\x00]*[=+\-@\t\r]`, cell, name)
			}
		}
	}
	assert.Greater(t, cells, 500)
}

// xmlOf are the parts of a workbook.
func xmlOf(t testing.TB, path string) map[string][]byte {
	t.Helper()
	file, err := zip.OpenReader(path)
	require.NoError(t, err)
	defer file.Close()
	parts := map[string][]byte{}
	for _, f := range file.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		require.NoError(t, r.Close())
		parts[f.Name] = text
	}
	return parts
}

// elements are the texts of all elements of a name.
func elements(t testing.TB, text []byte, name string) (all []string) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(text))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return all
		}
		require.NoError(t, err, "the XML is sound")
		if start, ok := token.(xml.StartElement); ok && start.Name.Local == name {
			var inner string
			require.NoError(t, d.DecodeElement(&inner, &start))
			all = append(all, inner)
		}
	}
}

// ours finds what could only have come from the hostile texts.
const ours = `cmd\||HYPERLINK|etc/passwd|\b1\+1\b|SUM\(A1:A9\)|2\+2|3\+3`

func TestNoTextBecomesAFormulaInWorkbooks(t *testing.T) {
	kept := hostileBook(t, slices.Concat(hostile, long)...)
	done(t, "export", "export.xlsx")
	for _, p := range papers() {
		done(t, "report", p.name, "--as-of", "2026-05-01", "-o", p.name+".xlsx")
	}
	for path := range contents(t, ".") {
		if filepath.Ext(path) != ".xlsx" {
			continue
		}
		formulas := 0
		for name, text := range xmlOf(t, path) {
			if !strings.HasSuffix(name, ".xml") && !strings.HasSuffix(name, ".rels") {
				continue
			}
			elements(t, text, "") // every part is sound XML
			for _, f := range elements(t, text, "f") {
				formulas++
				assert.NotRegexp(t, ours, f, "%s, %s", path, name)
			}
			for _, tag := range []string{"hyperlink", "definedName", "formula1"} {
				for _, inner := range elements(t, text, tag) {
					assert.NotRegexp(t, ours, inner, "%s, %s", path, name)
				}
			}
		}
		switch path {
		case "export.xlsx":
			assert.Zero(t, formulas, "an export has no formulas")
		case "inventory.xlsx":
			assert.Positive(t, formulas, "the inventory computes live")
		}
	}
	cells := cellsByAnotherReader(t, "export.xlsx")
	for _, text := range kept {
		assert.Contains(t, cells, "s "+text, "the text stands in the export as it is")
	}
	for _, cell := range cellsByAnotherReader(t, "inventory.xlsx") {
		if f, ok := strings.CutPrefix(cell, "f "); ok {
			assert.NotRegexp(t, ours, f)
		}
	}
}

// cellsByAnotherReader are a workbook's cells as openpyxl reads them, each with
// the letter of its type before it: f for a formula, s for text.
func cellsByAnotherReader(t testing.TB, path string) []string {
	t.Helper()
	needs(t, "/usr/bin/python3")
	if exec.Command("/usr/bin/python3", "-c", "import openpyxl").Run() != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("openpyxl is not installed")
		}
		t.Skip("openpyxl is not installed")
	}
	out, err := exec.Command("/usr/bin/python3", "-c", `
import sys, json, openpyxl
book = openpyxl.load_workbook(sys.argv[1])
print(json.dumps([c.data_type + " " + str(c.value) for s in book for row in s.iter_rows() for c in row if c.value is not None]))`, path).CombinedOutput()
	require.NoError(t, err, "%s", out)
	var cells []string
	require.NoError(t, json.Unmarshal(out, &cells))
	require.NotEmpty(t, cells)
	return cells
}

// TestTextsReachThePage prints every text on paper: nothing breaks, and what
// the fonts hold can be read off again.
func TestTextsReachThePage(t *testing.T) {
	hostileBook(t, slices.Concat(hostile, long)...)
	needs(t, "qpdf")
	needs(t, "pdftotext")
	for _, p := range papers() {
		for _, file := range []string{"page.pdf", "page.txt"} {
			done(t, "report", p.name, "--as-of", "2026-05-01", "-o", file, "--force")
		}
		out, err := exec.Command("qpdf", "--check", "page.pdf").CombinedOutput()
		require.NoError(t, err, "%s", out)
		assert.NotContains(t, string(out), "WARNING")
		read, err := exec.Command("pdftotext", "-layout", "page.pdf", "-").Output()
		require.NoError(t, err)
		plain, err := os.ReadFile("page.txt")
		require.NoError(t, err)
		assert.NotContains(t, string(plain), "\ufffd")
		if p.name == rinsewater.Kind {
			continue // it lists no products, whose names the texts are
		}
		for _, word := range []string{"=1+1", "@SUM(A1:A9)", "%!v", "{{.Name}}", "&amp;", "]]>", "#REF!", "0123", "Ünïcödé", "2026-03-31", "µm", "°C", "≤", "אמבט"} {
			assert.Contains(t, string(plain), word, p.name)
			if word != "אמבט" { // pdftotext gives letters in the order in which they are seen
				assert.Contains(t, string(read), word, p.name)
			}
		}
	}
}
