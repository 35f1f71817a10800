package hazard

import (
	"regexp"
	"strconv"
	"strings"
	"sync"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Dose is an acute toxicity estimate, LD50 or LC50 (four hours), of an
// ingredient by one route: mg/kg of body mass, or mg/L of air by inhalation.
// The zero value is an unknown one. No type of package quantity has these.
type Dose struct {
	Is    float64
	Above bool   // nothing was seen at Is, the highest dose tested
	Text  string // as written
	Ref   source.Ref
}

// Known reports whether there is an estimate.
func (d Dose) Known() bool { return d.Text != "" }

// unit is that of the estimates of a route.
func (r Route) unit() string {
	if r == Oral || r == Dermal {
		return "mg/kg"
	}
	return "mg/L"
}

// doseUnits are the ways to write them, in the unit of the route.
var doseUnits = map[string]map[string]float64{
	"mg/kg": {"mg/kg": 1, "mg/kgbw": 1, "g/kg": 1000, "µg/kg": 1e-3},
	"mg/L":  {"mg/l": 1, "mg/l4h": 1, "mg/l/4h": 1, "mg/m³": 1e-3, "mg/m3": 1e-3, "g/m³": 1, "g/m3": 1},
}

const decimal = `(\d+(?:\.\d*)?(?:[eE][+-]?\d+)?)`

var doseForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(>=|≥|>)?\s*` + decimal + `\s*([^\d\s<>-][^<>]*?)??(?:\s*(?:to|-|–|<|<=|≤)\s*(?:[A-Za-z]{2}\d{2}\s*(?:<|<=|≤)\s*)?` + decimal + `\s*(\D.*)?)?$`)
})

// ParseDose reads an estimate of a route: "670 mg/kg", "2.65 mg/L", ">2000
// mg/kg" where nothing was seen at that dose, or a range, "200 to 2000 mg/kg",
// which counts at its lower end. Errors are *working.Fault.
func ParseDose(route Route, text string) (Dose, error) {
	unit := route.unit()
	example := map[string]string{"mg/kg": "670 mg/kg", "mg/L": "2.65 mg/L"}[unit]
	tidy := strings.ReplaceAll(strings.TrimSpace(text), "\u2212", "-")
	found := doseForm().FindStringSubmatch(tidy)
	if found == nil {
		return Dose{}, &working.Fault{What: strconv.Quote(text) + " is no estimate of acute toxicity", Mend: "write it as " + strconv.Quote(example) + ", or with > where nothing was seen at that dose"}
	}
	written := found[3]
	if found[5] != "" {
		written = found[5]
	}
	factor, ok := doseUnits[unit][strings.ToLower(strings.NewReplacer(" ", "", "(", "", ")", "").Replace(written))]
	if !ok {
		return Dose{}, &working.Fault{What: strconv.Quote(text) + " is not in " + unit, Mend: "by this route estimates are written as " + strconv.Quote(example)}
	}
	v, err := strconv.ParseFloat(found[2], 64)
	if err != nil || v <= 0 || v > 1e9 {
		return Dose{}, &working.Fault{What: strconv.Quote(text) + " is beyond belief for an estimate", Mend: "check number and unit"}
	}
	if high, err := strconv.ParseFloat(found[4], 64); found[4] != "" && (err != nil || high <= v || found[1] != "") {
		return Dose{}, &working.Fault{What: strconv.Quote(text) + " does not go from a lower to a higher dose", Mend: `write "200 to 2000 ` + unit + `"`}
	}
	return Dose{Is: v * factor, Above: found[1] != "", Text: tidy}, nil
}
