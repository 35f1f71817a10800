package waste

import (
	"strconv"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// atom is an element and how often it stands in a formula.
type atom struct {
	symbol string
	count  int
}

// atoms counts the elements of a formula, "Cr(OH)3" or "FeSO4·7H2O", in the
// order in which they first stand; none where it is not a formula.
func atoms(formula string) []atom {
	var all []atom
	for part := range strings.SplitSeq(strings.ReplaceAll(formula, ".", "·"), "·") {
		times, rest := leading(part)
		group, end, ok := group(rest, 0)
		if !ok || end != len(rest) || len(group) == 0 {
			return nil
		}
		all = merged(all, group, times)
	}
	return all
}

// group reads elements and brackets from i to a closing bracket or the end.
func group(s string, i int) (all []atom, end int, ok bool) {
	for i < len(s) && s[i] != ')' {
		var inner []atom
		switch {
		case s[i] == '(':
			inside, after, ok := group(s, i+1)
			if !ok || after == len(s) || len(inside) == 0 {
				return nil, i, false
			}
			inner, i = inside, after+1
		case s[i] >= 'A' && s[i] <= 'Z':
			after := i + 1
			if after < len(s) && s[after] >= 'a' && s[after] <= 'z' {
				after++
			}
			inner, i = []atom{{s[i:after], 1}}, after
		default:
			return nil, i, false
		}
		times, rest := leading(s[i:])
		i = len(s) - len(rest)
		all = merged(all, inner, times)
	}
	return all, i, true
}

// leading parts the number at the start of s from the rest; one where there is
// none.
func leading(s string) (int, string) {
	end := 0
	for end < len(s) && s[end] >= '0' && s[end] <= '9' {
		end++
	}
	n, err := strconv.Atoi(s[:end])
	if err != nil {
		return 1, s[end:]
	}
	return n, s[end:]
}

func merged(all, more []atom, times int) []atom {
	for _, m := range more {
		found := false
		for i := range all {
			if all[i].symbol == m.symbol {
				all[i].count += m.count * times
				found = true
			}
		}
		if !found {
			all = append(all, atom{m.symbol, m.count * times})
		}
	}
	return all
}

// countOf is how often an element stands in a formula.
func countOf(formula, symbol string) int {
	for _, a := range atoms(formula) {
		if a.symbol == symbol {
			return a.count
		}
	}
	return 0
}

// molarMass adds up the atomic masses of a formula.
func (c chemistry) molarMass(formula string) working.Estimate[quantity.MolarMass] {
	parts := atoms(formula)
	if len(parts) == 1 && parts[0].count == 1 {
		return c.mass(formula)
	}
	var terms []working.Term
	var sum []string
	for _, a := range parts {
		one := a.symbol
		if a.count > 1 {
			one = strconv.Itoa(a.count) + " × " + one
		}
		sum = append(sum, one)
		terms = append(terms, c.mass(a.symbol).As(a.symbol, "atomic mass"))
	}
	return working.Compute(working.Formula{Line: "M(" + formula + ") = " + strings.Join(sum, " + "), Unit: "g/mol"},
		func(at working.Case) quantity.MolarMass {
			var total quantity.MolarMass
			for _, a := range parts {
				total += quantity.MolarMass(a.count) * c.mass(a.symbol).At(at)
			}
			return total
		}, terms...)
}

func (c chemistry) mass(symbol string) working.Estimate[quantity.MolarMass] {
	if m, ok := c.masses[symbol]; ok {
		return m
	}
	return working.Absent[quantity.MolarMass]("no atomic mass of " + symbol + " is in the table")
}
