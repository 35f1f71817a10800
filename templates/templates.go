// Package templates holds the wording of the papers and the example shop. It
// holds no limits and computes nothing.
//
// The wording is ours. Where a sentence states a duty or a habit it names no
// figure; figures come from the tables, with their sources.
package templates

// Deferral stands on every paper.
const Deferral = "The figures in this paper are computed from the shop's own records and from published tables; " +
	"each shows its working and its source. They are an aid to planning and record keeping and decide nothing. " +
	"The permit, the local code and the control authority prevail, then the supplier's safety data sheet; " +
	"work that can hurt someone wants a licensed or otherwise qualified professional who has seen the shop."

// ExampleNote stands on every paper of the example shop.
const ExampleNote = "Example: every name, number and date of this shop is made up"

// Inventory is the wording of the chemical inventory.
var Inventory = struct {
	Title, Intro                                                          string
	Shop, Products, Known, Contents, Classes                              string
	Amounts, Places, Moves, Peaks                                         string
	Tanks, Lines, Baths, Metals                                           string
	Working, WorkingIntro                                                 string
	PlacesNote, PeaksNote, BathsNote, MetalsNote, ContentsNote, ClassNote string
}{
	Title: "Chemical inventory",
	Intro: "What the shop holds, where it stands, what is in each tank, and what the record does not say.",

	Shop:     "The shop",
	Products: "Products",
	Known:    "What is bought",
	Contents: "What it is made of",
	Classes:  "Classes that the suppliers' sheets declare",
	ContentsNote: "Shares by mass as the record has them. What is not listed of a product is not known; it is not taken for water " +
		"unless water is listed.",
	ClassNote: "As the supplier declares them, in the abbreviations of CLP Annex VI; they are repeated here, not judged.",

	Amounts:    "Amounts",
	Places:     "By place",
	Moves:      "Today, with what came and went since the count",
	Peaks:      "Highest in the period",
	PlacesNote: "Containers as last counted, each taken as full.",
	PeaksNote: "The largest amount on any day of the period, from counts, receipts and additions. Where the record begins after the first " +
		"day of the period, the days before it are not covered.",

	Tanks:      "Tanks",
	Lines:      "The tanks",
	Baths:      "What is in them",
	Metals:     "Metals in the tanks",
	BathsNote:  "The make-up as recorded, or the latest analysis where there is one. The remainder of a bath is water.",
	MetalsNote: "Plating and heavy metals, computed from the contents of each tank by the share of the metal in its salts.",

	Working: "Working",
	WorkingIntro: "How the figures above were computed, with the entries of the record book that they rest on. They are worked out in " +
		"metric units, whatever the pages before are printed in.",
}

// The example shop's name and the last day of its record.
const (
	ExampleShop    = "Fernhollow Finishing"
	ExampleLastDay = "2026-09-30"
)

// Gaps is the wording of the section on what is missing or stale.
var Gaps = struct{ Title, Intro, None string }{
	Title: "Missing or stale",
	Intro: "What the record does not say, or says with an old date. A gap is not a zero: figures that depend on it are left out or are too low.",
	None:  "The record answers every question that this paper asks of it.",
}

// SignOff is the wording of the section to sign on.
var SignOff = struct{ Title, Statement, PreparedBy, CheckedBy string }{
	Title:      "Sign-off",
	Statement:  "I have read this paper, compared it with what stands in the shop, and noted differences on it by hand.",
	PreparedBy: "Prepared by",
	CheckedBy:  "Checked by",
}
