package hazard

import (
	"slices"
	"strings"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Route is how a poison enters the body, and by inhalation in which form.
type Route string

// The routes. Inhaled is inhalation where the form is not stated.
const (
	Oral    Route = "oral"
	Dermal  Route = "dermal"
	Inhaled Route = "inhalation"
	Vapour  Route = "vapour"
	Mist    Route = "mist" // and dust
)

// forms are the routes by which estimates are summed.
var forms = [...]Route{Oral, Dermal, Vapour, Mist}

// covers reports whether what is said of r speaks of form.
func (r Route) covers(form Route) bool {
	return r == form || r == Inhaled && (form == Vapour || form == Mist)
}

// route is the one that a class is named by.
func (r Route) route() Route {
	if r == Vapour || r == Mist {
		return Inhaled
	}
	return r
}

// String says the route in words for a page.
func (r Route) String() string {
	switch r {
	case Oral:
		return "swallowed"
	case Dermal:
		return "on the skin"
	case Vapour:
		return "inhaled as vapour"
	case Mist:
		return "inhaled as mist or dust"
	}
	return "inhaled"
}

// Class is a hazard class with its category, in the abbreviations of Annex VI
// of Regulation (EC) No 1272/2008, which serve for every regime here.
type Class struct {
	Name  string // "Skin Corr. 1B", "Acute Tox. 4", "Lact."
	Route Route  // of acute toxicity, empty elsewhere
	Code  string // statement, "H314", "H350i"
}

// String is the class with its route, "Acute Tox. 4 (oral)". STOT SE 3 is
// respiratory irritation unless narcotic effects are named by their code.
func (c Class) String() string {
	switch {
	case c.Route == Vapour || c.Route == Mist:
		return c.Name + " (inhalation, " + string(c.Route) + ")"
	case c.Route != "":
		return c.Name + " (" + string(c.Route) + ")"
	case c.Code == "H336":
		return c.Name + " (H336)"
	}
	return c.Name
}

// key is the name under which the tables list the class.
func (c Class) key() string {
	switch {
	case c.Route != "":
		return c.Name + " (" + string(c.Route.route()) + ")"
	case c.Name == "STOT SE 3":
		return c.Name + " (" + c.Code + ")"
	}
	return c.Name
}

// catalogued is the key of a class that is named without its code.
func catalogued(name string) string {
	if name == "STOT SE 3" {
		return name + " (H335)"
	}
	return name
}

// Kind is the class without its category, "Skin Corr.".
func (c Class) Kind() string {
	kind, _ := parted(c.Name)
	return kind
}

// Category is "1B"; empty for Lact.
func (c Class) Category() string {
	_, category := parted(c.Name)
	return category
}

func parted(name string) (kind, category string) {
	at := strings.LastIndex(name, " ")
	if at < 0 || name[at+1] < '1' || name[at+1] > '9' {
		return name, ""
	}
	return name[:at], name[at+1:]
}

// Hazard is what classes of one kind of harm share: of two with the same
// hazard the stricter stands.
func (c Class) Hazard() string {
	switch kind := c.Kind(); kind {
	case "Skin Corr.", "Skin Irrit.":
		return "skin"
	case "Eye Dam.", "Eye Irrit.":
		return "eye"
	case "Acute Tox.":
		return "acute toxicity, " + string(c.Route.route())
	case "STOT SE":
		if c.Name == "STOT SE 3" {
			return "STOT SE 3 " + c.Code
		}
		return kind
	default:
		return kind
	}
}

// label is what a class puts on a label.
type label struct {
	class     Class
	pictogram string // empty for none
	signal    string // empty for none
	rank      int
	ref       source.Ref
}

func (r *rules) readLabel(row working.Row, value threshold) error {
	parts := value.words()
	const code, pictogram, signal, count = 0, 1, 2, 3
	if len(parts) != count {
		return &working.Fault{Where: row.Where, What: "the label is not code; pictogram; signal word", Mend: "write none where there is none"}
	}
	name, inside, _ := strings.Cut(strings.TrimSuffix(row.Of, ")"), " (")
	l := label{class: Class{Name: name, Code: parts[code]}, rank: len(r.labels), ref: value.ref}
	if strings.HasPrefix(name, "Acute Tox.") {
		l.class.Route = Route(inside)
	}
	if parts[pictogram] != "none" {
		l.pictogram = parts[pictogram]
	}
	if parts[signal] != "none" {
		l.signal = parts[signal]
	}
	r.labels = append(r.labels, l)
	r.byClass[row.Of] = l
	return nil
}

// classOf is a class by its name, with its usual code.
func classOf(name string, route Route) Class {
	c := Class{Name: name, Route: route}
	if name == "STOT SE 3" {
		c.Code = "H335"
	}
	c.Code = c.label().class.Code
	return c
}

func (c Class) label() label {
	l, ok := published().byClass[c.key()]
	if !ok {
		panic("hazard: no class " + c.key())
	}
	return l
}

// stricter reports whether c is above d; of plain and lettered categories
// 1A is the strictest, then 1, which may be any of its letters.
func (c Class) stricter(d Class) bool { return c.label().rank < d.label().rank }

// in reports whether a regime knows the class.
func (c Class) in(r Regime) bool {
	only, limited := find(c.key(), "only in")
	return !limited || slices.Contains(only.words(), string(r))
}

// under is the class as a regime has it: the European Union has one Eye
// Irrit. 2, the others part it; the letters behind codes are European.
func (c Class) under(r Regime) Class {
	switch {
	case r == EU && c.Kind() == "Eye Irrit.":
		return classOf("Eye Irrit. 2", "")
	case r != EU && c.Code != "":
		c.Code = c.Code[:min(len(c.Code), len("H000"))]
	}
	return c
}

func sortClasses(classes []Class) {
	slices.SortStableFunc(classes, func(a, b Class) int { return a.label().rank - b.label().rank })
}

// Strictest keeps of each hazard the strictest class, in the order of the
// classes. STOT SE 3 stands beside STOT SE 1 and 2: it is another effect.
func Strictest(classes []Class) []Class {
	all := slices.Clone(classes)
	sortClasses(all)
	seen := map[string]bool{}
	return slices.DeleteFunc(all, func(c Class) bool {
		twice := seen[c.Hazard()]
		seen[c.Hazard()] = true
		return twice
	})
}
