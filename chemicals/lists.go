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
