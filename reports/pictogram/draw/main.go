// Command draw renders the hazard pictograms from the paths in its folder
// symbols into ../png. It is run by "go generate" in the package above and is
// no part of the program that is shipped.
//
// The symbols are drawn anew on a grid of 0 to 100 after the words of the
// standard: a square set on a point, a black symbol on white in a red frame
// (UN GHS, 1.4.10.4; 29 CFR 1910.1200, Appendix C.2.3; Regulation (EC)
// 1272/2008, Annex I, 1.2.1). No published drawing was traced.
package main

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
	"path"
	"path/filepath"
	"strings"
)

//go:embed symbols
var symbols embed.FS

// The narrowest image in pixels, and by how much each next one is wider. A
// PDF writer may order images by their width: equal widths would leave the
// order, and so the bytes of the file, to chance.
const (
	narrowest = 600
	wider     = 4
)

func main() {
	if err := write("png"); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func write(folder string) error {
	images, err := pictograms()
	if err != nil {
		return err
	}
	var faults []error
	for code, picture := range images {
		var b bytes.Buffer
		e := png.Encoder{CompressionLevel: png.BestCompression}
		if err := e.Encode(&b, picture); err != nil {
			return err
		}
		faults = append(faults, os.WriteFile(filepath.Join(folder, code+".png"), b.Bytes(), 0o644))
	}
	return errors.Join(faults...)
}

// pictograms renders every symbol in the frame, by code.
func pictograms() (map[string]*image.Paletted, error) {
	frame, err := read("frame.path")
	if err != nil {
		return nil, err
	}
	files, err := symbols.ReadDir("symbols")
	if err != nil {
		return nil, err
	}
	images := map[string]*image.Paletted{}
	for _, f := range files {
		if f.Name() == "frame.path" {
			continue
		}
		symbol, err := read(f.Name())
		if err != nil {
			return nil, err
		}
		code := strings.TrimSuffix(f.Name(), ".path")
		shapes := append(frame[:len(frame):len(frame)], symbol...)
		images[code] = raster(shapes, narrowest+wider*len(images))
	}
	return images, nil
}

func read(name string) ([]shape, error) {
	text, err := symbols.ReadFile(path.Join("symbols", name))
	if err != nil {
		return nil, err
	}
	return parse(name, string(text))
}
