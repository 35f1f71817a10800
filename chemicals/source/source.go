// Package source says how a value is known: from which document, at which
// place in it, of which year, and with what standing.
//
// A figure whose source is not known has no place in the tables; a figure that
// was recalled and not read again says so (FromMemory), and a habit of the
// trade says that it has no source (CommonPractice).
package source

import (
	"fmt"
	"strconv"
	"strings"
)

// Standing tells what weight a document carries. The zero value is no standing
// and is refused by the loaders.
type Standing int

// The standings, from the most to the least binding.
const (
	LawInForce Standing = iota + 1
	HistoricalLaw
	Guidance
	Handbook
	Paper
	ShopRecord
	CommonPractice
	FromMemory
)

var standings = [...]string{
	LawInForce:     "law in force",
	HistoricalLaw:  "historical law",
	Guidance:       "guidance",
	Handbook:       "handbook",
	Paper:          "paper",
	ShopRecord:     "shop's own record",
	CommonPractice: "common practice, no source",
	FromMemory:     "from memory",
}

// Standings lists every standing in order.
func Standings() []Standing {
	all := make([]Standing, 0, len(standings)-1)
	for s := LawInForce; int(s) < len(standings); s++ {
		all = append(all, s)
	}
	return all
}

func (s Standing) String() string {
	if s < 1 || int(s) >= len(standings) {
		return "no standing"
	}
	return standings[s]
}

// ParseStanding reads the words that String prints.
func ParseStanding(text string) (Standing, error) {
	for s, words := range standings {
		if s > 0 && words == text {
			return Standing(s), nil
		}
	}
	return 0, fmt.Errorf("standing %q is not one of: %s", text, strings.Join(standings[1:], "; "))
}

// Ref points to the place where a value is published or recorded. Two equal
// Refs are the same source, so a Ref may be a map key.
type Ref struct {
	Document string // title, number or name, as a reader would look it up
	Place    string // section, table, equation, page; empty where the whole document is meant
	Year     int    // of the edition; 0 where the document bears none
	Standing Standing
}

// Known reports whether r points anywhere.
func (r Ref) Known() bool { return r.Document != "" || r.Standing != 0 }

// Entry is the Ref of an entry of the shop's own record book.
func Entry(number int64) Ref {
	return Ref{Document: "record book", Place: "entry " + strconv.FormatInt(number, 10), Standing: ShopRecord}
}

// Named is the document, or that there is none.
func (r Ref) Named() string {
	if r.Document == "" {
		return "none named"
	}
	return r.Document
}

// String prints document, place, year and standing, parted by commas.
func (r Ref) String() string {
	var parts []string
	if r.Document != "" {
		parts = append(parts, r.Document)
	}
	if r.Place != "" {
		parts = append(parts, r.Place)
	}
	if r.Year != 0 {
		parts = append(parts, strconv.Itoa(r.Year))
	}
	parts = append(parts, r.Standing.String())
	return strings.Join(parts, ", ")
}

// Origin tells how a value came to be known.
type Origin int

// The origins.
const (
	Measured  Origin = iota + 1 // by the shop or its laboratory, on a date
	Recorded                    // stated in an entry of the record book
	Published                   // in a document
	Assumed                     // by us, for want of anything better
	Computed                    // by an earlier step
)

func (o Origin) String() string {
	switch o {
	case Measured:
		return "measured"
	case Recorded:
		return "recorded"
	case Published:
		return "published"
	case Assumed:
		return "assumed"
	case Computed:
		return "computed"
	}
	return "of unknown origin"
}

// Value is a quantity, or any other figure, with how it is known.
type Value[Q any] struct {
	Is     Q
	Origin Origin
	Ref    Ref
}
