package discharge

import (
	"errors"
	"fmt"
	"math/big"
	"strconv"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// tally counts results on one test.
type tally struct {
	over, undetermined int
	results            []working.Estimate[Result]
}

// tally counts against the limit or, with a factor, against its product.
func (n Noncompliance) tally(factor *working.Estimate[float64]) (tally, error) {
	var t tally
	var faults []error
	for i, r := range n.Results {
		limit, _ := n.holding(r.Day)
		if factor != nil {
			limit = limit.times(exactly(*factor))
		}
		result := r.Value.Is()
		if result.Less && !result.Level.Known() {
			t.undetermined++
			t.results = append(t.results, r.Value.Between(result, result, r.Value.Text()))
			continue
		}
		side, err := result.compare(limit)
		if err != nil {
			faults = append(faults, placedAt(i, err))
			continue
		}
		if n.Minimum {
			side = -side
		}
		one := r.Value
		switch {
		case result.Less && side > 0:
			t.undetermined++
			one = one.Between(Result{Less: true}, result, one.Text())
		case !result.Less && (side > 0 || side == 0 && factor != nil):
			t.over++
		}
		t.results = append(t.results, one)
	}
	return t, errors.Join(faults...)
}

// placedAt names the result that a fault belongs to.
func placedAt(i int, err error) error {
	f, ok := errors.AsType[*working.Fault](err)
	if !ok {
		return err
	}
	return &working.Fault{Where: f.Where, What: "result " + strconv.Itoa(i+1) + ": " + f.What, Mend: f.Mend}
}

func (n Noncompliance) share(test string, t tally, line string, rule source.Ref, more ...working.Term) working.Estimate[float64] {
	terms := append([]working.Term{working.AsList(t.results, "c", n.Pollutant), working.AsList(n.limits(), "limit", "")}, more...)
	over := working.Compute(working.Formula{Line: line, Ref: rule}, func(c working.Case) int {
		if c == working.High {
			return t.over + t.undetermined
		}
		return t.over
	}, terms...)
	all := known(len(n.Results), source.Computed, source.Ref{}, strconv.Itoa(len(n.Results)))
	share := working.Compute(working.Formula{Line: test + " share = n / N", Unit: "%"}, func(c working.Case) float64 {
		return float64(over.At(c)) / float64(all.Is())
	}, over.As("n", ""), all.As("N", "all results"))
	if t.undetermined > 0 {
		share = share.WithCaveats(n.untold(test, t))
	}
	return share.WithCaveats(n.window()...).WithCaveats(twoGrounds)
}

func (n Noncompliance) untold(test string, t tally) working.Caveat {
	return working.Caveat(fmt.Sprintf("%s test: %d of %d results of %s are non-detects whose reporting limit is over the level, or is not given; they are not counted as over it: %d of %d if all are within it, %d of %d if all are over it",
		test, t.undetermined, len(n.Results), n.Pollutant, t.over, len(n.Results), t.over+t.undetermined, len(n.Results)))
}

// answer compares whole numbers: 100 × n with the share × N.
func (n Noncompliance) answer(test string, share working.Estimate[float64], t tally, least working.Estimate[float64], rule source.Ref) working.Estimate[bool] {
	reached := func(over int) bool {
		wanted := new(big.Rat).Mul(exactly(least), big.NewRat(int64(len(n.Results)), 1))
		return big.NewRat(int64(100*over), 1).Cmp(wanted) >= 0
	}
	if reached(t.over) != reached(t.over+t.undetermined) {
		return working.Absent[bool](fmt.Sprintf("it hangs on non-detects that cannot be told: no with %d of %d, yes with %d of %d", t.over, len(n.Results), t.over+t.undetermined, len(n.Results)))
	}
	return working.Compute(working.Formula{Line: test + ": share ≥ s, as 100 × n ≥ 100 × s × N", Ref: rule, Likely: true},
		func(working.Case) bool { return reached(t.over) },
		share.As("share", ""), least.As("s", "least share"))
}
