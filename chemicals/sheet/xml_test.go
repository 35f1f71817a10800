package sheet_test

import (
	"archive/zip"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// stylesXML gives style 1 to days, 2 to instants, 3 to shares, 4 to times of day.
const stylesXML = `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">
<fonts count="1"><font/></fonts><fills count="1"><fill/></fills><borders count="1"><border/></borders>
<cellStyleXfs count="1"><xf/></cellStyleXfs>
<cellXfs count="5"><xf/><xf numFmtId="14"/><xf numFmtId="22"/><xf numFmtId="9"/><xf numFmtId="20"/></cellXfs></styleSheet>`

// xmlSheet is a sheet of a workbook: each row a list of cells, "text",
// "=number", "=number/style", "?1" for a truth value, "!#DIV/0!" for an error,
// or XML.
type xmlSheet struct {
	name string
	rows [][]string
	tail string // behind the rows
}

func (s xmlSheet) xml() string {
	var b strings.Builder
	b.WriteString(`<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`)
	for i, row := range s.rows {
		fmt.Fprintf(&b, `<row r="%d">`, i+1)
		for j, c := range row {
			b.WriteString(cellXML(fmt.Sprintf("%c%d", 'A'+j, i+1), c))
		}
		b.WriteString("</row>")
	}
	b.WriteString("</sheetData>" + s.tail + "</worksheet>")
	return b.String()
}

func cellXML(ref, c string) string {
	switch {
	case c == "":
		return ""
	case c[0] == '<':
		return strings.Replace(c, "<c", fmt.Sprintf(`<c r=%q`, ref), 1)
	case c[0] == '?':
		return fmt.Sprintf(`<c r=%q t="b"><v>%s</v></c>`, ref, c[1:])
	case c[0] == '!':
		return fmt.Sprintf(`<c r=%q t="e"><v>%s</v></c>`, ref, c[1:])
	case c[0] == '=':
		number, style, _ := strings.Cut(c[1:], "/")
		if style == "" {
			style = "0"
		}
		return fmt.Sprintf(`<c r=%q s=%q><v>%s</v></c>`, ref, style, number)
	}
	return fmt.Sprintf(`<c r=%q t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, ref, c)
}

// book writes a workbook of such sheets and gives its path.
func book(t testing.TB, date1904 bool, sheets ...xmlSheet) string {
	t.Helper()
	const types = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	var list, links, content strings.Builder
	parts := map[string]string{"xl/styles.xml": stylesXML}
	for i, s := range sheets {
		fmt.Fprintf(&list, `<sheet name=%q sheetId="%d" r:id="r%d"/>`, s.name, i+1, i+1)
		fmt.Fprintf(&links, `<Relationship Id="r%d" Type="%sworksheet" Target="worksheets/sheet%d.xml"/>`, i+1, types, i+1)
		fmt.Fprintf(&content, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`, i+1)
		parts[fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1)] = s.xml()
	}
	parts["[Content_Types].xml"] = `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>` +
		`<Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/>` + content.String() + `</Types>`
	const relations = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">`
	parts["_rels/.rels"] = relations + `<Relationship Id="r1" Type="` + types + `officeDocument" Target="xl/workbook.xml"/></Relationships>`
	parts["xl/workbook.xml"] = fmt.Sprintf(`<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><workbookPr date1904="%t"/><sheets>%s</sheets></workbook>`, date1904, &list)
	parts["xl/_rels/workbook.xml.rels"] = relations + links.String() + `<Relationship Id="styles" Type="` + types + `styles" Target="styles.xml"/></Relationships>`

	path := filepath.Join(t.TempDir(), "book.xlsx")
	out, err := os.Create(path)
	require.NoError(t, err)
	archive := zip.NewWriter(out)
	for name, text := range parts {
		w, err := archive.Create(name)
		require.NoError(t, err)
		_, err = w.Write([]byte(text))
		require.NoError(t, err)
	}
	require.NoError(t, archive.Close())
	require.NoError(t, out.Close())
	return path
}
