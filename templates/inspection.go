package templates

// Inspection is the wording of the inspection packet.
var Inspection = struct {
	Title, Intro                                   string
	First, Together, TogetherNote, NothingTogether string
	Shop, Chemicals, ChemicalsNote                 string
	Tanks, TanksNote                               string
	Never, NothingNever                            string
	Stock, StockNote                               string
	People, PeopleNote, Trainings, TrainingsNote   string
	Checks, ChecksNote, Papers, PapersNote         string
}{
	Title: "Inspection packet",
	Intro: "What the shop has, who answers for it, and what the record leaves open.",

	First:    "What is asked first",
	Together: "What stands together and must not",
	TogetherNote: "Products at the same place whose constituents must be kept apart, by the groups of the published tables. A product whose " +
		"contents are not known is not judged here; it is named under what is missing.",
	NothingTogether: "No two products with known contents were found that stand at the same place and must be kept apart.",

	Shop:          "The shop",
	Chemicals:     "Chemicals",
	ChemicalsNote: "Classes as the supplier declares them, in the abbreviations of CLP Annex VI; they are repeated here, not judged.",

	Tanks: "Tank by tank",
	TanksNote: "What reacts in a tank, and what the work carries in, is not known to the computation. A tank that is run warm, gassed or " +
		"electrolysed gives off more than its contents say.",
	Never:        "What must never meet it, by the groups of what is in the tank. The list is of known dangers and not complete.",
	NothingNever: "The published tables name nothing for what is known to be in the tank.",

	Stock:     "Stock by location",
	StockNote: "Containers as last counted, each taken as full.",

	People:        "People and training",
	PeopleNote:    "Who works in the shop and what they answer for.",
	Trainings:     "Training",
	TrainingsNote: "The last record of each topic. How often a training is due is for the rule that asks for it.",
	Checks:        "Checks",
	ChecksNote: "What was looked at again and again in the period, how often, and the longest time between two records. A time at least twice " +
		"the usual one is marked.",
	Papers:     "Papers",
	PapersNote: "Permits, plans and certificates that the record names.",
}
