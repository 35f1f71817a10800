package reference

import "bathwarden/chemicals/quantity"

// Classification is how a substance is classified.
type Classification struct {
	Basis      Basis
	Index      string // index number in Annex VI; empty if not harmonised
	Confidence Confidence
	// Classes is empty where the substance was looked at and not classified.
	Classes     []Class
	Limits      []ClassLimit
	MFactors    []MFactor
	Estimates   []ToxicityEstimate
	Supplements []Supplement
	Sourced
}

// Basis tells what weight a classification has.
type Basis string

// The bases. Harmonised is the legal minimum in the European Union, Typical is
// what suppliers state or notify.
const (
	Harmonised Basis = "harmonised"
	Typical    Basis = "typical"
)

// Confidence is how sure we are of a classification that was recalled. It is
// empty where at least a part was read.
type Confidence string

// The degrees. Where it is Low, the supplier's sheet should be used instead.
const (
	High   Confidence = "high"
	Medium Confidence = "medium"
	Low    Confidence = "low"
)

// Class is a hazard class and category with its statement, in the abbreviations
// of Annex VI: "Acute Tox. 4", H302.
type Class struct {
	Class   string
	Code    string
	Minimum bool   // Annex VI marks it as a minimum classification: data may make it stricter
	Marks   string // the further asterisks of the entry, ** and ***
	Sourced
}

// ClassLimit is a specific concentration limit: the class applies at Low and
// above, and below Below where that is stated.
type ClassLimit struct {
	Class      string // empty for a supplemental statement, EUH031
	Code       string
	Low, Below quantity.Stated[quantity.MassShare]
	Sourced
}

// MFactor multiplies the content of a substance in the sums for the aquatic
// environment.
type MFactor struct {
	Hazard AquaticHazard
	Factor int
	Sourced
}

// AquaticHazard is the class that an M-factor belongs to.
type AquaticHazard string

// The aquatic hazards.
const (
	AquaticAcute   AquaticHazard = "acute"
	AquaticChronic AquaticHazard = "chronic"
)

// ToxicityEstimate is a published acute toxicity estimate by inhalation, four hours.
type ToxicityEstimate struct {
	Route string
	Is    quantity.Stated[quantity.AirConcentration]
	Sourced
}

// Supplement is a supplemental hazard statement, EUH031.
type Supplement struct {
	Code string
	Sourced
}
