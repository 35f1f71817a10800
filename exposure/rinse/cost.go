package rinse

import (
	"errors"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

const allRunning working.Caveat = "the flow is taken to run all of those hours on all of those days"

// Cost is water that runs at a price.
type Cost struct {
	Flow        working.Estimate[quantity.Flow]
	HoursPerDay working.Estimate[quantity.Duration]
	DaysPerYear working.Estimate[float64]
	Price       working.Estimate[quantity.MoneyPerVolume] // of water and sewer together
}

// CostResult is the water and its cost, a year.
type CostResult struct {
	Volume working.Estimate[quantity.Volume]
	Cost   working.Estimate[quantity.Money]
}

// Solve gives the water of a year and its cost.
//
//	V = Q × h × N
//	cost = V × p
//
// Q flow, h hours a day, N days a year, V volume a year, p price.
//
// Source: definitions; the North Carolina fact sheet on rinse tank design prints
// an example. Range: up to 24 h a day and 366 days. Left out: heating,
// deionising and treating the water.
func (d Cost) Solve() (CostResult, error) {
	if err := d.faults(); err != nil {
		return CostResult{}, err
	}
	volume := working.Compute(working.Formula{Line: "V = Q × h × N", Unit: "m³"}, func(c working.Case) quantity.Volume {
		return quantity.Volume(d.Flow.At(c).LitresPerHour()*d.HoursPerDay.At(c).Hours()*d.DaysPerYear.At(c)) * quantity.Litre
	}, d.Flow.As("Q", "flow"), d.HoursPerDay.As("h", "hours a day"), d.DaysPerYear.As("N", "days a year")).WithCaveats(allRunning)
	if err := d.priced(volume); err != nil {
		return CostResult{}, err
	}
	cost := working.Compute(working.Formula{Line: "cost = V × p"}, func(c working.Case) quantity.Money {
		sum, _ := d.sum(volume, c) // it was read in priced
		return sum
	}, volume.As("V", "volume a year"), d.Price.As("p", "price"))
	return CostResult{Volume: volume, Cost: cost}, nil
}

// priced refuses a sum that is beyond belief.
func (d Cost) priced(volume working.Estimate[quantity.Volume]) error {
	for _, c := range cases {
		if !volume.Known() || !d.Price.Known() {
			return nil
		}
		if _, err := d.sum(volume, c); err != nil {
			return &working.Fault{Where: "price", What: "the cost of a year comes to " + err.Error(), Mend: "check flow, hours and price"}
		}
	}
	return nil
}

// sum is the cost of a volume; money is read from its text, as it has no other
// way to bear a currency.
func (d Cost) sum(volume working.Estimate[quantity.Volume], c working.Case) (quantity.Money, error) {
	price := d.Price.At(c)
	sum := volume.At(c).Litres() * price.PerLitre()
	if sum < leastStated {
		sum = 0
	}
	return quantity.Parse[quantity.Money](quantity.Plain(sum) + " " + price.Currency())
}

func (d Cost) faults() error {
	var faults []error
	if d.HoursPerDay.Known() && highest(d.HoursPerDay) > 24*quantity.Hour {
		faults = append(faults, &working.Fault{Where: "hours_per_day", What: "a day has no more than 24 hours", Mend: `give the hours that the water runs: hours_per_day="8 h"`})
	}
	if d.DaysPerYear.Known() && (highest(d.DaysPerYear) > 366 || lowest(d.DaysPerYear) < 0) {
		faults = append(faults, &working.Fault{Where: "days_per_year", What: "a year has 0 to 366 days", Mend: "give the days that the water runs: days_per_year=260"})
	}
	return errors.Join(faults...)
}
