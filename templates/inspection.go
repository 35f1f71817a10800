package templates

// Inspection is the wording of the inspection packet.
var Inspection = struct {
	Title, Intro, ForSewer                         string
	First, Together, TogetherNote, NothingTogether string
	Shop, Chemicals, ChemicalsNote                 string
	Differences, DifferencesNote, NoDifferences    string
	Tanks, TanksNote                               string
	Never, NothingNever                            string
	NoClasses, NotClassified, Unsure, CautionsNote string
	Prevent, Respond, Store, Dispose               string
	Stock, StockNote                               string
	People, PeopleNote, Trainings, TrainingsNote   string
	Checks, ChecksNote, Papers, PapersNote         string
}{
	Title: "Inspection packet",
	Intro: "What the shop has, what it does to a person, who answers for it, and what the record leaves open.",

	ForSewer: "For whoever inspects what goes to the sewer: limits, results, estimate and open notices first, then the shop behind them.",

	First:    "What is asked first",
	Together: "What stands together and must not",
	TogetherNote: "Products at the same place whose constituents must be kept apart, by the groups of the published tables. A product whose " +
		"contents are not known is not judged here; it is named under what is missing.",
	NothingTogether: "No two products with known contents were found that stand at the same place and must be kept apart.",

	Shop:      "The shop",
	Chemicals: "Chemicals",
	ChemicalsNote: "Classes in the abbreviations of CLP Annex VI: those that follow from the contents that the record has, and those that the " +
		"supplier declares. Where they differ the former are marked; the supplier may know tests, and the supplier's sheet prevails.",

	Differences: "Where supplier and contents differ",
	DifferencesNote: "Both stay. The supplier may know tests, or a part that the list of contents leaves out; the record may have the contents " +
		"wrong. Products for which nothing declared is recorded are not compared.",
	NoDifferences: "No difference was found.",

	Tanks: "Tank by tank",
	TanksNote: "Each tank's contents are classified as a mixture of their ingredients in water. What reacts in a tank, and what the work carries in, is not known to the computation. A tank that is run warm, gassed or " +
		"electrolysed gives off more than its contents say.",
	Never:        "What must never meet it, by the groups of what is in the tank. The list is of known dangers and not complete.",
	NothingNever: "The published tables name nothing for what is known to be in the tank.",

	NoClasses:     "No class follows from what is recorded. That is not a finding that there is no hazard.",
	NotClassified: "Not classified",
	Unsure:        "What is not certain about these classes:",
	CautionsNote: "Usual cautions: precautionary statements of the standard for these classes. They are general; the supplier's safety data sheet, " +
		"the local code and a qualified professional say what is needed at this tank.",
	Prevent: "To prevent harm", Respond: "If it happens", Store: "To store", Dispose: "To dispose",

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
