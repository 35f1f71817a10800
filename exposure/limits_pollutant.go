package exposure

import (
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/reference"
)

// LimitPollutant is the one name under which limits and results of a pollutant
// are compared: the symbol of an element, a name of the published tables
// ("CN total", "Cr(VI)"), or "pH", "TTO", "total metals", "TSS", "oil and
// grease", "temperature". What is none of them keeps its own name in lower
// case.
type LimitPollutant string

// The pollutants that rules here turn on.
const (
	LimitPH          LimitPollutant = "pH"
	LimitTemperature LimitPollutant = "temperature"
	LimitTotalMetals LimitPollutant = "total metals"
)

// limitNames are further names, folded by plainPollutant.
var limitNames = map[string]LimitPollutant{
	"ph": LimitPH, "temperature": LimitTemperature, "temp": LimitTemperature, "flash point": "flash point", "flashpoint": "flash point",
	"tto": "TTO", "total toxic organics": "TTO", "toxic organics total": "TTO", "toxic organics": "TTO",
	"total metals": LimitTotalMetals, "metals total": LimitTotalMetals,
	"tss": "TSS", "total suspended solids": "TSS", "suspended solids": "TSS", "suspended solids total": "TSS",
	"oil and grease": "oil and grease", "oil grease": "oil and grease", "oil & grease": "oil and grease", "o&g": "oil and grease",
	"fog": "oil and grease", "fats oil and grease": "oil and grease", "fats oils and grease": "oil and grease",
	"bod": "BOD", "bod5": "BOD", "biochemical oxygen demand": "BOD", "cod": "COD", "chemical oxygen demand": "COD",
	"phenols": "phenols", "phenols total": "phenols", "total phenols": "phenols", "sulfide": "sulfide", "sulphide": "sulfide",
	"volatile organics": "volatile organics", "volatile organic compounds": "volatile organics", "voc": "volatile organics",
	"aox": "AOX", "vox": "VOX", "free chlorine": "free chlorine", "chlorine free": "free chlorine",
	"cn total": "CN total", "total cn": "CN total", "cn t": "CN total", "t cn": "CN total", "cnt": "CN total",
	"cyanide total": "CN total", "total cyanide": "CN total",
	"cn amenable": "CN amenable", "amenable cn": "CN amenable", "cn a": "CN amenable", "cyanide amenable": "CN amenable",
	"amenable cyanide": "CN amenable", "cyanide amenable to chlorination": "CN amenable", "cn amenable to chlorination": "CN amenable",
	"cn free": "CN free", "free cn": "CN free", "cyanide free": "CN free", "free cyanide": "CN free",
	"cn easily released": "CN easily released", "cyanide easily released": "CN easily released",
	"cr vi": "Cr(VI)", "cr6": "Cr(VI)", "cr6+": "Cr(VI)", "cr+6": "Cr(VI)", "crvi": "Cr(VI)",
	"hexavalent chromium": "Cr(VI)", "chromium hexavalent": "Cr(VI)", "chromium vi": "Cr(VI)",
	"cr iii": "Cr(III)", "cr3": "Cr(III)", "trivalent chromium": "Cr(III)", "chromium trivalent": "Cr(III)",
	"nh4 n": "NH4-N", "ammonium nitrogen": "NH4-N", "hydrocarbons": "hydrocarbons", "fish egg toxicity": "fish egg toxicity",
}

// elementNames are the elements that limits name, in words, and the symbols that
// the published tables lack.
var elementNames = map[string]LimitPollutant{
	"aluminium": "Al", "aluminum": "Al", "al": "Al", "antimony": "Sb", "arsenic": "As", "boron": "B", "cadmium": "Cd",
	"chromium": "Cr", "cobalt": "Co", "copper": "Cu", "fluoride": "F", "gold": "Au", "indium": "In", "iridium": "Ir", "ir": "Ir", "iron": "Fe",
	"lead": "Pb", "manganese": "Mn", "mercury": "Hg", "hg": "Hg", "molybdenum": "Mo", "mo": "Mo", "nickel": "Ni",
	"palladium": "Pd", "phosphorus": "P", "platinum": "Pt", "rhodium": "Rh", "ruthenium": "Ru", "selenium": "Se",
	"silver": "Ag", "thallium": "Tl", "tin": "Sn", "zinc": "Zn",
}

// plainPollutant folds case, commas, hyphens, parentheses, strokes and blanks.
func plainPollutant(name string) string {
	return strings.Join(strings.FieldsFunc(chemicals.Fold(name), func(r rune) bool {
		return strings.ContainsRune(" ,-_()/\u00a0\u2010\u2013", r)
	}), " ")
}

// PollutantOf finds the name under which a pollutant is compared. It is not
// known (false) where the name is none of the published tables or of the rules;
// plain "CN" is none, because a limit on total cyanide is not one on free. A
// name that is not known is compared with the very same name only.
func PollutantOf(tables *reference.Set, name chemicals.Name) (LimitPollutant, bool) {
	if species, ok := tables.Species(name.String()); ok {
		return LimitPollutant(species.Name), true
	}
	plain := plainPollutant(name.String())
	if known, ok := limitNames[plain]; ok {
		return known, true
	}
	// Limits on metals are on the total metal: "nickel, total" is Ni.
	for _, bare := range []string{plain, strings.TrimPrefix(plain, "total "), strings.TrimSuffix(plain, " total")} {
		if symbol, ok := elementNames[bare]; ok {
			return symbol, true
		}
		if n := len(bare); n == 1 || n == 2 {
			if species, ok := tables.Species(strings.ToUpper(bare[:1]) + bare[1:]); ok && species.Element != "" {
				return LimitPollutant(species.Name), true
			}
		}
	}
	return LimitPollutant(plain), false
}

// isCyanideWithoutKind reports whether a name is cyanide without saying which.
func isCyanideWithoutKind(name chemicals.Name) bool {
	plain := plainPollutant(name.String())
	return plain == "cn" || plain == "cyanide" || plain == "cyanides"
}
