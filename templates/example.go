// Package templates holds what the program ships as text: wording, the order
// of sections, and the example shop. It holds no limits and no arithmetic.
package templates

import (
	"embed"
	"io/fs"
)

//go:embed example/*.csv
var example embed.FS

// Example is the book of a made-up shop as sheets, one CSV file for each kind
// of record: a year of work in a small job shop for musical-instrument and
// optical hardware.
//
// Everything in it is invented: the shop, its people, suppliers, trade names,
// authorities, numbers and dates. Make-ups and sizes follow common practice of
// the trade; none is advice. It has gaps and faults on purpose, so that each
// rule finds something.
func Example() fs.FS {
	sheets, err := fs.Sub(example, "example")
	if err != nil {
		panic("templates: " + err.Error())
	}
	return sheets
}
