package main

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/reports/pictogram"
)

// The embedded images are what the paths give. Pixels are compared, not
// bytes: another version of Go may pack the same pixels otherwise. Processors
// other than amd64 may round an edge to the next colour of the palette.
func TestEmbeddedImagesAreOfThesePaths(t *testing.T) {
	allowed := 0
	if runtime.GOARCH != "amd64" {
		allowed = 1
	}
	drawn, err := pictograms()
	require.NoError(t, err)
	assert.Len(t, drawn, len(pictogram.Codes()))
	for _, code := range pictogram.Codes() {
		want := drawn[code]
		require.NotNil(t, want, code)
		b, _ := pictogram.PNG(code)
		decoded, err := png.Decode(bytes.NewReader(b))
		require.NoError(t, err, code)
		got := decoded.(*image.Paletted)
		require.Equal(t, want.Rect, got.Rect, code)
		require.Equal(t, want.Palette, got.Palette, code)
		assert.LessOrEqual(t, furthest(want.Pix, got.Pix), allowed, "%s differs from its paths: run go generate", code)
	}
}

func furthest(a, b []uint8) int {
	most := 0
	for i := range a {
		most = max(most, int(a[i])-int(b[i]), int(b[i])-int(a[i]))
	}
	return most
}

// blackened is the black area in squares of the grid.
func blackened(t *testing.T, text string) float64 {
	t.Helper()
	shapes, err := parse("test", text)
	require.NoError(t, err)
	const width = 600
	sum := 0.0
	for _, i := range raster(shapes, width).Pix {
		sum += float64(greys-int(i)) / greys
	}
	return sum / width / width * 100 * 100
}

func TestAreas(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want float64
	}{
		"square":            {"black M 20 20 L 60 20 60 60 20 60 Z", 1600},
		"run the other way": {"black M 20 20 L 20 60 60 60 60 20 Z", 1600},
		"turned":            {"black turn 45 50 50 M 30 30 L 70 30 70 70 30 70 Z", 1600},
		"moved by turning":  {"black turn 90 50 50 M 0 0 L 200 0 200 50 0 50 Z", 5000},
		"circle":            {"black O 50 50 30", math.Pi * 900},
		"hole":              {"black O 50 50 30 white O 50 50 20", math.Pi * 500},
		"even bar":          {"black B 30 40 5 70 70 5", math.Pi*25 + 50*10},
		// The smaller end lies inside the larger: there are no tangents.
		"bar within its end": {"black B 50 50 10 53 50 4", math.Pi * 100},
		// Sectors of both ends, parted at the tangents, and two trapeziums.
		"tapered bar": {"black B 30 50 10 60 50 4",
			(math.Pi-math.Acos(0.2))*100 + math.Acos(0.2)*16 + 14*math.Sqrt(900-36)},
		// With its arms upright over the ends, 3/5 of chord times arm.
		"curve": {"black M 20 60 C 20 20 80 20 80 60 Z", 0.6 * 60 * 40},
	} {
		assert.InDelta(t, c.want, blackened(t, c.text), 3, name)
	}
}

func TestRefusals(t *testing.T) {
	for text, want := range map[string]string{
		"black\nQ 1 2":              `x line 2: "Q" is no command; write one of black, white, red, turn, M, L, C, Z, O, B`,
		"black L 1 2":               `x line 1: "L" stands outside an outline; start one with M`,
		"black M 1 2 O 1 2 3":       `x line 1: "O" stands inside an outline; end it with Z`,
		"O 1 2 3":                   `x line 1: "O" has no ink; write black, white or red before it`,
		"black O 1 2":               `x line 1: "O" has 2 numbers; give it 3 on one line`,
		"black O 1 2 Z":             `x line 1: "O" has "Z" for a number; write one between -360 and 360`,
		"black O 1 2 NaN":           `x line 1: "O" has "NaN" for a number; write one between -360 and 360`,
		"black O 1 2 1e9":           `x line 1: "O" has "1e9" for a number; write one between -360 and 360`,
		"black M 1 2 L 3 4 5":       `x line 1: "L" has 1 numbers; give it 2 on one line`,
		"black M 1 2 L 3 4 # Z":     `x: the last outline is open; end it with Z`,
		"black M 1 2 L 3 4 Z 5 6":   `x line 1: "5" is no command; write one of black, white, red, turn, M, L, C, Z, O, B`,
		"black turn 20 50 50 red Z": `x line 1: "Z" stands outside an outline; start one with M`,
	} {
		_, err := parse("x", text)
		assert.EqualError(t, err, want, text)
	}
}

func FuzzParse(f *testing.F) {
	for _, name := range []string{"GHS04.path", "GHS06.path"} {
		text, err := symbols.ReadFile("symbols/" + name)
		require.NoError(f, err)
		f.Add(string(text))
	}
	f.Add("black B 1 1 0 1 1 0 C")
	f.Fuzz(func(t *testing.T, text string) {
		shapes, err := parse("x", text)
		if err == nil && len(shapes) < 50 {
			raster(shapes, 20)
		}
	})
}
