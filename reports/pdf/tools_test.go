package pdf

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf16"

	"github.com/stretchr/testify/require"

	"bathwarden/reports/doc"
)

var sizes = []Page{A4, Letter}

// tool runs a program of the PDF tools and gives what it printed.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed", name)
	} else if err != nil {
		t.Skipf("%s is not installed", name)
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	require.NoError(t, err, "%s: %s", name, out)
	return string(out)
}

// written is d as a file.
func written(t *testing.T, d *doc.Document, page Page) string {
	t.Helper()
	var file bytes.Buffer
	require.NoError(t, Write(&file, d, page))
	name := filepath.Join(t.TempDir(), "paper.pdf")
	require.NoError(t, os.WriteFile(name, file.Bytes(), 0o600))
	return name
}

// pageTexts are the texts of the pages in the order in which they were set.
func pageTexts(t *testing.T, file string) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(tool(t, "pdftotext", "-raw", file, "-"), "\f"), "\f")
}

// pageStreams are the drawing instructions of the pages.
func pageStreams(t *testing.T, file []byte) [][]byte {
	t.Helper()
	var all [][]byte
	for _, page := range bytes.Split(file, []byte("<</Type /Page\n"))[1:] {
		_, packed, _ := bytes.Cut(page, []byte("stream\n"))
		r, err := zlib.NewReader(bytes.NewReader(packed))
		require.NoError(t, err)
		drawn, err := io.ReadAll(r)
		require.NoError(t, err)
		all = append(all, drawn)
	}
	return all
}

// utf16Text is text as it stands in a page's instructions.
func utf16Text(text string) []byte {
	var b []byte
	for _, unit := range utf16.Encode([]rune(text)) {
		b = binary.BigEndian.AppendUint16(b, unit)
	}
	return b
}

// bodyText is the text between the heads and the feet of all pages, without
// blanks, so that it does not matter where lines and pages end.
func bodyText(t *testing.T, file string, d *doc.Document, page Page) string {
	t.Helper()
	s := compose(d, sheetOf(page))
	points := func(millimetres float64) string { return strconv.Itoa(int(millimetres / 25.4 * 72)) }
	crop := func(first, last string, from float64) string {
		room := mm(s.paper.height-height(s.foot)) + s.paper.top - from
		return tool(t, "pdftotext", "-raw", "-f", first, "-l", last, "-x", "0", "-y", points(from),
			"-W", "1000", "-H", points(room), file, "-")
	}
	text := crop("1", "1", 0)
	if n := len(s.bodies()); n > 1 {
		text += crop("2", strconv.Itoa(n), s.paper.top+mm(height(s.head)))
	}
	return squeezed(text)
}

func squeezed(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, text)
}

func pdfinfo(t *testing.T, file string) map[string]string {
	t.Helper()
	info := map[string]string{}
	for _, m := range regexp.MustCompile(`(?m)^(.+?): +(.*)$`).FindAllStringSubmatch(tool(t, "pdfinfo", file), -1) {
		info[m[1]] = m[2]
	}
	return info
}

// texts are the texts of d that a page prints.
func texts(d *doc.Document) []string {
	all := []string{d.Head.Shop, d.Head.Title, d.Head.Subtitle, d.Head.Period, d.Head.Example, d.Deferral}
	for _, b := range d.Content {
		switch b := b.(type) {
		case doc.Heading:
			all = append(all, b.Number+b.Text)
		case doc.Paragraph:
			all = append(all, b.Text+cited(b.Cites))
		case doc.List:
			for _, item := range b.Items {
				all = append(all, item.Is+cited(item.Cites))
			}
		case doc.Fields:
			for _, f := range b.Items {
				all = append(all, f.Label, cellText(f.Value))
			}
		case doc.Table:
			all = append(all, tableTexts(b)...)
		case doc.Working:
			all = append(append(all, b.Title), b.Caveats...)
			for _, s := range b.Steps {
				all = append(all, s.Formula+cited([]int{s.Cite}), s.Result)
				for _, in := range s.Inputs {
					all = append(all, in.Symbol+in.Value+in.Origin+cited([]int{in.Cite}))
				}
			}
		case doc.Notice:
			all = append(all, b.Title, b.Text)
		case doc.Chart:
			all = append(all, chartTexts(b)...)
		case doc.Line:
			all = append(all, lineTexts(b)...)
		case doc.SignOff:
			all = append(append(all, b.Statement, "Name", "Signature", "Date"), b.Roles...)
		}
	}
	for i, ref := range d.Sources {
		all = append(all, fmt.Sprintf("[%d]%s%s", i+1, ref.Document, ref.Place), ref.Standing.String(), strconv.Itoa(ref.Year))
	}
	return all
}

// chartTexts are the texts of a chart that stand together on the page.
func chartTexts(c doc.Chart) []string {
	if !c.Drawn() && c.Empty != "" {
		return []string{c.Title, c.Empty}
	}
	all := []string{c.Title + cited(c.Cites), c.Axes().Title}
	for _, d := range c.Dots {
		if len(d.Points) > 0 {
			all = append(all, d.Name)
		}
	}
	for _, s := range c.Steps {
		for _, l := range s.Levels {
			all = append(all, s.Name, l.Value.String())
		}
	}
	for _, b := range c.Bands {
		if len(b.Spans) > 0 {
			all = append(all, b.Name)
		}
	}
	return all
}

func lineTexts(l doc.Line) []string {
	all := []string{l.Title}
	if len(l.Stations) == 0 {
		return append(all, l.Empty)
	}
	for _, s := range l.Stations {
		all = append(all, s.Name, s.Purpose, s.Words, s.DrainsTo)
		for _, c := range append(flows(s.Feeds), s.CarryOn, s.Drain) {
			if n, ok := c.(doc.Number); ok {
				all = append(all, n.String())
			}
		}
	}
	return all
}

func tableTexts(t doc.Table) []string {
	all := []string{t.Caption}
	if len(t.Rows) == 0 {
		return append(all, t.Empty)
	}
	for _, c := range t.Columns {
		all = append(all, c.Head+c.Unit)
	}
	for _, row := range append(t.Rows[:len(t.Rows):len(t.Rows)], t.Totals...) {
		for _, c := range row {
			all = append(all, cellText(c))
		}
	}
	return all
}

func cellText(c doc.Cell) string {
	switch c := c.(type) {
	case doc.Blank:
		if c.Why == "" {
			return ""
		}
		return "—" + c.Why
	case doc.Text:
		return c.Is + cited(c.Cites)
	case doc.Number:
		return c.String() + cited(c.Cites)
	case nil:
		return ""
	default:
		return c.String()
	}
}

func cited(numbers []int) string {
	text := ""
	for _, n := range numbers {
		if n > 0 {
			text += fmt.Sprintf("[%d]", n)
		}
	}
	return text
}
