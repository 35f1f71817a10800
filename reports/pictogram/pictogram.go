// Package pictogram holds the nine hazard pictograms of the GHS, drawn by us
// after the published standard: black symbol on white, in a red square set on a
// point (UN GHS, 1.4.10.4; 29 CFR 1910.1200, Appendix C.2.3; CLP Annex I, 1.2.1;
// the places from memory). The shapes are path data in draw/symbols; the
// pictures are made from them by go generate.
//
// Not covered: transport placards and workplace signs, which have other forms.
package pictogram

import "embed"

//go:generate go run ./draw

//go:embed png/*.png
var pictures embed.FS

// names are what the symbols show, in the words of the standard.
var names = [...]struct{ code, name string }{
	{"GHS01", "exploding bomb"}, {"GHS02", "flame"}, {"GHS03", "flame over circle"},
	{"GHS04", "gas cylinder"}, {"GHS05", "corrosion"}, {"GHS06", "skull and crossbones"},
	{"GHS07", "exclamation mark"}, {"GHS08", "health hazard"}, {"GHS09", "environment"},
}

// Codes are the nine codes in order.
func Codes() []string {
	all := make([]string, len(names))
	for i, n := range names {
		all[i] = n.code
	}
	return all
}

// Name says what the symbol shows; empty for a code that is none.
func Name(code string) string {
	for _, n := range names {
		if n.code == code {
			return n.name
		}
	}
	return ""
}

// PNG is the picture, square and white outside its frame.
func PNG(code string) ([]byte, bool) {
	png, err := pictures.ReadFile("png/" + code + ".png")
	return png, err == nil
}
