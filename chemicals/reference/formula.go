package reference

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// formula is a chemical formula as written: parts joined by '.', each so many
// times: "NiSO4.6H2O", "KAu(CN)2".
type formula struct {
	text  string
	parts []item
}

// item is an element, or a group in parentheses, and how often it is there.
type item struct {
	element string // empty for a group
	group   []item
	count   int
}

// parseFormula reads a formula. Elements are not looked up; the caller knows
// which there are.
func parseFormula(text string) (formula, error) {
	f := formula{text: text}
	for part := range strings.SplitSeq(text, ".") {
		in := formulaReader{rest: part}
		times, err := in.count()
		if err != nil {
			return formula{}, fmt.Errorf("formula %q %w", text, err)
		}
		group, err := in.sequence()
		if err == nil && in.rest != "" {
			err = fmt.Errorf("has a %q too many", in.rest[:1])
		}
		if err != nil {
			return formula{}, fmt.Errorf("formula %q %w", text, err)
		}
		f.parts = append(f.parts, item{group: group, count: times})
	}
	return f, nil
}

type formulaReader struct{ rest string }

func (in *formulaReader) sequence() ([]item, error) {
	var items []item
	for in.rest != "" && in.rest[0] != ')' {
		one, err := in.item()
		if err != nil {
			return nil, err
		}
		if one.count, err = in.count(); err != nil {
			return nil, err
		}
		items = append(items, one)
	}
	if len(items) == 0 {
		return nil, fmt.Errorf("has an empty part")
	}
	return items, nil
}

func (in *formulaReader) item() (item, error) {
	if in.rest[0] == '(' {
		in.rest = in.rest[1:]
		group, err := in.sequence()
		if err != nil {
			return item{}, err
		}
		if !strings.HasPrefix(in.rest, ")") {
			return item{}, fmt.Errorf("has a parenthesis that is not closed")
		}
		in.rest = in.rest[1:]
		return item{group: group}, nil
	}
	if c := in.rest[0]; c < 'A' || c > 'Z' {
		return item{}, fmt.Errorf("has no element at %q", in.rest)
	}
	end := 1
	if end < len(in.rest) && in.rest[end] >= 'a' && in.rest[end] <= 'z' {
		end++
	}
	symbol := in.rest[:end]
	in.rest = in.rest[end:]
	return item{element: symbol}, nil
}

// count reads the digits that come next; none means one.
func (in *formulaReader) count() (int, error) {
	end := 0
	for end < len(in.rest) && in.rest[end] >= '0' && in.rest[end] <= '9' {
		end++
	}
	digits := in.rest[:end]
	in.rest = in.rest[end:]
	if digits == "" {
		return 1, nil
	}
	n, err := strconv.Atoi(digits)
	if err != nil || n < 1 || n > 999 || digits[0] == '0' {
		return 0, fmt.Errorf("has the count %q, which is not 1 to 999", digits)
	}
	return n, nil
}

// visit calls do for every element, in the order written, with how often it is
// there in all.
func (f formula) visit(do func(element string, count int)) { visit(f.parts, 1, do) }

func visit(items []item, times int, do func(string, int)) {
	for _, one := range items {
		if one.element != "" {
			do(one.element, times*one.count)
			continue
		}
		visit(one.group, times*one.count, do)
	}
}

func (f formula) count(element string) int {
	total := 0
	f.visit(func(symbol string, count int) {
		if symbol == element {
			total += count
		}
	})
	return total
}

// groups counts how often a run of elements is written in f: one CN in NaCN,
// two in KAu(CN)2. A run is only found as it is written, so a sum formula of an
// organic substance does not hold ions by accident.
func (f formula) groups(run []item) int { return groups(f.parts, 1, run) }

func groups(items []item, times int, run []item) int {
	total := 0
	for i, one := range items {
		if one.element == "" {
			total += groups(one.group, times*one.count, run)
		}
		if rest := items[i:]; len(rest) >= len(run) && slices.EqualFunc(rest[:len(run)], run, sameElement) {
			total += times
		}
	}
	return total
}

func sameElement(a, b item) bool {
	return a.element != "" && a.element == b.element && a.count == b.count
}
