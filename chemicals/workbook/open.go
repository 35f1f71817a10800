package workbook

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
)

// maxUnpacked is the most bytes that a workbook may unpack to: some ten times
// a sheet of 100,000 rows, and little enough for a small computer.
const maxUnpacked = 512 << 20

// Problem is a fault in a workbook that its owner can mend: where it is, what
// it is, and what to do about it.
type Problem struct {
	Where string // file, or sheet and cell as Stock!B7; empty where the caller knows it better
	What  string
	Mend  string // empty where nothing more can be said
}

func (p *Problem) Error() string {
	text := p.What
	if p.Where != "" {
		text = p.Where + ": " + text
	}
	if p.Mend != "" {
		text += "; " + p.Mend
	}
	return text
}

// File is a workbook that was opened to be read. The library unpacks it and
// reads its styles and properties. The cells are read here: the library's row
// reader gives neither type nor style, and ends without a word where the XML
// is damaged; its typed calls hold the whole sheet in objects.
type File struct {
	Sheets []*Worksheet // in order, hidden ones too; no chart sheets

	shared   []string
	kinds    []numberKind // by style
	date1904 bool
}

// Open reads the workbook at path. A *Problem says what is wrong with the file.
func Open(path string) (*File, error) {
	in, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	info, err := in.Stat()
	if err != nil {
		return nil, err
	}
	f, err := Read(in, info.Size())
	var p *Problem
	if errors.As(err, &p) {
		p.Where = path
	}
	return f, err
}

// Read reads a workbook of size bytes. It never panics: a panic of the library
// over a damaged file becomes a Problem.
func Read(r io.ReaderAt, size int64) (f *File, err error) {
	defer func() {
		if failure := recover(); failure != nil {
			f, err = nil, damaged(fmt.Sprint(failure))
		}
	}()
	if err := looksRight(r, size); err != nil {
		return nil, err
	}
	book, err := excelize.OpenReader(io.NewSectionReader(r, 0, size), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: maxUnpacked, UnzipXMLSizeLimit: maxUnpacked,
	})
	if err != nil {
		return nil, damaged(err.Error())
	}
	defer book.Close()
	return load(book)
}

func damaged(detail string) *Problem {
	return &Problem{
		What: fmt.Sprintf("is damaged (%s)", strings.TrimSpace(detail)),
		Mend: "open it in a spreadsheet program and save it again as .xlsx",
	}
}

func notWorkbook() *Problem {
	return &Problem{What: "is not an .xlsx workbook", Mend: "open it in a spreadsheet program and save it as .xlsx"}
}

// compound begins the container of older workbooks and of encrypted ones.
var compound = []byte{0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1}

// looksRight tells from the outside of the file whether it can be read at all.
func looksRight(r io.ReaderAt, size int64) error {
	begin := make([]byte, len(compound))
	if n, _ := r.ReadAt(begin, 0); n == len(begin) && bytes.Equal(begin, compound) {
		return compoundProblem(r, size)
	}
	archive, err := zip.NewReader(r, size)
	if err != nil {
		if bytes.HasPrefix(begin, []byte("PK\x03\x04")) {
			return damaged(err.Error())
		}
		return notWorkbook()
	}
	unpacked, marks := uint64(0), 0
	var unlikely error
	for _, part := range archive.File {
		if strings.EqualFold(part.Name, contentTypes) || part.Name == "_rels/.rels" {
			marks++
		}
		unpacked += min(part.UncompressedSize64, maxUnpacked+1)
		if unlikely == nil {
			unlikely = likelySize(part, size)
		}
	}
	switch {
	case unpacked > maxUnpacked:
		return &Problem{
			What: fmt.Sprintf("unpacks to more than %d MiB", maxUnpacked>>20),
			Mend: "split it into several workbooks",
		}
	case marks < 2: // every package of this kind has both parts
		return notWorkbook()
	}
	return unlikely
}

// likelySize refuses a part whose stated size it cannot have: the library would
// make room for it before it reads a byte.
func likelySize(part *zip.File, size int64) error {
	const mostDeflated = 1032 // times: what DEFLATE (RFC 1951) can at most, 258 bytes for two bits; from memory
	packed := part.CompressedSize64
	if packed > uint64(size) || part.UncompressedSize64/mostDeflated > packed {
		return damaged(fmt.Sprintf("%s states %d bytes, more than it can hold", part.Name, part.UncompressedSize64))
	}
	return nil
}

// compoundProblem tells an encrypted workbook from an old one by the names in
// the container's directory, which are UTF-16.
func compoundProblem(r io.ReaderAt, size int64) error {
	data, err := io.ReadAll(io.NewSectionReader(r, 0, min(size, maxUnpacked)))
	if err != nil {
		return err
	}
	if bytes.Contains(data, utf16LE("EncryptedPackage")) {
		return &Problem{What: "is encrypted", Mend: "save it without a password"}
	}
	return &Problem{What: "is not an .xlsx workbook but of an older kind (.xls)", Mend: "save it as .xlsx"}
}

func utf16LE(text string) []byte {
	var data []byte
	for _, unit := range utf16.Encode([]rune(text)) {
		data = binary.LittleEndian.AppendUint16(data, unit)
	}
	return data
}
