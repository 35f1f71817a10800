package reference

import (
	"fmt"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
)

// Substance is one substance of the tables.
type Substance struct {
	ID         string
	Name       string
	Formula    string // as written in the tables, "NiSO4.6H2O"
	State      State
	CAS        string
	EC         string // empty where none is known
	Use        string // what a plating shop has it for
	Groups     []string
	Names      []string // other names
	OtherForms []OtherForm
	MolarMass  source.Value[quantity.MolarMass]
	Densities  []Density
	Remarks    []Remark

	// Classification is nil where the tables say nothing about it.
	Classification *Classification

	Limits     []ExposureLimit // all of them; LimitsOn picks those that hold
	Reporting  []Reporting
	WasteCodes []WasteCode

	formula formula
	holds   []string // species that the formula does not tell, "Cr(VI)"
}

// State is the form in which a shop buys a substance.
type State string

// The states. A Solution is never sold pure, so a volume of it says nothing
// without its strength.
const (
	Solid           State = "solid"
	Liquid          State = "liquid"
	Solution        State = "solution"
	SolidOrSolution State = "solid or solution"
)

// OtherForm is another hydrate, salt or isomer with a CAS number of its own,
// whose composition is not that of the substance.
type OtherForm struct {
	Form string
	CAS  string
	Sourced
}

// Density is the density of the substance or, where Of says so, of a solution
// of it or of its bulk powder.
type Density struct {
	Of string // empty for the substance itself, "36-37 % solution"
	Is quantity.Stated[quantity.Density]
	At string // "20 to 25 °C"; empty where the source does not say
	Sourced
}

// Density is that of the substance itself. Solutions and bulk powders have
// none: their figure belongs to a strength or a packing that the shop's own
// goods need not have.
func (s *Substance) Density() (source.Value[quantity.Density], bool) {
	for _, d := range s.Densities {
		if d.Of == "" {
			return source.Value[quantity.Density]{Is: d.Is.Is(), Origin: source.Published, Ref: d.Ref}, true
		}
	}
	return source.Value[quantity.Density]{}, false
}

// Remark is something published or known about a substance that is words, not
// a figure.
type Remark struct {
	About string // "keep apart from", "carcinogen lists"
	Text  string
	Sourced
}

func (l *loader) loadSubstances() {
	for _, r := range l.table("groups", "*group", "meaning") {
		r.must("meaning")
		l.groups[r.must("group")] = true
	}
	for _, r := range l.table("substances", "*substance", "name", "formula", "state", "CAS", "EC", "use", "groups", "holds", "source") {
		l.loadSubstance(r)
	}
	for _, r := range l.table("names", "*substance", "*name") {
		if s := r.substance(); s != nil {
			s.Names = append(s.Names, r.must("name"))
			r.name(s, r.text("name"))
		}
	}
	l.loadForms()
	l.loadDensities()
	for _, r := range l.table("remarks", "*substance", "*about", "*remark", "source", "confirm in") {
		if s := r.substance(); s != nil {
			m := Remark{About: r.must("about"), Text: r.must("remark"), Sourced: r.sourced()}
			s.Remarks = append(s.Remarks, m)
			r.fact(s, m.About, m.Text, m.Sourced)
		}
	}
}

func (l *loader) loadSubstance(r row) {
	f, ok := r.formula("formula")
	s := &Substance{
		ID: r.must("substance"), Name: r.must("name"), Formula: f.text,
		State: word(r, "state", Solid, Liquid, Solution, SolidOrSolution),
		CAS:   r.cas(), EC: r.text("EC"), Use: r.must("use"), Groups: r.list("groups"), holds: r.list("holds"),
		formula: f,
	}
	for _, group := range s.Groups {
		if !l.groups[group] {
			r.fault(fmt.Sprintf("group %q is not known", group), "add it to data/groups.csv or mend it")
		}
	}
	for _, species := range s.holds {
		if ion, known := l.set.species[fold(species)]; !known || f.count(ion.formula.text) == 0 {
			r.fault(fmt.Sprintf("%q cannot be in %s", species, f.text), "name a species of data/species.csv whose element the formula has")
		}
	}
	if ok {
		s.MolarMass = l.set.molarMass(f)
	}
	known := r.sourced()
	r.fact(s, "CAS number", s.CAS, known)
	if s.EC != "" {
		if !validEC(s.EC) {
			r.fault(fmt.Sprintf("EC number %q does not have its check digit", s.EC), "look it up again")
		}
		r.fact(s, "EC number", s.EC, known)
	}
	l.set.substances = append(l.set.substances, s)
	l.byID[s.ID] = s
	for _, name := range []string{s.ID, s.Name, s.CAS} {
		r.name(s, name)
	}
}

func (r row) cas() string {
	cas := r.text("CAS")
	if !validCAS(cas) {
		r.fault(fmt.Sprintf("CAS number %q does not have its check digit", cas), "look it up again")
	}
	return cas
}

// substance is the one whose id the row names.
func (r row) substance() *Substance { return r.substanceNamed(r.text("substance")) }

func (r row) substanceNamed(id string) *Substance {
	if s, ok := r.loader.byID[id]; ok {
		return s
	}
	r.fault(fmt.Sprintf("substance %q is not in data/substances.csv", id), "add it there or mend the id")
	return nil
}

func (l *loader) loadForms() {
	for _, r := range l.table("other_forms", "*substance", "*form", "CAS", "source") {
		s := r.substance()
		if s == nil {
			continue
		}
		form := OtherForm{Form: r.must("form"), CAS: r.cas(), Sourced: r.sourced()}
		s.OtherForms = append(s.OtherForms, form)
		r.fact(s, "CAS number, "+form.Form, form.CAS, form.Sourced)
		if other, taken := l.set.names[fold(form.CAS)]; taken {
			r.fault(fmt.Sprintf("CAS number %q is that of %s", form.CAS, other.ID), "a substance of the tables is not another form")
		}
		l.set.forms[form.CAS] = s
	}
}

func (l *loader) loadDensities() {
	for _, r := range l.table("densities", "*substance", "*of", "density", "at", "note", "source") {
		s := r.substance()
		if s == nil {
			continue
		}
		d := Density{Of: r.text("of"), Is: mustState[quantity.Density](r, "density"), At: r.text("at"), Sourced: r.sourced()}
		if d.Of == "" && s.State == Solution {
			r.fault(fmt.Sprintf("%s is sold as a solution", s.ID), "say in the column of which strength this is the density")
		}
		s.Densities = append(s.Densities, d)
		what := "density"
		for _, more := range []string{d.Of, d.At} {
			if more != "" {
				what += ", " + more
			}
		}
		r.fact(s, what, d.Is.String(), d.Sourced)
	}
}
