// Package stock works out what the amounts on the shelf ask for.
//
// It covers how much a containment must hold, by 40 CFR 264.175(b)(3). Not
// covered: the other four points of paragraph (b) (a tight, sloped base, run-on
// kept out, spills removed in time), containers without free liquid
// (264.175(c)), what the fire code asks, and what must not share a containment.
// The shares stand in containment.csv with their sources.
package stock

import (
	_ "embed"
	"errors"
	"sync"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

//go:embed containment.csv
var containmentFile string

// Published is the table of this package.
func Published() working.Table { return working.Table{Name: "containment.csv", File: containmentFile} }

// appliesTo weakens the required volume.
const appliesTo working.Caveat = "40 CFR 264.175 binds storage under a permit; many states and treatment works ask the same of others: ask the authority here"

// Containment is a group of containers, or tanks, that share one containment.
type Containment struct {
	Volumes []working.Estimate[quantity.Volume]
}

// ContainmentResult is what the containment must hold.
type ContainmentResult struct {
	Required   working.Estimate[quantity.Volume]
	WithMargin working.Estimate[quantity.Volume]
}

// Solve gives the volume that a containment must hold.
//
//	required = the greater of 10 % × ΣV and max(V)
//	with margin = the greater of 110 % × max(V) and required
//
// V volume of each container.
//
// Source: 40 CFR 264.175(b)(3), law in force; the 110 % is custom and not in
// that rule, and where it asks for less than the rule, the rule's figure
// stands. Range: any number of containers. Left out: rain and run-on, what the
// containers themselves displace, and fire water.
func (c Containment) Solve() (ContainmentResult, error) {
	if len(c.Volumes) == 0 {
		return ContainmentResult{}, &working.Fault{Where: "volumes", What: "no container is named", Mend: `give volumes="12 x 55 gal; 275 gal"`}
	}
	shares := published()
	volumes := working.AsList(c.Volumes, "V", "volumes")
	total := working.Compute(working.Formula{Line: "ΣV", Unit: "L"}, func(at working.Case) quantity.Volume {
		var sum quantity.Volume
		for _, v := range c.Volumes {
			sum += v.At(at)
		}
		return sum
	}, volumes)
	largest := working.Compute(working.Formula{Line: "max(V)", Unit: "L"}, func(at working.Case) quantity.Volume {
		var most quantity.Volume
		for _, v := range c.Volumes {
			most = max(most, v.At(at))
		}
		return most
	}, volumes)
	required := greater("required = the greater of s × ΣV and max(V)", shares.ofTotal, total, largest,
		shares.ofTotal.As("s", "share of the total"), total.As("ΣV", "all containers"), largest.As("max(V)", "largest container")).WithCaveats(appliesTo)
	margin := greater("with margin = the greater of p × max(V) and required", shares.ofLargest, largest, required,
		shares.ofLargest.As("p", "share of the largest"), largest.As("max(V)", "largest container"), required.As("required", "by the rule"))
	return ContainmentResult{Required: required, WithMargin: customCaveat(margin, required, shares.ofLargest)}, nil
}

// greater is the greater of share × of and other.
func greater(line string, share working.Estimate[float64], of, other working.Estimate[quantity.Volume], terms ...working.Term) working.Estimate[quantity.Volume] {
	return working.Compute(working.Formula{Line: line, Unit: "L", Ref: share.Ref()}, func(at working.Case) quantity.Volume {
		return max(quantity.Volume(share.At(at))*of.At(at), other.At(at))
	}, terms...)
}

func customCaveat(margin, required working.Estimate[quantity.Volume], share working.Estimate[float64]) working.Estimate[quantity.Volume] {
	if margin.Known() && margin.Is() == required.Is() {
		return margin.WithCaveats(working.Caveat("the custom of " + share.Text() + " of the largest container asks for no more than the rule here; the rule's figure is given for both"))
	}
	return margin
}

type shares struct{ ofTotal, ofLargest working.Estimate[float64] }

var published = sync.OnceValue(func() shares {
	s, err := readShares(Published())
	if err != nil {
		panic("stock: " + err.Error())
	}
	return s
})

func readShares(t working.Table) (shares, error) {
	rows, err := t.Rows()
	faults := []error{err}
	var s shares
	for _, row := range rows {
		share, err := working.PublishedShare(row)
		switch row.Figure {
		case "share of the total":
			s.ofTotal = share
		case "share of the largest":
			s.ofLargest = share
		default:
			err = &working.Fault{Where: row.Where, What: "the figure " + row.Figure + " is not read by anything", Mend: "write share of the total or share of the largest"}
		}
		faults = append(faults, err)
	}
	if !s.ofTotal.Known() || !s.ofLargest.Known() {
		faults = append(faults, &working.Fault{Where: t.Name, What: "a share is missing"})
	}
	return s, errors.Join(faults...)
}

// Methods are the methods of this package.
func Methods() []working.Method {
	return []working.Method{{
		Name:   "stock.containment",
		Help:   "volume that a containment must hold",
		Inputs: []working.Param{{Name: "volumes", What: "of the containers in it", Example: "12 x 55 gal; 275 gal"}},
		Outputs: []working.Result{
			{Name: "required", What: "by the rule"},
			{Name: "with_margin", What: "by custom"},
		},
		Solve: solveContainment,
	}}
}

func solveContainment(in *working.Inputs) (working.Outputs, error) {
	c := Containment{Volumes: working.Quantities[quantity.Volume](in, "volumes")}
	if err := in.Err(); err != nil {
		return nil, err
	}
	r, err := c.Solve()
	return working.Outputs{
		{Name: "required", Value: working.Figure(r.Required, "L", "gal")},
		{Name: "with_margin", Value: working.Figure(r.WithMargin, "L", "gal")},
	}, err
}
