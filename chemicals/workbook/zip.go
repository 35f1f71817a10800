package workbook

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"hash/crc32"
	"io"
	"io/fs"
	"regexp"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

const contentTypes = "[Content_Types].xml"

// stableZip writes the parts of a workbook in one order and without times. The
// library hands them over in the order of a map, and lists them so too. Each
// part is packed as it comes, so that only packed bytes wait for the end.
type stableZip struct {
	out   io.Writer
	parts []*entry
}

type entry struct {
	name   string
	size   uint64
	sum    uint32
	packed bytes.Buffer
	pack   *flate.Writer
	plain  *bytes.Buffer // only of the list of content types, to be put in order
}

func newStableZip(w io.Writer) excelize.ZipWriter { return &stableZip{out: w} }

// Create begins a part; the one before it ends, as with zip.Writer.
func (z *stableZip) Create(name string) (io.Writer, error) {
	if err := z.end(); err != nil {
		return nil, err
	}
	p := &entry{name: name}
	z.parts = append(z.parts, p)
	if name == contentTypes {
		p.plain = &bytes.Buffer{}
		return p.plain, nil
	}
	return p, p.open()
}

// packing is the level of compression. The usual one, 6, makes the file a
// twelfth smaller and takes half as long again for the whole of it.
const packing = 4

func (p *entry) open() (err error) {
	p.pack, err = flate.NewWriter(&p.packed, packing)
	return err
}

func (p *entry) Write(data []byte) (int, error) {
	p.size += uint64(len(data))
	p.sum = crc32.Update(p.sum, crc32.IEEETable, data)
	return p.pack.Write(data)
}

func (z *stableZip) end() error {
	if len(z.parts) == 0 {
		return nil
	}
	p := z.parts[len(z.parts)-1]
	if p.plain != nil {
		if err := p.open(); err != nil {
			return err
		}
		if _, err := p.Write(sortTypes(p.plain.Bytes())); err != nil {
			return err
		}
		p.plain = nil
	}
	if p.pack == nil {
		return nil
	}
	err := p.pack.Close()
	p.pack = nil
	return err
}

// AddFS is asked for by the library's interface, and never called by it.
func (z *stableZip) AddFS(fs.FS) error { return fs.ErrInvalid }

// Close writes all parts, the list of content types first.
func (z *stableZip) Close() error {
	if err := z.end(); err != nil {
		return err
	}
	slices.SortFunc(z.parts, func(a, b *entry) int { return strings.Compare(rank(a.name), rank(b.name)) })
	archive := zip.NewWriter(z.out)
	for _, p := range z.parts {
		w, err := archive.CreateRaw(&zip.FileHeader{
			Name: p.name, Method: zip.Deflate, CRC32: p.sum,
			CompressedSize64: uint64(p.packed.Len()), UncompressedSize64: p.size,
		})
		if err != nil {
			return err
		}
		if _, err := p.packed.WriteTo(w); err != nil {
			return err
		}
	}
	return archive.Close()
}

func rank(name string) string {
	if name == contentTypes {
		return ""
	}
	return name
}

var typed = regexp.MustCompile(`<(?:Default|Override) [^>]*></(?:Default|Override)>`)

// sortTypes puts the elements of the list of content types in order: those by
// ending, then those by part.
func sortTypes(list []byte) []byte {
	all := typed.FindAll(list, -1)
	if len(all) == 0 {
		return list
	}
	slices.SortFunc(all, bytes.Compare)
	first := typed.FindIndex(list)[0]
	rest := typed.ReplaceAll(list, nil)
	return slices.Concat(rest[:first], bytes.Join(all, nil), rest[first:])
}
