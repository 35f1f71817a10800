package pdf

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/reports/doc"
	"bathwarden/reports/pictogram"
)

func labelled(n int) *doc.Document {
	d := doc.New(doc.Head{Kind: "labels", Title: "Labels", Shop: "Brook Lane Plating (invented)"}, doc.Foot{AsOf: "2026-06-30", Program: "test"}, "Ask.")
	codes := pictogram.Codes()
	for i := range n {
		var l doc.Label
		for k := range i % 4 {
			code := codes[(i+k)%len(codes)]
			l.Pictograms = append(l.Pictograms, doc.Pictogram{Code: code, Name: pictogram.Name(code)})
		}
		if i%4 > 0 {
			l.Signal = "Danger"
			l.Statements = []doc.Text{{Is: "H314 Causes severe skin burns and eye damage"}, {Is: "H290 May be corrosive to metals"}}
		}
		d.Section(2, "Tank")
		d.Add(l)
	}
	return d
}

func TestLabelsOnManyPagesMakeASoundFile(t *testing.T) {
	for _, page := range []Page{A4, Letter} {
		var first, second bytes.Buffer
		require.NoError(t, Write(&first, labelled(60), page))
		require.NoError(t, Write(&second, labelled(60), page))
		assert.True(t, bytes.Equal(first.Bytes(), second.Bytes()), "pictures change the bytes from run to run")
		assert.Greater(t, countPages(first.Bytes()), 5)
		assert.Equal(t, len(pictogram.Codes()), bytes.Count(first.Bytes(), []byte("/Subtype /Image")), "each picture is stored once")
		file := written(t, labelled(60), page)
		assert.NotContains(t, tool(t, "qpdf", "--check", file), "WARNING")
		text := strings.Join(pageTexts(t, file), "\n")
		assert.Contains(t, text, "Signal word: Danger")
		assert.Contains(t, text, "Pictograms: none")
		assert.NotContains(t, text, "could not")
	}
}
