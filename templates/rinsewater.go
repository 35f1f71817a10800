package templates

// RinseWater is the wording of the paper on rinse water.
var RinseWater = struct {
	Title, Intro                                        string
	Plan, PlanNote, NoWays, NoYear                      string
	First                                               string
	Ranked, RankedNote, NoRanked, NoKeeping             string
	Over, OverNote, AllOver, LessWater                  string
	Spreading, SpreadingNote, WorkingLetIn, AllKeeping  string
	Saving, SavingNote, NoSaving, InFull                string
	Near, NearNote                                      string
	Needs, Together, Open, OpenNote, NoOpen             string
	LeftOut, LeftOutNote, NoLeftOut                     string
	Lines, LinesNote, NoLines                           string
	Charts, ChartsNote, NoCharts, ChartEmpty            string
	Rinses, RinsesNote, NoRinses, Now, Wanted           string
	Stages, StagesNote, NoStages                        string
	Still, StillNote, NoStill                           string
	DragOut, DragOutNote, NoDragOut                     string
	Metals, MetalsNote, NoMetals                        string
	Discharge, DischargeNote, NoDischarge, NothingThere string
	Months, Senders, Worst, WorstNote                   string
	Precious, PreciousNote, NoPrecious                  string
	Balance, BalanceNote, NoBalance, BalanceSums        string
	Meters, MetersNote, NoMeters                        string
	Evaporation, EvaporationNote, NoEvaporation         string
	Working, WorkingNote, NothingWorked                 string
	WorkingRinses, WorkingBaths, WorkingFirst           string
	Spans, SpansNote, Weak                              string
}{
	Title: "Rinse water and discharge",
	Intro: "Which rinse to change first and why, what leaves at each point beside its limits, and where the metal went.",

	Plan: "Which rinse to change first",
	PlanNote: "Each way was worked out alone on the whole shop and set beside the limits of its point. The ways stand in the order of regulated " +
		"metal kept from the drain for each unit of money and year, then of water saved. Ways that hang on a fact which the book does not say, " +
		"and ways that were left out, stand below with the reason. What is not in the record, such as room beside the line, only the shop can judge.",
	NoWays: "No work with a rinse that drains to a point is recorded in the period, so there is nothing to rank.",
	NoYear: "The book does not say how many days a year the shop works; the figures for a year are those of the period as it is.",

	First: "What the first one does, metal by metal",

	Ranked: "Ways that keep metal, ranked",
	RankedNote: "Kept is metal that a limit binds and that no longer goes down the drain. Costs are those of water, sewer and hauling at the " +
		"recorded prices, more or less than now; tanks, pumps and labour are not priced. Ways that cost no more than now stand first, by the metal " +
		"that they keep.",
	NoRanked:  "No way could be ranked.",
	NoKeeping: "No ranked way keeps metal that a limit binds.",
	LessWater: "the treatment leaves a concentration, so less water takes less metal along",

	Spreading: "Ways that only spread what leaves over days",
	SpreadingNote: "All of the metal leaves in the end, but on no one day does the point come as near to its limit. Reckoned with the high estimate of " +
		"the worst day without the dump.",

	Over: "Ways with which a limit is still passed",
	OverNote: "By the high estimate the point is over a limit without these ways, and with each of them alone it still is. They stand behind the " +
		"others, in the same order; none of them makes it worse.",
	AllOver: "By the high estimate no single way brings the point under its limits. What follows lessens what leaves; it does not end it.",

	Saving:     "Ways that only save water",
	SavingNote: "The metal that leaves stays the same and stands in less water, so the point comes nearer to a limit on concentration.",
	NoSaving:   "No ranked way only saves water.",

	InFull:     "The plan in full",
	AllKeeping: "All ways that keep metal, ranked",

	Near: "How near to a limit each comes",
	NearNote: "The limit that the point comes nearest to with the way in place, by the high estimate of the worst day or, for an average, of the " +
		"worst month.",

	Needs:    "What each needs",
	Together: "The first two that go together",
	Open:     "Ways that hang on a missing fact",
	OpenNote: "Recording the fact decides them.",
	NoOpen:   "No way hangs on a missing fact.",

	LeftOut:     "Ways left out",
	LeftOutNote: "A way is left out if by its high estimate a limit would be broken that is not broken without it, or if it joins what must not meet.",
	NoLeftOut:   "No way was left out.",

	Lines: "The line as it stands",
	LinesNote: "Tanks in their order, what the work carries from each to the next on a day with work, what water comes in, and where it goes. " +
		"A flow is one while the water runs.",
	NoLines: "No line with work is recorded.",

	Charts: "Samples and estimate over time",
	ChartsNote: "Each sample of the period, the range that the work of each month gives by the estimate, and the limit. A hollow or pale mark is a sample " +
		"in which nothing was found; it stands at the figure from which the laboratory would have reported it.",
	NoCharts:   "No pollutant has both a limit and a sample in the period that could be drawn.",
	ChartEmpty: "Nothing to draw in the period.",

	Rinses: "Rinses",
	RinsesNote: "The exact answer for full mixing stands beside the usual rule, the n-th root of the ratio, which is printed for comparison and not " +
		"used. The check puts the flow needed back into the formula; it gives the ratio that is wanted. Where the water of a stage turns over " +
		"slower than a working day the steady figures are a lower bound, and the rinse after its heaviest day is the one to go by.",
	Now:      "How they run now",
	Wanted:   "The water that is needed",
	NoRinses: "No work through a rinse is recorded in the period.",
	Stages:   "Stage by stage",
	StagesNote: "Steady, when each day is like the mean, and after the heaviest recorded day from clean water, load by load. The metal is the one " +
		"by which the rinse is judged.",
	NoStages: "No stage can be worked out.",
	Still:    "Still rinses and when to dump them",
	StillNote: "Loads since the last emptying, what stands in the rinse now, and the day on which it reaches what is wanted at the pace of the " +
		"period.",
	NoStill: "No still rinse with work is recorded.",

	DragOut: "Drag-out, bath by bath",
	DragOutNote: "Area of the work times the film that clings to it. Which film was taken stands in the last columns: what was measured comes " +
		"first, then additions, then the rise of a still rinse, then the speed of withdrawal, then the published table. Low and high of the " +
		"table are the neighbouring rows of the same orientation.",
	NoDragOut: "No drag-out can be worked out: no work is recorded, or nothing that tells the film.",
	Metals:    "The metal in it",
	MetalsNote: "Over the period. Each bath's concentration is the mean over its drag-out, because analyses and additions change it; the spans of " +
		"one bath stand in the working.",
	NoMetals: "No bath with drag-out is known to hold a metal.",

	Discharge: "Discharge",
	DischargeNote: "By the estimate: drag-out, through the rinses and dumps, less what the shop's own treatment takes out, over the water that " +
		"left. Days without work are taken to send nothing.",
	NoDischarge:  "No water is known to leave at any point.",
	NothingThere: "No metal is known to come to this point.",
	Months:       "Month by month, in which any left",
	Senders:      "Who sends it, before treatment",
	Worst:        "The worst day, four days and month of each metal, by the high estimate",
	WorstNote: "Four days are successive sets of days with water, without overlap, each the mean of its days; fewer than four at the end are no set. " +
		"The rule on a four-day average counts monitoring days, which are those of the samples.",
	Precious:     "What the metal is worth",
	PreciousNote: "At the latest recorded price of each metal, for what left or was hauled in the period.",
	NoPrecious:   "No price of a metal that left is recorded.",

	Balance: "Metal balance",
	BalanceNote: "What came and what went, metal by metal. What is not explained holds the errors of all lines: counts, analyses, efficiencies " +
		"and film. It is no finding of a loss.",
	NoBalance:   "No metal is known to have come or gone.",
	BalanceSums: "Came, went and not explained",

	Meters:     "Water balance",
	MetersNote: "Each meter's water beside the flows and hours of what it serves. Water is taken to run on days with work.",
	NoMeters:   "No meter is recorded.",

	Evaporation: "Evaporation, and the return it allows",
	EvaporationNote: "Water that a heated tank loses on a working day, as the range of two published sources, beside the drag-out of the same " +
		"bath. As much rinse water as the tank loses can go back into it; what fouls the bath goes back with it.",
	NoEvaporation: "No heated tank with a known surface and heated hours is recorded.",

	Working: "Working",
	WorkingNote: "How the figures came about, with the entries of the record book that they rest on: of the first way, of each rinse, and of the metals of each bath. " +
		"They are worked out in metric units, whatever the pages before are printed in. Three cases go through each chain, low with low and high " +
		"with high; a low case may come to more than a high one.",
	NothingWorked: "Nothing was worked out.",
	WorkingRinses: "Rinses",
	WorkingBaths:  "Metals of the baths",
	WorkingFirst:  "The bath behind the first way",
	WorkingLetIn:  "Dumps that are let in little by little",
	Spans:         "Drag-out of the bath behind the first way, span by span",
	Weak:          "What weakens these figures:",
	SpansNote:     "A span lasts as long as bath, drainage and film stay the same.",
}

// Sewer is the wording of the sections on waste water that several papers have.
var Sewer = struct {
	Page, PageNote, NoPoints, NoLimits                        string
	NoOpenNotices                                             string
	Standard, StandardNote, Unsettled, SameHolds              string
	Choices, ChoicesNote                                      string
	Limits, LimitsNote, Combined, CombinedNote, Behind        string
	Cyanide, CyanideNote, NoCyanide                           string
	Monitoring, MonitoringNote, Due, DueNote, NoDue           string
	Taken, NoTaken, Results, ResultsNote, NoResults, Analyses string
	Versus, VersusNote, NoVersus                              string
	Averages, AveragesNote, NoAverages                        string
	Shares, SharesNote, NoShares                              string
	Clocks, ClocksNote, NoClocks                              string
	Certify, CertifyNote, Statement, Look, Signatory          string
	Waters, WatersNote, NoWaters                              string
	Treatment, TreatmentNote, NoTreatment                     string
	Reagents, Sludge, NoSludge                                string
	Holds, HoldsNote, NoHolds                                 string
	Shipments, ShipmentsNote, NoShipments                     string
	Inspection, NotCompared, NoLimitKnown                     string
}{
	Page: "Limits, results, estimate and open notices",
	PageNote: "The strictest limit of each kind that binds, the samples beside it, the mean of the estimate from the work done and its worst day, " +
		"four days or month as the rule takes it, and the ratio of the samples in which something was found to the estimate of the same days. " +
		"Results of the authority's samples are counted. Of a minimum the lowest result stands for the highest. In mg/L where no unit stands " +
		"by the name; a name is marked while a notice or repeated sampling on it is open.",
	NoPoints:      "No point of discharge is recorded.",
	NoLimits:      "No limit is known to bind here.",
	NoOpenNotices: "No notice or repeated sampling is open by the record.",
	NoLimitKnown:  "no limit known",
	NotCompared:   "not comparable",

	Standard:     "Which federal rule applies",
	StandardNote: "By the facts of the book, in the order in which the rules ask for them. The control authority decides.",
	Unsettled:    "The book leaves more than one reading. Each is listed with what it takes for the facts that are missing.",
	SameHolds:    "The same holds for:",
	Choices:      "Limits that may stand in for others",
	ChoicesNote:  "Each needs what stands beside it; none is used in this paper.",

	Limits: "Every limit in force",
	LimitsNote: "On the as-of day. The strictest of each pollutant, rule and basis is marked with an asterisk; limits on different bases are not " +
		"compared with each other.",
	Combined: "Federal limits with the shop's other waters",
	CombinedNote: "By the combined wastestream formula, with the other waters that join before treatment. Such limits may be used only with the " +
		"control authority's written concurrence.",
	Behind:  "behind the treatment, where dilution raises no limit, joins",
	Cyanide: "Limits on cyanide for a sample of the whole effluent",
	CyanideNote: "Cyanide is to be sampled after its treatment and before other water dilutes it; there the limit holds as it stands. The adjusted " +
		"limit holds only for a sample of the whole effluent, by the control authority's leave. It is the limit times the share of the " +
		"effluent that bears cyanide: the fresh water of the rinses behind the baths that hold it, without dumps.",
	NoCyanide: "No bath of the book holds cyanide, so no limit on it is adjusted.",

	Monitoring:     "Self-monitoring",
	MonitoringNote: "Every sample of the period as the record has it.",
	Due:            "What was to be sampled",
	DueNote:        "Spans that ended in the period. A span without a sample of the shop's own is named.",
	NoDue:          "The book asks for no sampling.",
	Taken:          "Samples taken",
	NoTaken:        "No sample is recorded in the period.",
	Results:        "Results",
	ResultsNote:    "As the laboratory reported them. A result over a limit of its day is marked.",
	NoResults:      "No result is recorded in the period.",
	Analyses:       "Who analysed them, and when the shop had the results",
	Versus:         "Samples beside the estimate of their day",
	VersusNote: "A ratio far from one says that sample and estimate do not agree. It corrects nothing by itself: sample, film, removal and flow can " +
		"each be wrong.",
	NoVersus:   "No sample lies on a day for which its pollutant is estimated.",
	Averages:   "Averages, as the rules take them",
	NoAverages: "No limit on an average has samples in the period.",
	AveragesNote: "Of four monitoring days that follow each other, or of a calendar month, of the shop's own samples. Non-detects are counted as " +
		"declared:",
	Shares: "Shares of results over a limit",
	SharesNote: "Over the months that the rule looks at, up to the as-of day, the authority's results among them. The share of the last columns is " +
		"of results over the technical review level, the limit times a factor of the rule.",
	NoShares: "No result can be counted against a limit.",
	Clocks:   "Notices and repeated sampling",
	ClocksNote: "What a result over a limit, or an incident that reached a drain, set running in the period, from the hour that the record gives, and " +
		"the entry that closed it.",
	NoClocks: "Nothing in the period set a clock running.",
	Certify:  "What is certified",
	CertifyNote: "This form is not signed by the program and certifies nothing. What a signatory certifies, and in which words, the rule and the " +
		"control authority say.",
	Statement: "Statement to be certified",
	Look:      "to be filled in; 40 CFR 403.12(l) says who signs and where its words stand",
	Signatory: "Authorised representative, 40 CFR 403.12(l)",

	Waters:     "Other waters",
	WatersNote: "Water beside that of the rinses, and how the combined wastestream formula sorts it.",
	NoWaters:   "No other water is recorded.",

	Treatment:     "Treatment",
	TreatmentNote: "Metal that the shop's own treatment took out over the period, by the removals that the record has.",
	NoTreatment:   "No treatment is known to take out metal.",
	Reagents:      "Reagents",
	Sludge:        "Sludge",
	NoSludge:      "No metal with a known hydroxide was taken out.",

	Holds:     "Hold tanks",
	HoldsNote: "The mean filling of the last days with work, and from the last level the day on which the tank is full.",
	NoHolds:   "No hold tank is recorded.",

	Shipments:     "Waste shipped",
	ShipmentsNote: "What was shipped or came back in the period, as recorded.",
	NoShipments:   "No shipment is recorded in the period.",

	Inspection: "Waste water",
}
