package hazard

import (
	"errors"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// reader reads the inputs of one method, or of one of its components, and
// gathers what package working cannot find wrong.
type reader struct {
	in      *working.Inputs
	where   string // "components 2, "
	faults  []error
	classes []Known
	more    []Supplement
	caveats []working.Caveat
	// routeless are classes of acute toxicity that were written without a route.
	routeless []Class
	looked    bool // classes were given, or that there are none
}

func (r *reader) err() error { return errors.Join(append([]error{r.in.Err()}, r.faults...)...) }

func (r *reader) fault(name string, err error) {
	if err == nil {
		return
	}
	f := &working.Fault{Where: r.where + name, What: err.Error()}
	if refused := new(quantity.Refusal); errors.As(err, &refused) {
		f.What, f.Mend = refused.What, refused.Mend
	}
	r.faults = append(r.faults, f)
}

func readRegime(in *working.Inputs) Regime {
	word := in.Word("regime", string(US), string(EU), string(UN))
	if !word.Known() {
		return ""
	}
	return Regime(word.Is())
}

func readMixture(in *working.Inputs) (Mixture, Regime, error) {
	regime := readRegime(in)
	all := &reader{in: in}
	m := Mixture{PH: all.ph()}
	solution := statedOf[quantity.Density](in, "density")
	remainder := in.Word("remainder", "unknown", "water")
	for i, fields := range in.Records("components") {
		c := &reader{in: fields, where: "components " + strconv.Itoa(i+1) + ", "}
		m.Components = append(m.Components, c.component(solution))
		all.faults = append(all.faults, c.faults...)
	}
	if err := all.err(); err != nil {
		return m, regime, err
	}
	if rest := Remainder(m.Components); rest > 0 && (len(m.Components) > 0 || m.PH.Known()) {
		if remainder.Known() && remainder.Is() == "water" {
			m.Components = append(m.Components, Water(rest))
		} else {
			c := Unknown(rest)
			c.Caveats = []working.Caveat{"the components leave " + working.Caveat(shown(rest)) + " of the whole unsaid; it counts as unknown unless remainder says water"}
			m.Components = append(m.Components, c)
		}
	}
	return m, regime, nil
}

func (r *reader) ph() working.Estimate[float64] {
	ph := r.in.Number("ph")
	const least, most = -3, 17 // concentrated acids and alkalis go beyond 0 and 14
	if ph.Known() && (ph.Is() < least || ph.Is() > most) {
		r.fault("ph", &working.Fault{What: ph.Text() + " is beyond belief for a pH", Mend: "a pH lies between about 0 and 14"})
	}
	return ph
}

func (r *reader) component(solution quantity.Stated[quantity.Density]) Component {
	c := Component{}
	if name := r.in.Word("name"); name.Known() {
		c.Name = name.Is()
	}
	r.content(&c, solution)
	r.published(&c)
	r.readClasses()
	c.PH = r.ph()
	if notAdditive := r.in.YesNo("not_additive"); notAdditive.Known() && notAdditive.Is() {
		c.Strength = NotAdditive
	}
	if notToxic := r.in.YesNo("not_toxic"); notToxic.Known() && notToxic.Is() {
		c.NotToxic = true
	}
	r.doses(&c)
	if r.looked {
		c.Classes, c.Supplements, c.Classified = r.routes(c.Doses), r.more, true
	}
	c.MAcute, c.MChronic = r.mFactor("m_acute", c.MAcute), r.mFactor("m_chronic", c.MChronic)
	r.limits(&c)
	c.Caveats = append(c.Caveats, r.caveats...)
	return c
}

// content reads fraction, or low and high.
func (r *reader) content(c *Component, solution quantity.Stated[quantity.Density]) {
	basis := Basis{Solution: solution, Ingredient: statedOf[quantity.Density](r.in, "density"), MolarMass: statedOf[quantity.MolarMass](r.in, "molar_mass")}
	fraction, low, high := r.in.Word("fraction"), r.in.Word("low"), r.in.Word("high")
	switch {
	case fraction.Known() && (low.Known() || high.Known()):
		r.fault("fraction", &working.Fault{What: "both fraction and low or high are given", Mend: "give the one or the other"})
	case fraction.Known():
		from, to := fraction.Is(), fraction.Is()
		if found := contentRange().FindStringSubmatch(fraction.Is()); found != nil {
			from, to = found[1]+" %", found[2]+" "+found[3]
		}
		c.Low, c.High = r.share(c, "fraction", from, basis), r.share(c, "fraction", to, basis)
	case high.Known():
		if low.Known() {
			c.Low = r.share(c, "low", low.Is(), basis)
		}
		c.High = r.share(c, "high", high.Is(), basis)
	default:
		r.fault("fraction", &working.Fault{What: "no content is given", Mend: `give fraction="12 %", or low and high`})
		return
	}
	if c.Low > c.High {
		r.fault("low", &working.Fault{What: "it is above the greatest content", Mend: "give low and high in their order"})
	}
}

// "3-7 %", "3 % to 7 % w/w"
var contentRange = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^\s*` + decimal + `\s*(?:%|% w/w)?\s*(?:-|–|to)\s*` + decimal + `\s*(%.*)$`)
})

func (r *reader) share(c *Component, name, text string, basis Basis) float64 {
	v, caveats, err := ShareOf(text, basis)
	r.fault(name, err)
	for _, caveat := range caveats {
		if !slices.Contains(c.Caveats, caveat) {
			c.Caveats = append(c.Caveats, caveat)
		}
	}
	return v
}

// published fills an ingredient from the tables where that is asked for; of
// water alone it is done unasked.
func (r *reader) published(c *Component) {
	wanted := r.in.YesNo("published")
	s, found := texts().Substance(c.Name)
	switch {
	case !(wanted.Known() && wanted.Is()):
		if found && s.ID == "water" {
			c.Classified, c.NotToxic = true, true
		}
	case !found:
		near := texts().Closest(c.Name)
		mend := "give its classes here"
		if len(near) > 0 {
			mend = "did you mean " + strings.Join(near, " or ") + "?"
		}
		r.fault("name", &working.Fault{What: "the published tables have no " + strconv.Quote(c.Name), Mend: mend})
	default:
		r.fill(c, s)
	}
}

func (r *reader) fill(c *Component, s *reference.Substance) {
	caveats := c.Caveats
	*c = FromSubstance(s, c.Low, c.High)
	c.Caveats = append(caveats, c.Caveats...)
}

func (r *reader) doses(c *Component) {
	for _, form := range forms {
		if d := r.dose(string(form), form); d.Known() {
			doses := map[Route]Dose{form: d}
			for route, other := range c.Doses {
				if route != form {
					doses[route] = other
				}
			}
			c.Doses = doses
		}
	}
}

func (r *reader) dose(name string, form Route) Dose {
	text := r.in.Word(name)
	if !text.Known() {
		return Dose{}
	}
	d, err := ParseDose(form, text.Is())
	r.fault(name, err)
	d.Ref = text.Ref()
	return d
}

func (r *reader) mFactor(name string, otherwise Factor) Factor {
	m := r.in.Number(name)
	if !m.Known() {
		return otherwise
	}
	if m.Is() < 1 || !powerOfTen(m.Is()) {
		r.fault(name, &working.Fault{What: m.Text() + " is no M-factor", Mend: "write 1, 10, 100 ..."})
	}
	return Factor{m.Is(), m.Ref()}
}

func powerOfTen(v float64) bool {
	const ten, most = 10, 1e12
	for power := 1.0; power <= most; power *= ten {
		if v == power {
			return true
		}
	}
	return false
}

func (r *reader) limits(c *Component) {
	var texts []string
	var ref source.Ref
	for _, e := range r.in.Words("limits") {
		if !e.Known() {
			continue
		}
		ref = e.Ref()
		// A list in one line is parted at the semicolon that may stand before a code.
		if last := len(texts) - 1; last >= 0 && !strings.Contains(texts[last], ":") {
			texts[last] += "; " + e.Is()
			continue
		}
		texts = append(texts, e.Is())
	}
	if len(texts) > 0 {
		c.Limits = nil // those given take the place of published ones
	}
	for i, text := range texts {
		limits, err := ParseLimit(text)
		r.fault("limits "+strconv.Itoa(i+1), err)
		for _, l := range limits {
			l.Ref = ref
			c.Limits = append(c.Limits, l)
		}
	}
}

// readClasses reads the classes of a list, codes and none among them.
func (r *reader) readClasses() {
	var texts []string
	var ref source.Ref
	for _, e := range r.in.Words("classes") {
		if !e.Known() {
			continue
		}
		r.looked, ref = true, e.Ref()
		// A list in one line is parted at the semicolon that may stand before a code.
		if last := len(texts) - 1; last >= 0 && belongs(texts[last], e.Is()) {
			texts[last] += "; " + e.Is()
			continue
		}
		texts = append(texts, e.Is())
	}
	for i, text := range texts {
		if code, ok := supplementOf(text); ok {
			r.more = append(r.more, Supplement{code, ref})
		} else if letters(text) != "none" && letters(text) != "notclassified" {
			r.class("classes "+strconv.Itoa(i+1), text, ref)
		}
	}
}

func (r *reader) class(name, text string, ref source.Ref) {
	classes, err := ParseClass(text)
	r.fault(name, err)
	for _, c := range classes {
		r.classes = append(r.classes, Known{c, ref})
	}
	if len(classes) > 1 && !statementCode().MatchString(text) {
		r.routeless = append(r.routeless, classes...)
	}
}

// belongs reports whether a text is the code of the class before it.
func belongs(class, code string) bool {
	if statementCode().FindString(code) != code || statementCode().MatchString(class) {
		return false
	}
	_, err := ParseClass(class + "; " + code)
	return err == nil
}

// routes are the classes; one of acute toxicity without a route is meant for
// the routes that have an estimate, else it counts for every route.
func (r *reader) routes(doses map[Route]Dose) []Known {
	return slices.DeleteFunc(slices.Clone(r.classes), func(k Known) bool {
		switch {
		case !slices.Contains(r.routeless, k.Class):
			return false
		case len(doses) == 0:
			caveat := working.Caveat("by which route " + k.Name + " is meant is not stated; it counts for every route")
			if !slices.Contains(r.caveats, caveat) {
				r.caveats = append(r.caveats, caveat)
			}
			return false
		}
		return !slices.ContainsFunc(forms[:], func(form Route) bool { return k.Route.covers(form) && doses[form].Known() })
	})
}
