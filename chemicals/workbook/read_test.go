package workbook_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bathwarden/chemicals/workbook"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// formats are the styles of a workbook made by pack: style 1 has the first.
var formats = []string{
	"General", "yyyy-mm-dd", `d/m/yy\ h:mm`, "h:mm AM/PM", "[h]:mm", "0.0%", `0.00" mol/day"`, `[Red]0.00;[Blue]-0.00`,
	`[$-409]mmmm\ d`, `0.0\ \d`, `"%"0`, `_d0*s`, "[ss]", "0.00E+00",
}

// builtIn are the styles behind them, by the number of the format.
var builtIn = []int{0, 9, 10, 14, 22, 27, 45, 46, 47, 49, 50, 58}

// pack makes a workbook of bare parts, so that it holds what no library writes.
func pack(t testing.TB, workbookPr, sheet string) []byte {
	t.Helper()
	var styles, custom strings.Builder
	for i, code := range formats {
		var text bytes.Buffer
		require.NoError(t, escape(&text, code))
		fmt.Fprintf(&custom, `<numFmt numFmtId="%d" formatCode="%s"/>`, 200+i, text.String())
		fmt.Fprintf(&styles, `<xf numFmtId="%d"/>`, 200+i)
	}
	for _, n := range builtIn {
		fmt.Fprintf(&styles, `<xf numFmtId="%d"/>`, n)
	}
	const head = `<?xml version="1.0" encoding="UTF-8"?>`
	const main = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"`
	const rels = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">%s</Relationships>`
	const rel = `<Relationship Id="%s" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/%s" Target="%s"/>`
	return archive(t, map[string]string{
		"[Content_Types].xml": head + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>`,
		"_rels/.rels":         head + fmt.Sprintf(rels, fmt.Sprintf(rel, "rId1", "officeDocument", "xl/workbook.xml")),
		"xl/_rels/workbook.xml.rels": head + fmt.Sprintf(rels, fmt.Sprintf(rel, "rId1", "worksheet", "/xl/worksheets/sheet1.xml")+
			fmt.Sprintf(rel, "rId2", "styles", "styles.xml")+fmt.Sprintf(rel, "rId3", "sharedStrings", "texts.xml")),
		"xl/workbook.xml": head + `<workbook ` + main + `>` + workbookPr + `<sheets><sheet name="Stock" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/styles.xml":   head + `<styleSheet ` + main + `><numFmts>` + custom.String() + `</numFmts><cellXfs>` + `<xf numFmtId="0"/>` + styles.String() + `</cellXfs></styleSheet>`,
		"xl/texts.xml": head + `<sst ` + main + `><si><t xml:space="preserve"> plain </t></si>` +
			`<si><r><t>H</t></r><r><rPr><vertAlign val="subscript"/></rPr><t>2</t></r><r><t>SO4</t></r><rPh sb="0" eb="1"><t>guide</t></rPh></si><si/></sst>`,
		"xl/worksheets/sheet1.xml": head + `<worksheet ` + main + `>` + sheet + `</worksheet>`,
	})
}

func escape(out *bytes.Buffer, text string) error {
	_, err := strings.NewReplacer("&", "&amp;", `"`, "&quot;", "<", "&lt;").WriteString(out, text)
	return err
}

func archive(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		p, err := w.Create(name)
		require.NoError(t, err)
		_, err = p.Write([]byte(parts[name]))
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return out.Bytes()
}

func style(format string) string { // of a custom format or the number of a built-in one
	for i, f := range formats {
		if f == format {
			return fmt.Sprint(i + 1)
		}
	}
	for i, n := range builtIn {
		if fmt.Sprint(n) == format {
			return fmt.Sprint(len(formats) + i + 1)
		}
	}
	return "none"
}

func TestCells(t *testing.T) {
	number := func(format, value string) string {
		return fmt.Sprintf(`<c r="B7" s="%s"><v>%s</v></c>`, style(format), value)
	}
	for _, tc := range []struct {
		xml, text string
		kind      workbook.Kind
	}{
		{`<c r="B7" t="s"><v>0</v></c>`, " plain ", workbook.KindText},
		{`<c r="B7" t="s"><v>1</v></c>`, "H2SO4", workbook.KindText},
		{`<c r="B7" t="s"><v>2</v></c>`, "", workbook.KindEmpty},
		{`<c r="B7" t="inlineStr"><is><r><t>a</t></r><r><t xml:space="preserve"> b</t></r></is></c>`, "a b", workbook.KindText},
		{`<c r="B7" t="inlineStr"><is><t>007_x000A_x_x005F_x0041_</t></is></c>`, "007\nx_x0041_", workbook.KindText},
		{`<c r="B7" t="str"><f>A1&amp;"x"</f><v>ax</v></c>`, "ax", workbook.KindText},
		{`<c r="B7" t="str"><f>""</f><v></v></c>`, "", workbook.KindEmpty},
		{`<c r="B7" t="b"><v>1</v></c>`, "TRUE", workbook.KindBool},
		{`<c r="B7" t="e"><f>1/0</f><v>#DIV/0!</v></c>`, "#DIV/0!", workbook.KindError},
		{`<c r="B7" t="d"><v>2026-03-01T14:30:00</v></c>`, "2026-03-01 14:30", workbook.KindDate},
		{`<c r="B7" t="d"><v>2026-03-01</v></c>`, "2026-03-01", workbook.KindDate},
		{`<c r="B7"><v>1.1000000000000001</v></c>`, "1.1", workbook.KindNumber},
		{`<c r="B7" t="n"><v>1E-3</v></c>`, "0.001", workbook.KindNumber},
		{`<x:c r="B7"><x:v>1.5</x:v></x:c>`, "1.5", workbook.KindNumber},
		{`<c r="B7" s="99"><v>5</v></c>`, "5", workbook.KindNumber},
		{`<c r="B7"><f>A1*2</f><v>46112</v></c>`, "46112", workbook.KindNumber},
		{number("General", "46112"), "46112", workbook.KindNumber},
		{number("yyyy-mm-dd", "46112"), "2026-03-31", workbook.KindDate},
		{number("yyyy-mm-dd", "59"), "1900-02-28", workbook.KindDate},
		{number("yyyy-mm-dd", "61"), "1900-03-01", workbook.KindDate},
		{number("yyyy-mm-dd", "2958465"), "9999-12-31", workbook.KindDate},
		{number(`d/m/yy\ h:mm`, "46112.6041666667"), "2026-03-31 14:30", workbook.KindDate},
		{number(`d/m/yy\ h:mm`, "46112.604357"), "2026-03-31 14:30:16", workbook.KindDate},
		{number(`d/m/yy\ h:mm`, "46111.99999999"), "2026-03-31", workbook.KindDate},
		{number("h:mm AM/PM", "0.604166666666667"), "14:30", workbook.KindDate},
		{number("h:mm AM/PM", "46112.5"), "2026-03-31 12:00", workbook.KindDate},
		{number("h:mm AM/PM", "0"), "00:00", workbook.KindDate},
		{number("[h]:mm", "1.10416666666667"), "26:30", workbook.KindDate},
		{number("[ss]", "0.00005787037"), "00:00:05", workbook.KindDate},
		{number(`[$-409]mmmm\ d`, "46112"), "2026-03-31", workbook.KindDate},
		{number("0.0%", "0.05"), "5 %", workbook.KindNumber},
		{number("0.0%", "0.07"), "7 %", workbook.KindNumber},
		{number("9", "0.333"), "33.3 %", workbook.KindNumber},
		{number("10", "1"), "100 %", workbook.KindNumber},
		{number(`"%"0`, "0.05"), "0.05", workbook.KindNumber},
		{number(`0.00" mol/day"`, "46112"), "46112", workbook.KindNumber},
		{number(`[Red]0.00;[Blue]-0.00`, "46112"), "46112", workbook.KindNumber},
		{number(`0.0\ \d`, "46112"), "46112", workbook.KindNumber},
		{number(`_d0*s`, "46112"), "46112", workbook.KindNumber},
		{number("0.00E+00", "46112"), "46112", workbook.KindNumber},
		{number("14", "46112"), "2026-03-31", workbook.KindDate},
		{number("22", "46112.5"), "2026-03-31 12:00", workbook.KindDate},
		{number("27", "46112"), "2026-03-31", workbook.KindDate},
		{number("45", "0.5"), "12:00", workbook.KindDate},
		{number("46", "2"), "48:00", workbook.KindDate},
		{number("47", "0.5"), "12:00", workbook.KindDate},
		{number("49", "46112"), "46112", workbook.KindNumber},
		{number("50", "46112"), "2026-03-31", workbook.KindDate},
		{number("58", "46112"), "2026-03-31", workbook.KindDate},
	} {
		t.Run(tc.xml, func(t *testing.T) {
			cell := only(t, pack(t, "", `<sheetData><row r="7">`+tc.xml+`<c r="C7"><v>1</v></c></row></sheetData>`))
			assert.Equal(t, tc.text, cell.Text)
			assert.Equal(t, tc.kind, cell.Kind, "got %s, want %s", cell.Kind, tc.kind)
			assert.Equal(t, "Stock!B7", cell.Where())
			assert.Nil(t, cell.Fault)
		})
	}
}

// only is the cell in column B of the only row.
func only(t *testing.T, data []byte) workbook.Cell {
	t.Helper()
	all := rows(t, read(t, data).Sheets[0])
	require.Len(t, all, 1)
	return all[0].Cell(2)
}

func TestDatesFrom1904(t *testing.T) {
	for value, want := range map[string]string{"0": "1904-01-01", "44650": "2026-03-31", "44650.5": "2026-03-31 12:00", "1": "1904-01-02"} {
		cell := only(t, pack(t, `<workbookPr date1904="1"/>`, `<sheetData><row><c r="B1" s="`+style("yyyy-mm-dd")+`"><v>`+value+`</v></c></row></sheetData>`))
		assert.Equal(t, want, cell.Text, value)
		assert.Equal(t, workbook.KindDate, cell.Kind)
	}
}

func TestFaultsOfCells(t *testing.T) {
	for xml, says := range map[string]string{
		`<c r="B7"><f>A1*2</f></c>`:                                       "Stock!B7: the formula has no value stored with it; open the workbook",
		`<c r="B7"><f>A1*2</f><v/></c>`:                                   "the formula has no value stored with it",
		`<c r="B7" t="str"><f>A1*2</f></c>`:                               "the formula has no value stored with it",
		`<c r="B7" t="s"><v>3</v></c>`:                                    `points to text "3", which the workbook does not hold`,
		`<c r="B7" t="s"><v>-1</v></c>`:                                   `points to text "-1"`,
		`<c r="B7"><v>12,5</v></c>`:                                       `is stored as a number but reads "12,5"`,
		`<c r="B7"><v>0x1F</v></c>`:                                       `reads "0x1F"`,
		`<c r="B7"><v>NaN</v></c>`:                                        `reads "NaN"`,
		`<c r="B7"><v>1e999</v></c>`:                                      `reads "1e999"`,
		`<c r="B7" t="b"><v>maybe</v></c>`:                                `"maybe" is neither true nor false`,
		`<c r="B7" t="d"><v>March</v></c>`:                                `"March" is not a date; write it as 2026-03-31`,
		`<c r="B7" s="` + style("yyyy-mm-dd") + `"><v>-1</v></c>`:         "shown as a date, but -1 is not a date",
		`<c r="B7" s="` + style("yyyy-mm-dd") + `"><v>60</v></c>`:         "1900-02-29 never was a day",
		`<c r="B7" s="` + style("yyyy-mm-dd") + `"><v>2958466</v></c>`:    "2958466 is not a date",
		`<c r="B7" s="` + style("[h]:mm") + `"><v>-0.5</v></c>`:           "-0.5 is not a time",
		`<c r="B7" s="` + style("yyyy-mm-dd") + `"><v>7664939000</v></c>`: "7664939000 is not a date",
	} {
		cell := only(t, pack(t, "", `<sheetData><row r="7">`+xml+`</row></sheetData>`))
		require.NotNil(t, cell.Fault, xml)
		assert.ErrorContains(t, cell.Fault, says)
	}
}

func TestRowsAndRefs(t *testing.T) {
	data := pack(t, "", `<dimension ref="A1"/><sheetData>
<row r="2"><c r="C2"><v>1</v></c><c><v>2</v></c><c s="1"/><c><v>4</v></c></row><row r="4"/>
<row><c t="inlineStr"><is><t>x</t></is></c></row></sheetData>
<mergeCells count="2"><mergeCell ref="A1:B2"/><mergeCell ref="D4:D9"/></mergeCells>`)
	w := read(t, data).Sheets[0]
	assert.Equal(t, []string{"A1:B2", "D4:D9"}, w.Merged)
	var got []string
	for _, row := range rows(t, w) {
		for _, c := range row.Cells {
			got = append(got, fmt.Sprint(row.Number, " ", c.Where(), " ", c.Column, " ", c.Text))
		}
	}
	assert.Equal(t, []string{"2 Stock!C2 3 1", "2 Stock!D2 4 2", "2 Stock!F2 6 4", "5 Stock!A5 1 x"}, got)
	assert.Equal(t, workbook.Cell{Sheet: "Stock", Ref: "A2", Column: 1}, rows(t, w)[0].Cell(1))
}

func TestDamagedSheets(t *testing.T) {
	for sheet, says := range map[string]string{
		`<sheetData><row r="1"><c r="A1"><v>1</v></c></row>`:                    "", // the sheet's end closes it
		`<sheetData><row r="1"><c r="A1"><v>1</v>`:                              "ends in the middle",
		`<sheetData><row r="2"/><row r="2"><c r="A2"/></row></sheetData>`:       `row "2" follows row 2`,
		`<sheetData><row r="x"/></sheetData>`:                                   `row "x" follows row 0`,
		`<sheetData><row r="2"><c r="B2"/><c r="A2"/></row></sheetData>`:        `cell "A2" stands in row 2 behind column B`,
		`<sheetData><row r="2"><c r="A3"/></row></sheetData>`:                   `cell "A3" stands in row 2`,
		`<sheetData><row r="2"><c r="XFE2"/></row></sheetData>`:                 `cell "XFE2"`,
		`<sheetData><row r="1"><c r="A1"><v>&oops;</v></c></row></sheetData>`:   "invalid character entity",
		`<sheetData><rcw></row></sheetData>`:                                    `"row" ends where nothing such began`,
		`<sheetData><c r="A1"><v>1</v></c></sheetData>`:                         `"c" stands in the wrong place behind row 0`,
		`<sheetData><row><c/><row/></row></sheetData>`:                          `"row" stands in the wrong place behind row 1`,
		`<sheetData><row r="1"><c r="A1"><v>1</v></c></sheetData>`:              `"sheetData" ends where nothing such began`,
		`<sheetData><row r="1000001"/></sheetData>`:                             "has more than 1000000 rows; split it",
		`<sheetData>` + strings.Repeat("<row/>", 1_000_001) + `</sheetData>`:    "has more than 1000000 rows",
		`<sheetData><row r="99999999999999999999"/></sheetData>`:                `row "99999999999999999999"`,
		`<sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>x`:                "ends in the middle",
		`<sheetData><row r="1"><c r="A1"><v>1</v></c></row><row r="3000000"/> `: "has more than 1000000 rows",
	} {
		f := read(t, pack(t, "", sheet))
		var failed error
		seen := 0
		for _, err := range f.Sheets[0].Rows() {
			if failed = err; err == nil {
				seen++
			}
		}
		name := sheet[:min(len(sheet), 80)]
		if says == "" {
			assert.NoError(t, failed, name)
			continue
		}
		var p *workbook.Problem
		require.ErrorAs(t, failed, &p, name)
		assert.ErrorContains(t, failed, `sheet "Stock": `)
		assert.ErrorContains(t, failed, says, name)
		assert.Zero(t, seen, name)
	}
}

func TestFilesThatAreNoWorkbooks(t *testing.T) {
	var locked bytes.Buffer
	f := excelize.NewFile()
	require.NoError(t, f.Write(&locked, excelize.Options{Password: "nickel"}))
	good := pack(t, "", "<sheetData/>")
	for name, tc := range map[string]struct {
		data []byte
		says string
	}{
		"empty file":         {nil, "is not an .xlsx workbook; open it in a spreadsheet program and save it as .xlsx"},
		"text":               {[]byte("tank,volume\nB5,800 L\n"), "is not an .xlsx workbook"},
		"another archive":    {archive(t, map[string]string{"content.xml": "<x/>"}), "is not an .xlsx workbook"},
		"no workbook inside": {archive(t, map[string]string{"[Content_Types].xml": "<Types/>"}), "is not an .xlsx workbook"},
		"encrypted":          {locked.Bytes(), "is encrypted; save it without a password"},
		"cut off":            {good[:len(good)/2], "is damaged"},
		"a byte changed":     {flip(good), "is damaged"},
		"unpacks to much":    {sized(t, 1<<40), "unpacks to more than 512 MiB; split it"},
		"unpacks to more":    {sized(t, 10), "is damaged"},
		"states too much":    {sized(t, 400<<20), "is damaged ([Content_Types].xml states 419430400 bytes, more than it can hold)"},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "book.xlsx")
			require.NoError(t, os.WriteFile(path, tc.data, 0o600))
			_, err := workbook.Open(path)
			var p *workbook.Problem
			require.ErrorAs(t, err, &p)
			assert.ErrorContains(t, err, path+": "+tc.says)
		})
	}
	_, err := workbook.Open("no such file.xlsx")
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func flip(data []byte) []byte {
	data = bytes.Clone(data)
	at := bytes.Index(data, []byte("PK\x03\x04"))
	data[at+60] ^= 0x55
	return data
}

// sized is an archive that states a size that its part has not.
func sized(t *testing.T, size uint64) []byte {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	content := []byte("<Types>" + strings.Repeat(" ", 100000) + "</Types>")
	_, err := w.Create("_rels/.rels")
	require.NoError(t, err)
	p, err := w.CreateRaw(&zip.FileHeader{
		Name: "[Content_Types].xml", Method: zip.Store, CRC32: crc32.ChecksumIEEE(content),
		CompressedSize64: uint64(len(content)), UncompressedSize64: size,
	})
	require.NoError(t, err)
	_, err = p.Write(content)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return out.Bytes()
}

func TestAnyCutIsAProblem(t *testing.T) {
	good, _ := sample(t)
	for n := 0; n < len(good); n += 1 + n/40 {
		_, err := workbook.Read(bytes.NewReader(good[:n]), int64(n))
		var p *workbook.Problem
		require.True(t, errors.As(err, &p), "first %d bytes: %v", n, err)
	}
}

func TestOldWorkbook(t *testing.T) {
	soffice := program(t, "soffice")
	data, _ := sample(t)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "in.xlsx"), data, 0o600))
	out, err := exec.Command(soffice, "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless",
		"--convert-to", "xls:MS Excel 97", "--outdir", dir, filepath.Join(dir, "in.xlsx")).CombinedOutput()
	require.NoError(t, err, string(out))
	_, err = workbook.Open(filepath.Join(dir, "in.xls"))
	assert.ErrorContains(t, err, "is not an .xlsx workbook but of an older kind (.xls); save it as .xlsx")
}
