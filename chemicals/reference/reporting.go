package reference

import (
	"fmt"
	"regexp"

	"bathwarden/chemicals/quantity"
)

// Reporting is what one list of the US reporting duties says of a substance.
type Reporting struct {
	List      List
	Listed    Listing
	Figure    quantity.Stated[quantity.Mass] // not Known where the list gives none
	Entry     string                         // how the list names it
	LimitedTo string                         // the form or use the entry is for: "gas only"
	Sourced
}

// List is a list of substances with reporting duties.
type List string

// The lists.
const (
	ReportableQuantity   List = "CERCLA RQ" // release, 40 CFR 302.4
	ThresholdPlanning    List = "EPCRA TPQ" // on site, 40 CFR 355 Appendix A
	ExtremelyHazardousRQ List = "EPCRA RQ"  // release, 40 CFR 355 Appendix A
	ToxicRelease         List = "TRI 313"   // 40 CFR 372.65; a figure only where the threshold is not the general one
)

// Listing tells whether a list has a substance.
type Listing string

// The listings. GenericClass is a member of a class, "nickel and compounds",
// for which the list gives no figure.
const (
	Listed       Listing = "yes"
	NotListed    Listing = "no"
	GenericClass Listing = "generic class"
)

// WasteCode is a US hazardous waste code that the unused substance bears
// (listed) or that a waste of it may bear (characteristic): a prompt for the
// determination of 40 CFR 262.11, not the determination.
type WasteCode struct {
	Code           string // "P106", "D002"
	Characteristic bool
	When           string // "in solution"; empty where not stated
	Sourced
}

var wasteCodePattern = regexp.MustCompile(`^[DFKPU]\d{3}$`)

func (l *loader) loadReporting() {
	for _, r := range l.table("reporting", "*substance", "*list", "listed", "figure", "*entry", "*limited to", "note", "source", "confirm in") {
		s := r.substance()
		if s == nil {
			continue
		}
		report := Reporting{
			List:   word(r, "list", ReportableQuantity, ThresholdPlanning, ExtremelyHazardousRQ, ToxicRelease),
			Listed: word(r, "listed", Listed, NotListed, GenericClass), Figure: stated[quantity.Mass](r, "figure"),
			Entry: r.text("entry"), LimitedTo: r.text("limited to"), Sourced: r.sourced(),
		}
		switch {
		case report.Figure.Known() && report.Listed != Listed:
			r.fault(fmt.Sprintf("figure %q for what is not listed", report.Figure), "mend the one or the other")
		case !report.Figure.Known() && report.Listed == Listed && report.List != ToxicRelease:
			r.fault("figure is empty", `write it as "1000 lb"`)
		}
		s.Reporting = append(s.Reporting, report)
		r.fact(s, report.what(), report.value(), report.Sourced)
	}
	l.loadWasteCodes()
}

func (p Reporting) what() string {
	what := string(p.List)
	for _, more := range []string{p.Entry, p.LimitedTo} {
		if more != "" {
			what += ", " + more
		}
	}
	return what
}

func (p Reporting) value() string {
	switch {
	case p.Figure.Known():
		return p.Figure.String()
	case p.Listed == Listed:
		return "listed"
	case p.Listed == GenericClass:
		return "generic class, no figure"
	}
	return "not listed"
}

func (l *loader) loadWasteCodes() {
	for _, r := range l.table("waste_codes", "*substance", "*code", "how", "when", "source", "confirm in") {
		s := r.substance()
		if s == nil {
			continue
		}
		waste := WasteCode{Code: r.text("code"), When: r.text("when"), Sourced: r.sourced()}
		waste.Characteristic = word(r, "how", "listed", "characteristic") == "characteristic"
		if !wasteCodePattern.MatchString(waste.Code) || waste.Characteristic != (waste.Code[0] == 'D') {
			r.fault(fmt.Sprintf("code %q is not a %s code", waste.Code, r.text("how")), `write D001 to D043 for a characteristic, P106 or U122 for a listed waste`)
		}
		s.WasteCodes = append(s.WasteCodes, waste)
		value := waste.Code
		if waste.When != "" {
			value += ", " + waste.When
		}
		r.fact(s, "waste code, "+r.text("how"), value, waste.Sourced)
	}
}
