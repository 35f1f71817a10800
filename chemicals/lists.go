package chemicals

import (
	"regexp"
	"strconv"
	"strings"
)

// Regime is the set of rules that the shop works under.
type Regime string

// The regimes.
const (
	UnitedStates Regime = "us"
	Europe       Regime = "eu"
)

func (Regime) words() []string { return []string{"us", "eu"} }

// Form is the state in which a product is bought.
type Form string

// The forms.
const (
	Liquid Form = "liquid"
	Solid  Form = "solid"
	Gas    Form = "gas"
)

func (Form) words() []string { return []string{"liquid", "solid", "gas"} }

// Purpose is what a tank does.
type Purpose string

// The purposes.
const (
	Clean        Purpose = "clean"
	Electroclean Purpose = "electroclean"
	RinseWork    Purpose = "rinse"
	Activate     Purpose = "activate"
	Etch         Purpose = "etch"
	Strike       Purpose = "strike"
	Plate        Purpose = "plate"
	Electroless  Purpose = "electroless"
	Anodize      Purpose = "anodize"
	Coat         Purpose = "coat"
	Polish       Purpose = "electropolish"
	Strip        Purpose = "strip"
	Passivate    Purpose = "passivate"
	Seal         Purpose = "seal"
	Dry          Purpose = "dry"
	Treat        Purpose = "treat"
	Hold         Purpose = "hold"
)

func (Purpose) words() []string {
	return []string{
		"clean", "electroclean", "rinse", "activate", "etch", "strike", "plate", "electroless", "anodize",
		"coat", "electropolish", "strip", "passivate", "seal", "dry", "treat", "hold",
	}
}

// Agitation is how a solution is moved.
type Agitation string

func (Agitation) words() []string {
	return []string{"none", "air", "mechanical", "pump", "cathode rod"}
}

// Hood is the shape of a tank's exhaust hood.
type Hood string

func (Hood) words() []string {
	return []string{"none", "one side", "two sides", "centre", "push-pull", "canopy", "enclosing"}
}

// Leaves says how an ingredient leaves its bath.
type Leaves string

// The ways to leave.
const (
	ByDragOutOnly Leaves = "by drag-out only"
	AlsoOtherwise Leaves = "also otherwise"
)

func (Leaves) words() []string { return []string{"by drag-out only", "also otherwise"} }

// Arrangement is how a rinse is set up.
type Arrangement string

// The arrangements. A counterflow is a chain of running rinses, each fed from
// the next.
const (
	Running   Arrangement = "running"
	Still     Arrangement = "still"
	Spray     Arrangement = "spray"
	ResinLoop Arrangement = "resin loop"
)

func (Arrangement) words() []string { return []string{"running", "still", "spray", "resin loop"} }

// Drainage is how work is held and drained over a bath, in the words of the
// published table of drag-out, or a barrel, which the table lacks.
type Drainage string

func (Drainage) words() []string {
	return []string{
		"vertical, well drained", "vertical, poorly drained", "vertical, very poorly drained",
		"horizontal, well drained", "horizontal, very poorly drained", "cup shaped, very poorly drained", "barrel",
	}
}

// WaterBody is what takes the waste water at a point.
type WaterBody string

// The bodies.
const (
	Sewer  WaterBody = "sewer"
	Stream WaterBody = "stream"
	Hauler WaterBody = "hauler"
)

func (WaterBody) words() []string { return []string{"sewer", "stream", "hauler"} }

// WaterSort is the sort of other water, as the combined wastestream formula of 40 CFR
// 403.6(e) sorts it.
type WaterSort string

// The sorts.
const (
	Regulated   WaterSort = "regulated"
	Unregulated WaterSort = "unregulated"
	Dilute      WaterSort = "dilute"
)

func (WaterSort) words() []string { return []string{"regulated", "unregulated", "dilute"} }

// Joining is where other water meets that of the rinses.
type Joining string

// The places. 40 CFR 403.6(e) takes in only what joins before treatment.
const (
	BeforeTreatment Joining = "before treatment"
	BehindTreatment Joining = "behind treatment"
)

func (Joining) words() []string { return []string{"before treatment", "behind treatment"} }

// Rule is what a limit binds.
type Rule string

// The rules.
const (
	DailyMaximum   Rule = "daily maximum"
	Instantaneous  Rule = "instantaneous maximum"
	MonthlyAverage Rule = "monthly average"
	FourDayAverage Rule = "four-day average"
	Minimum        Rule = "minimum"
	Maximum        Rule = "maximum"
)

func (Rule) words() []string {
	return []string{"daily maximum", "instantaneous maximum", "monthly average", "four-day average", "minimum", "maximum"}
}

// Basis is on what a limit is set.
type Basis string

// The bases.
const (
	ByConcentration Basis = "concentration"
	ByDay           Basis = "mass per day"
	ByArea          Basis = "mass per area"
	NoBasis         Basis = "none"
)

func (Basis) words() []string {
	return []string{"concentration", "mass per day", "mass per area", "none"}
}

// Every is how often something is due, once in each calendar span.
type Every string

// The spans.
const (
	EachDay     Every = "day"
	EachWeek    Every = "week"
	EachMonth   Every = "month"
	EachQuarter Every = "quarter"
	EachHalf    Every = "half-year"
	EachYear    Every = "year"
)

func (Every) words() []string {
	return []string{"day", "week", "month", "quarter", "half-year", "year"}
}

// SampleType is how a sample was taken.
type SampleType string

// The sample types.
const (
	Grab      SampleType = "grab"
	Composite SampleType = "composite"
)

func (SampleType) words() []string { return []string{"grab", "composite"} }

// Sampler is on whose behalf a sample was taken.
type Sampler string

// The samplers.
const (
	ByShop      Sampler = "shop"
	ByAuthority Sampler = "authority"
)

func (Sampler) words() []string { return []string{"shop", "authority"} }

// WasteEvent is what happened to a container of waste.
type WasteEvent string

// The events.
const (
	WasteAdded    WasteEvent = "added"
	WasteFull     WasteEvent = "full"
	WasteMoved    WasteEvent = "moved"
	WasteShipped  WasteEvent = "shipped"
	WasteReturned WasteEvent = "returned"
)

func (WasteEvent) words() []string { return []string{"added", "full", "moved", "shipped", "returned"} }

// Sort is what sort of paper a paper is.
type Sort string

func (Sort) words() []string {
	return []string{"permit", "plan", "certificate", "agreement", "report", "notice", "other"}
}

// Currency is an ISO 4217 code.
type Currency string

var currencyCode = regexp.MustCompile(`^[A-Z]{3}$`)

// UnmarshalText reads three capital letters.
func (c *Currency) UnmarshalText(text []byte) error {
	tidy := strings.TrimSpace(string(text))
	if !currencyCode.MatchString(tidy) {
		return &Problem{What: strconv.Quote(tidy) + " is not a currency code", Mend: "write its three capital letters, such as USD or EUR"}
	}
	*c = Currency(tidy)
	return nil
}

func (c Currency) String() string  { return string(c) }
func (c Currency) Meaning() string { return string(c) }
func (c Currency) Known() bool     { return c != "" }
func (Currency) Example() string   { return "USD" }
