package exposure

import (
	"cmp"
	_ "embed"
	"slices"
	"strings"
	"sync"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

//go:embed apart.csv
var apartFile string

func apartTable() working.Table { return working.Table{Name: "apart.csv", File: apartFile} }

// Pair is two groups of substances that must not come together.
type Pair struct {
	A, B   string // groups of the published tables
	Danger string // what comes of it
	Ref    source.Ref
}

// apart is the table of pairs and the share from which a constituent counts.
type apart struct {
	pairs []Pair
	share float64
}

// keptApart reads the table. It panics on a damaged one, which is a fault of
// the program.
var keptApart = sync.OnceValue(func() apart {
	rows, err := apartTable().Rows()
	if err != nil {
		panic("exposure: " + err.Error())
	}
	var t apart
	for _, row := range rows {
		if a, b, ok := strings.Cut(row.Of, " | "); ok {
			t.pairs = append(t.pairs, Pair{A: a, B: b, Danger: row.Value, Ref: row.Ref})
			continue
		}
		share, err := working.PublishedShare(row)
		if err != nil {
			panic("exposure: " + err.Error())
		}
		t.share = share.Is()
	}
	return t
})

// Groups are the groups of the published tables that m belongs to, by its
// constituents of a share that counts.
func (m Matter) Groups() []string {
	var groups []string
	if m.Substance != nil {
		groups = append(groups, m.Substance.Groups...)
	}
	for _, part := range m.Parts {
		if part.Substance != nil && part.Is.High.Is().Percent()/100 >= keptApart().share {
			groups = append(groups, part.Substance.Groups...)
		}
	}
	slices.Sort(groups)
	return slices.Compact(groups)
}

// Meeting is two products at one place, or a product and a tank's contents,
// that must not come together.
type Meeting struct {
	Place  string
	One    Holding // holds group A of the pair
	Other  Holding // holds group B
	Danger Pair
}

// Meetings finds the products that stand at the same place and must not come
// together, the gravest first in the order of the table. A product whose
// contents are not known is in none of them; Gaps names it.
func Meetings(holdings []Holding) []Meeting {
	at := map[string][]Holding{}
	names := map[string]string{}
	for _, h := range holdings {
		for _, c := range h.Counts {
			key := c.Is.Location.Meaning()
			names[key] = c.Is.Location.String()
			if c.Is.Containers.Int() > 0 && !standsIn(at[key], h) {
				at[key] = append(at[key], h)
			}
		}
	}
	var found []Meeting
	for key, here := range at {
		for _, pair := range keptApart().pairs {
			found = append(found, meetingsOf(names[key], here, pair)...)
		}
	}
	order := keptApart().pairs
	slices.SortStableFunc(found, func(a, b Meeting) int {
		return cmp.Or(
			cmp.Compare(slices.Index(order, a.Danger), slices.Index(order, b.Danger)), cmp.Compare(a.Place, b.Place),
			cmp.Compare(a.One.Product.Is.Name, b.One.Product.Is.Name), cmp.Compare(a.Other.Product.Is.Name, b.Other.Product.Is.Name))
	})
	return found
}

func standsIn(holdings []Holding, h Holding) bool {
	return slices.ContainsFunc(holdings, func(other Holding) bool { return other.Product.Entry == h.Product.Entry })
}

func meetingsOf(place string, here []Holding, pair Pair) []Meeting {
	var found []Meeting
	for _, one := range here {
		if !slices.Contains(one.Matter.Groups(), pair.A) {
			continue
		}
		for _, other := range here {
			if other.Product.Entry != one.Product.Entry && slices.Contains(other.Matter.Groups(), pair.B) {
				found = append(found, Meeting{Place: place, One: one, Other: other, Danger: pair})
			}
		}
	}
	return found
}

// NeverWith is what a tank's contents must never meet: for each pair that one
// of its groups is in, the other group and the danger.
type NeverWith struct {
	Group  string // of the tank
	With   string // the group that must stay away
	Danger string
	Ref    source.Ref
	Where  []string // products and tanks of the shop that hold it
}

// NeverMeets lists for a tank what must not come into it, and which of the
// shop's products and tanks hold that.
func NeverMeets(t Tank, holdings []Holding, tanks []Tank) []NeverWith {
	mine := t.groups()
	var all []NeverWith
	for _, pair := range keptApart().pairs {
		for _, side := range [][2]string{{pair.A, pair.B}, {pair.B, pair.A}} {
			if slices.Contains(mine, side[0]) {
				where := holders(side[1], t, holdings, tanks)
				all = append(all, NeverWith{Group: side[0], With: side[1], Danger: pair.Danger, Ref: pair.Ref, Where: where})
			}
		}
	}
	return all
}

// groups are those of everything in the tank.
func (t Tank) groups() []string {
	var groups []string
	for _, c := range t.Contents {
		groups = append(groups, c.Groups()...)
	}
	slices.Sort(groups)
	return slices.Compact(groups)
}

func holders(group string, not Tank, holdings []Holding, tanks []Tank) []string {
	var where []string
	for _, h := range holdings {
		if len(h.Counts) > 0 && slices.Contains(h.Matter.Groups(), group) {
			where = append(where, h.Product.Is.Name.String())
		}
	}
	for _, t := range tanks {
		if t.Entry != not.Entry && slices.Contains(t.groups(), group) {
			where = append(where, "tank "+t.Is.Name.String())
		}
	}
	return where
}
