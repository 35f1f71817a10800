package pdf

import (
	"io"
	"testing"

	"github.com/stretchr/testify/require"
)

func BenchmarkWrite10Pages(b *testing.B)  { benchmark(b, 165) }
func BenchmarkWrite100Pages(b *testing.B) { benchmark(b, 2150) }

func benchmark(b *testing.B, rows int) {
	d := sample(rows)
	for b.Loop() {
		require.NoError(b, Write(io.Discard, d, A4))
	}
	b.ReportMetric(float64(len(plan(d, sheetOf(A4)))), "pages")
}

// What the library takes for the same 100 pages when it is given their strips:
// the yardstick of BenchmarkWrite100Pages.
func BenchmarkLibrary100Pages(b *testing.B) {
	paper := sheetOf(A4)
	pages := plan(sample(2150), paper)
	for b.Loop() {
		_, err := generate(paper, pages, titles{})
		require.NoError(b, err)
	}
	b.ReportMetric(float64(len(pages)), "pages")
}
