package exposure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Hazards is how a product or a tank's contents are classified under the
// shop's regime.
type Hazards struct {
	Result  hazard.Result
	Label   hazard.Label
	Fault   error // the contents cannot be; nothing was classified
	Caveats []working.Caveat
	// Differences are those between what the supplier declares of a product and
	// what follows from its contents; none where nothing declared is recorded.
	Differences []hazard.Difference
}

// regimeOf is the regime of the shop; where the book does not say, that of the
// European Union, which classifies for more hazards.
func regimeOf(shop *chemicals.Shop) hazard.Regime {
	if firm, ok := shop.Firm(); ok && firm.Is.Regime == chemicals.UnitedStates {
		return hazard.US
	}
	return hazard.EU
}

// blend gathers the ingredients of a mixture; one substance that comes in by
// several ways is one ingredient.
type blend struct {
	regime  hazard.Regime
	parts   []portion
	caveats []working.Caveat
}

type portion struct {
	substance *reference.Substance // nil for what the tables do not know
	name      string
	low, high float64
}

func (b *blend) add(substance *reference.Substance, name string, low, high float64) {
	at := slices.IndexFunc(b.parts, func(p portion) bool {
		return p.substance == substance && (substance != nil || chemicals.Fold(p.name) == chemicals.Fold(name))
	})
	if at < 0 {
		b.parts = append(b.parts, portion{substance: substance, name: name})
		at = len(b.parts) - 1
	}
	b.parts[at].low += low
	b.parts[at].high += high
}

func (b *blend) caveat(format string, values ...any) {
	b.caveats = append(b.caveats, working.Caveat(fmt.Sprintf(format, values...)))
}

// unstated is the name of what a product's sheet does not list.
const unstated = "ingredients not stated"

// product adds a share of a product by its parts; what they leave of it is not
// known.
func (b *blend) product(m Matter, share float64) {
	listed := 0.0
	for _, part := range m.Parts {
		low, high := part.Is.Low.Is().Percent()/100, part.Is.High.Is().Percent()/100
		listed += high
		b.add(part.Substance, part.Is.Substance.String(), low*share, high*share)
	}
	if rest := 1 - listed; rest > listedSlack {
		b.add(nil, unstated+" of "+m.Name.String(), rest*share, rest*share)
	}
}

// listedSlack is the rounding of contents as sheets print them.
const listedSlack = 0.005

func (b *blend) components() []hazard.Component {
	var all []hazard.Component
	for _, p := range b.parts {
		if p.substance == nil {
			all = append(all, hazard.Component{Name: p.name, Low: p.low, High: min(p.high, 1)})
			continue
		}
		all = append(all, hazard.FromSubstance(p.substance, p.low, min(p.high, 1)))
	}
	slices.SortStableFunc(all, func(x, y hazard.Component) int { return cmp.Compare(x.Name, y.Name) })
	return all
}

func (b *blend) classify(ph working.Estimate[float64], water bool) Hazards {
	components := b.components()
	if rest := hazard.Remainder(components); water && rest > 0 {
		components = append(components, hazard.Water(rest))
	}
	result, err := hazard.Mixture{PH: ph, Components: components}.Classify(b.regime)
	h := Hazards{Result: result, Fault: err, Caveats: append(b.caveats, result.Caveats...)}
	if err == nil {
		h.Label = result.Label()
		h.Caveats = append(h.Caveats, h.Label.Caveats...)
	}
	return h
}

// ProductHazards classifies a product by the contents that the book has. A
// product without contents has no class and a caveat that says so.
func ProductHazards(shop *chemicals.Shop, h Holding) Hazards {
	b := blend{regime: regimeOf(shop)}
	p := h.Product
	if len(h.Matter.Parts) == 0 {
		b.caveat("no contents of %s are recorded; nothing was classified", p.Is.Name)
		return Hazards{Caveats: b.caveats}
	}
	b.product(h.Matter, 1)
	found := b.classify(phOf(p.Is.PH, p.Entry), false)
	if declares := declared(shop, p.Is.Name); len(declares) > 0 {
		found.Differences = hazard.Compare(declares, found.Result.Classes())
	}
	return found
}

// declared are the classes that the supplier's sheet declares, as far as they
// can be read; others stand on the page as they were written, and are compared
// with nothing.
func declared(shop *chemicals.Shop, product chemicals.Name) []hazard.Class {
	var all []hazard.Class
	for _, d := range chemicals.On[chemicals.DeclaredHazard](shop, shop.AsOf) {
		if d.Is.Product.Meaning() != product.Meaning() {
			continue
		}
		if classes, err := hazard.ParseClass(DeclaredText(d.Is)); err == nil {
			all = append(all, classes...)
		}
	}
	return all
}

// Declared are the suppliers' classes as written, by product in the form in
// which names are compared.
func Declared(shop *chemicals.Shop) map[string][]string {
	of := map[string][]string{}
	for _, h := range chemicals.On[chemicals.DeclaredHazard](shop, shop.AsOf) {
		key := h.Is.Product.Meaning()
		of[key] = append(of[key], DeclaredText(h.Is))
	}
	return of
}

// DeclaredText writes a declared class in one text: the category before the
// route, "Acute Tox. 4 (oral)".
func DeclaredText(d chemicals.DeclaredHazard) string {
	class, category := d.Class.String(), d.Category.String()
	if kind, route, ok := strings.Cut(class, " ("); ok && category != "" {
		return kind + " " + category + " (" + route
	}
	return strings.TrimSpace(class + " " + category)
}

func phOf(ph chemicals.PH, entry int64) working.Estimate[float64] {
	if !ph.Known() {
		return working.Absent[float64]("no pH is recorded")
	}
	return working.Given(source.Value[float64]{Is: ph.Is(), Origin: source.Recorded, Ref: source.Entry(entry)}, ph.String())
}

// assumedDensity stands for a bath whose density is not recorded. A denser bath
// then has smaller shares than those computed, so the classes err upward.
const assumedDensity = 1.0 // g/mL, that of water; an assumption of ours

// TankHazards classifies a tank's contents as a mixture of its ingredients in
// water.
func TankHazards(shop *chemicals.Shop, t Tank) Hazards {
	b := blend{regime: regimeOf(shop)}
	density := assumedDensity
	if t.Is.Density.Known() {
		density = t.Is.Density.Is().GramsPerMillilitre()
	} else {
		b.caveat("no density of the solution is recorded; 1.00 g/mL was taken, which makes the shares of a denser bath too high, and a class may be too strict")
	}
	for _, c := range t.Contents {
		b.content(c, density)
	}
	return b.classify(phOf(t.Is.PH, t.Entry), true)
}

func (b *blend) content(c Content, density float64) {
	if !c.Concentration.Known() {
		b.caveat("%s is not counted: %s", c.Name, c.Concentration.Why())
		return
	}
	share := grams(c.Concentration, working.Likely) / (1000 * density)
	switch {
	case c.Product != nil && len(c.Parts) == 0:
		b.add(nil, c.Name.String()+", whose contents are not recorded", share, share)
	case c.Product != nil:
		b.product(c.Matter, share)
	case c.Substance != nil:
		b.add(c.Substance, c.Substance.Name, share, share)
	default:
		b.add(nil, c.Name.String(), share, share)
		if c.Species != nil {
			b.caveat("%s is recorded as such; the classes are those of its salt, which is not named", c.Name)
		}
	}
}
