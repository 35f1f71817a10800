package hazard

import "slices"

// Difference is a hazard for which a supplier declares another class than the
// calculation gives. Both stay; the supplier may know tests.
type Difference struct {
	Hazard             string
	Declared, Computed []Class // empty where one side has none
	Direction          Direction
}

// Direction says which side is stricter.
type Direction string

// The directions.
const (
	DeclaredOnly     Direction = "declared, not computed"
	ComputedOnly     Direction = "computed, not declared"
	DeclaredStricter Direction = "declared stricter than computed"
	ComputedStricter Direction = "computed stricter than declared"
	OtherCategory    Direction = "the same category, one with its letter"
)

// String is the difference as a sentence.
func (d Difference) String() string {
	side := func(classes []Class) string {
		if len(classes) == 0 {
			return "nothing"
		}
		return join(classes)
	}
	return d.Hazard + ": declared " + side(d.Declared) + ", computed " + side(d.Computed) + ": " + string(d.Direction)
}

// Compare puts declared beside computed classes, in the order of the classes.
// Classes that are the same on both sides are no difference.
func Compare(declared, computed []Class) []Difference {
	declared, computed = Strictest(declared), Strictest(computed)
	hazards := slices.Concat(declared, computed)
	sortClasses(hazards)
	var all []Difference
	seen := map[string]bool{}
	for _, c := range hazards {
		hazard := c.Hazard()
		if seen[hazard] {
			continue
		}
		seen[hazard] = true
		d := Difference{Hazard: hazard, Declared: of(declared, hazard), Computed: of(computed, hazard)}
		if d.Direction = direction(d.Declared, d.Computed); d.Direction != "" {
			all = append(all, d)
		}
	}
	return all
}

func of(classes []Class, hazard string) []Class {
	return slices.DeleteFunc(slices.Clone(classes), func(c Class) bool { return c.Hazard() != hazard })
}

func direction(declared, computed []Class) Direction {
	switch {
	case len(computed) == 0:
		return DeclaredOnly
	case len(declared) == 0:
		return ComputedOnly
	}
	d, c := declared[0], computed[0]
	switch {
	case d.Name == c.Name:
		return ""
	case d.Kind() == c.Kind() && plain(d) == plain(c) && (d.Category() == plain(d) || c.Category() == plain(c)):
		return OtherCategory
	case d.stricter(c):
		return DeclaredStricter
	}
	return ComputedStricter
}

// plain is a category without its letter.
func plain(c Class) string {
	category := c.Category()
	return category[:min(len(category), 1)]
}
