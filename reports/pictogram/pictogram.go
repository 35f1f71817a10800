// Package pictogram holds the nine hazard pictograms of the Globally
// Harmonized System as images: a square set on a point, a black symbol on
// white in a red frame (UN GHS, 1.4.10.4; 29 CFR 1910.1200, Appendix C.2.3;
// Regulation (EC) 1272/2008, Annex I, 1.2.1; places in the documents from
// memory). The symbols are drawn anew from the standard's words, see the
// folder draw; they are not the authorities' own drawings.
//
// Not covered: which pictograms a label carries, how large they are printed,
// and the pictograms of transport, which have other grounds and frames. The
// frame prints in black and white as a dark grey; whoever prints the label
// decides whether that will do.
package pictogram

import "embed"

//go:generate go run ./draw

//go:embed png
var images embed.FS

// symbols are the codes of the standard with the names it gives the symbols.
var symbols = []struct{ code, name string }{
	{"GHS01", "exploding bomb"},
	{"GHS02", "flame"},
	{"GHS03", "flame over circle"},
	{"GHS04", "gas cylinder"},
	{"GHS05", "corrosion"},
	{"GHS06", "skull and crossbones"},
	{"GHS07", "exclamation mark"},
	{"GHS08", "health hazard"},
	{"GHS09", "environment"},
}

// Codes are the nine codes in their order.
func Codes() []string {
	codes := make([]string, len(symbols))
	for i, s := range symbols {
		codes[i] = s.code
	}
	return codes
}

// Name says in plain words what a pictogram shows, for those who do not see
// it. It is empty for a code that is not of the standard.
func Name(code string) string {
	for _, s := range symbols {
		if s.code == code {
			return s.name
		}
	}
	return ""
}

// PNG is a pictogram's image. All are square, and each is of a width in
// pixels of its own, so that a document holding several of them can come out
// the same each time. The caller may change the bytes.
func PNG(code string) ([]byte, bool) {
	if Name(code) == "" {
		return nil, false
	}
	b, err := images.ReadFile("png/" + code + ".png")
	return b, err == nil
}
