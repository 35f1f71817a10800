package workbook_test

import (
	"bytes"
	"io"
	"testing"

	"bathwarden/chemicals/workbook"

	"github.com/stretchr/testify/require"
)

const benchRows = 100_000

func writeMany(b *testing.B, w io.Writer) {
	book, err := workbook.New(props())
	require.NoError(b, err)
	defer book.Close()
	s := sheet(b, book, "Many")
	require.NoError(b, s.Extent(9, benchRows))
	for i := range benchRows {
		v := float64(i)
		require.NoError(b, s.Row(
			workbook.Date(2026, 3, 1+i%31), workbook.Text("B5"), workbook.Text("nickel sulfate"), workbook.Text("7786-81-4"),
			workbook.Number(800+v/7).Decimals(1), workbook.Number(350), workbook.Number(4.2).Decimals(1),
			workbook.Live("E1*F1", (800+v/7)*350).Decimals(0), workbook.Text("a note of some length")))
	}
	require.NoError(b, book.Write(w))
}

func BenchmarkWrite100k(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		writeMany(b, io.Discard)
	}
}

func BenchmarkRead100k(b *testing.B) {
	var data bytes.Buffer
	writeMany(b, &data)
	b.ReportAllocs()
	for b.Loop() {
		f, err := workbook.Read(bytes.NewReader(data.Bytes()), int64(data.Len()))
		require.NoError(b, err)
		n := 0
		for row, err := range f.Sheets[0].Rows() {
			require.NoError(b, err)
			n += len(row.Cells)
		}
		require.Equal(b, 9*benchRows, n)
	}
}
