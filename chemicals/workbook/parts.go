package workbook

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"regexp"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// load takes from the opened workbook what reading its cells needs.
func load(book *excelize.File) (*File, error) {
	props, err := book.GetWorkbookProps()
	if err != nil {
		return nil, damaged(err.Error())
	}
	f := &File{date1904: props.Date1904 != nil && *props.Date1904}
	main := target(book, "", "officeDocument")
	if main == "" || part(book, main) == nil || book.WorkBook == nil {
		return nil, notWorkbook()
	}
	if f.kinds, err = numberKinds(book); err != nil {
		return nil, damaged(err.Error())
	}
	if f.shared, err = sharedStrings(part(book, target(book, main, "sharedStrings"))); err != nil {
		return nil, damaged(err.Error())
	}
	links := relations(book, main)
	for _, sheet := range book.WorkBook.Sheets.Sheet {
		link, ok := links[sheet.ID]
		if ok && !link.is("worksheet") {
			continue
		}
		data := part(book, link.to)
		if data == nil {
			return nil, damaged(fmt.Sprintf("sheet %q is missing", sheet.Name))
		}
		f.Sheets = append(f.Sheets, newWorksheet(f, sheet.Name, sheet.State, data))
	}
	return f, nil
}

// part is the unpacked content of a part, nil where there is none.
func part(book *excelize.File, name string) []byte {
	content, ok := book.Pkg.Load(name)
	if !ok {
		return nil
	}
	data, _ := content.([]byte)
	return data
}

// relation leads from one part to another.
type relation struct{ kind, to string }

// is compares the last word of the kind, which strict and transitional
// workbooks share.
func (r relation) is(kind string) bool { return strings.HasSuffix(r.kind, "/"+kind) }

// relations reads where a part leads to, by id; "" is the package itself.
func relations(book *excelize.File, from string) map[string]relation {
	folder, name := path.Split(from)
	var list struct {
		Relationship []struct {
			ID     string `xml:"Id,attr"`
			Type   string `xml:"Type,attr"`
			Target string `xml:"Target,attr"`
		}
	}
	if err := xml.Unmarshal(part(book, folder+"_rels/"+name+".rels"), &list); err != nil {
		return nil // every use of a missing relation is reported by its user
	}
	all := map[string]relation{}
	for _, r := range list.Relationship {
		to := strings.ReplaceAll(r.Target, `\`, "/")
		if !strings.HasPrefix(to, "/") {
			to = path.Join("/", folder, to)
		}
		all[r.ID] = relation{r.Type, strings.TrimPrefix(path.Clean(to), "/")}
	}
	return all
}

// target is the one part of a kind that from leads to.
func target(book *excelize.File, from, kind string) string {
	to := ""
	for _, r := range relations(book, from) {
		if r.is(kind) && (to == "" || r.to < to) {
			to = r.to
		}
	}
	return to
}

// sharedStrings reads the table of texts that cells point into.
func sharedStrings(data []byte) ([]string, error) {
	var all []string
	in := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := in.RawToken()
		if errors.Is(err, io.EOF) {
			return all, nil
		}
		if err != nil {
			return nil, err
		}
		if start, ok := token.(xml.StartElement); ok && start.Name.Local == "si" {
			text, err := richText(in, "si")
			if err != nil {
				return nil, err
			}
			all = append(all, text)
		}
	}
}

// richText joins the runs of a text up to the end of the element named until,
// leaving out phonetic guides.
func richText(in *xml.Decoder, until string) (string, error) {
	var text strings.Builder
	inText, guide := false, 0
	for {
		token, err := in.RawToken()
		if err != nil {
			return "", err
		}
		switch t := token.(type) {
		case xml.StartElement:
			inText = t.Name.Local == "t"
			if t.Name.Local == "rPh" {
				guide++
			}
		case xml.CharData:
			if inText && guide == 0 {
				text.Write(t)
			}
		case xml.EndElement:
			inText = false
			switch t.Name.Local {
			case until:
				return unescape(text.String()), nil
			case "rPh":
				guide--
			}
		}
	}
}

var escaped = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)

// unescape reads the format's own way to write characters that XML does not
// allow: _x000D_ is a carriage return, _x005F_ the underscore itself.
func unescape(text string) string {
	if !strings.Contains(text, "_x") {
		return text
	}
	return escaped.ReplaceAllStringFunc(text, func(code string) string {
		n, err := strconv.ParseUint(code[2:6], 16, 32)
		if err != nil {
			return code
		}
		return string(rune(n))
	})
}
