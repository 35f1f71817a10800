package pdf

import (
	"bytes"
	"cmp"
	"compress/zlib"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
)

// errLayout says that a file is not laid out as the library lays it out.
var errLayout = errors.New("the list of objects of the file was not found; print it as text or as a workbook")

// plainStream is how an object begins whose stream is not compressed.
var plainStream = regexp.MustCompile(`^\d+ 0 obj\n<</Length (\d+)>>\nstream\n`)

// object is a part of a file: its number, and where it starts.
type object struct{ number, at int }

// packed compresses the streams of a file that the library wrote without. The
// library would make a compressor anew for each page, which takes longer than
// compressing.
func packed(file []byte) ([]byte, error) {
	objects, list, err := objectsOf(file)
	if err != nil {
		return nil, err
	}
	out := bytes.NewBuffer(make([]byte, 0, len(file)/4))
	press, err := zlib.NewWriterLevel(out, zlib.BestSpeed)
	if err != nil {
		return nil, err
	}
	out.Write(file[:objects[0].at])
	var stream bytes.Buffer
	for i, o := range objects {
		end := list
		if i+1 < len(objects) {
			end = objects[i+1].at
		}
		body := file[o.at:end]
		objects[i].at = out.Len()
		if head, plain, tail, ok := streamOf(body); ok {
			stream.Reset()
			press.Reset(&stream)
			if err := errors.Join(write(press, plain), press.Close()); err != nil {
				return nil, err
			}
			fmt.Fprintf(out, "%s<</Filter /FlateDecode /Length %d>>\nstream\n", head, stream.Len())
			out.Write(stream.Bytes())
			out.Write(tail)
			continue
		}
		out.Write(body)
	}
	writeList(out, objects, file[list:])
	return out.Bytes(), nil
}

func write(press *zlib.Writer, data []byte) error {
	_, err := press.Write(data)
	return err
}

// streamOf parts an object with a plain stream: its number's line, the stream,
// and what closes it.
func streamOf(body []byte) (head, plain, tail []byte, ok bool) {
	m := plainStream.FindSubmatchIndex(body)
	if m == nil {
		return nil, nil, nil, false
	}
	length, err := strconv.Atoi(string(body[m[2]:m[3]]))
	if err != nil || m[1]+length > len(body) {
		return nil, nil, nil, false
	}
	head = body[:bytes.IndexByte(body, '\n')+1]
	return head, body[m[1] : m[1]+length], body[m[1]+length:], true
}

// listEntry is the length of an entry in the list of objects.
const listEntry = 20

// objectsOf reads the list of objects at the end of a file, which starts at
// list, and gives them in the order in which they stand.
func objectsOf(file []byte) (objects []object, list int, err error) {
	_, last, found := bytes.Cut(file[max(0, len(file)-64):], []byte("startxref\n"))
	if !found {
		return nil, 0, errLayout
	}
	list, err = strconv.Atoi(string(last[:max(0, bytes.IndexByte(last, '\n'))]))
	if err != nil || list < 0 || list > len(file) {
		return nil, 0, errLayout
	}
	var count int
	if n, _ := fmt.Sscanf(string(file[list:min(len(file), list+32)]), "xref\n0 %d\n", &count); n != 1 || count < 2 || count > len(file)/listEntry {
		return nil, 0, errLayout
	}
	entries := list + len(fmt.Sprintf("xref\n0 %d\n", count))
	if entries+count*listEntry > len(file) || !bytes.Contains(file[list:], []byte("trailer\n")) {
		return nil, 0, errLayout
	}
	for i := 1; i < count; i++ {
		at, err := strconv.Atoi(string(file[entries+i*listEntry:][:10]))
		if err != nil || at <= 0 || at >= list {
			return nil, 0, errLayout
		}
		objects = append(objects, object{i, at})
	}
	slices.SortFunc(objects, func(a, b object) int { return cmp.Compare(a.at, b.at) })
	return objects, list, nil
}

// writeList writes the list of objects anew, and behind it what stood behind
// the old one, but for where the list starts.
func writeList(out *bytes.Buffer, objects []object, old []byte) {
	list := out.Len()
	slices.SortFunc(objects, func(a, b object) int { return cmp.Compare(a.number, b.number) })
	fmt.Fprintf(out, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, o := range objects {
		fmt.Fprintf(out, "%010d 00000 n \n", o.at)
	}
	trailer := old[bytes.Index(old, []byte("trailer\n")):]
	out.Write(trailer[:bytes.LastIndex(trailer, []byte("startxref\n"))])
	fmt.Fprintf(out, "startxref\n%d\n%%%%EOF\n", list)
}
