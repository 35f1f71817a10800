package sheet

import (
	"fmt"
	"strings"

	"bathwarden/chemicals"
)

// field is what stands under one header; the zero field is a column without a
// usable one.
type field struct {
	column *chemicals.Column
	takes  takes
	unit   string
	entry  bool // the column of entry numbers
	refuse bool // its header was refused; what stands below is not reported as well
	told   bool // that values stand under no header
}

func (f *field) words() string {
	switch {
	case f.entry:
		return chemicals.EntryColumn
	case f.column != nil:
		return f.column.Name
	}
	return ""
}

// columnsNamed counts the cells that name a column, and those that hold
// anything.
func columnsNamed(k *chemicals.Kind, l line) (known, filled int) {
	for _, c := range l.cells {
		if c.empty() {
			continue
		}
		filled++
		words, _, _ := parted(c.text)
		if _, ok := k.Column(words); ok || loose(words) == chemicals.EntryColumn {
			known++
		}
	}
	return known, filled
}

// parted takes the unit in brackets off a header: "working volume [gal]".
func parted(header string) (words, unit string, bracketed bool) {
	tidy := strings.Join(strings.Fields(header), " ")
	open := strings.IndexAny(tidy, "[(")
	if open < 0 {
		return tidy, "", false
	}
	end := len(tidy) - 1
	if pair := tidy[open : open+1]; pair == "[" && tidy[end] != ']' || pair == "(" && tidy[end] != ')' {
		return tidy, "", false
	}
	return strings.TrimSpace(tidy[:open]), strings.TrimSpace(tidy[open+1 : end]), true
}

// head reads the header row.
func (t *table) head(l line) {
	if known, _ := columnsNamed(t.kind, l); known == 0 {
		t.lost = &chemicals.Problem{
			Where: t.place.row(l.number),
			What:  "the first row names no column of " + t.kind.Name,
			Mend:  "write the columns above the rows: " + strings.Join(columnNames(t.kind), ", "),
		}
		t.faults = append(t.faults, t.lost)
		return
	}
	t.last = l.number
	seen := map[string]int{}
	for _, c := range l.cells {
		for len(t.header) < c.column {
			t.header = append(t.header, field{})
		}
		if c.empty() {
			continue
		}
		f, problem := t.field(c)
		if other := seen[f.words()]; problem == nil && other > 0 {
			problem = &chemicals.Problem{What: fmt.Sprintf("%q already stands in %s", f.words(), t.place.column(other)), Mend: "keep one of the two columns"}
		}
		if problem != nil {
			problem.Where = t.place.cell(c, "")
			t.faults = append(t.faults, problem)
			f = field{refuse: true}
		} else {
			seen[f.words()] = c.column
		}
		t.header[c.column-1] = f
	}
}

// field reads one header.
func (t *table) field(c cell) (field, *chemicals.Problem) {
	words, unit, bracketed := parted(c.text)
	if loose(words) == chemicals.EntryColumn {
		if bracketed {
			return field{}, noUnit(chemicals.EntryColumn, unit)
		}
		return field{entry: true}, nil
	}
	column, ok := t.kind.Column(words)
	if !ok {
		return field{}, &chemicals.Problem{What: fmt.Sprintf("%s is no column of %s", quoted(words), t.kind.Name), Mend: t.closest(words)}
	}
	f := field{column: column, takes: takenBy(t.kind, column), unit: unit}
	switch {
	case !bracketed:
		return f, nil
	case f.takes != measures:
		return f, noUnit(column.Name, unit)
	case unit == "":
		return f, &chemicals.Problem{What: fmt.Sprintf("the brackets behind %q hold no unit", column.Name), Mend: unitHint(t.kind, column)}
	}
	if refused := refusal(t.kind, column, "1 "+unit); refused != nil {
		return f, &chemicals.Problem{What: fmt.Sprintf("%s is not a unit of %q", quoted(unit), column.Name), Mend: unitHint(t.kind, column)}
	}
	return f, nil
}

func noUnit(words, unit string) *chemicals.Problem {
	return &chemicals.Problem{What: fmt.Sprintf("%q takes no unit, but its header has %s", words, quoted(unit)), Mend: fmt.Sprintf("write the header as %q", words)}
}

func unitHint(k *chemicals.Kind, c *chemicals.Column) string {
	return "write a unit such as " + strings.Join(unitWords(k, c), ", ")
}

// unitWords are a column's units as somebody would write them: money with a
// currency, a share in percent.
func unitWords(k *chemicals.Kind, c *chemicals.Column) []string {
	if len(c.Units) == 0 {
		return []string{"%"}
	}
	var all []string
	for _, unit := range c.Units {
		for _, written := range []string{unit, "USD" + unit, unit + " (1/2 H2SO4)"} {
			if refusal(k, c, "1 "+written) == nil {
				all = append(all, written)
				break
			}
		}
	}
	return all
}

// closest hints at the column that an unknown header may mean.
func (t *table) closest(words string) string {
	names := append([]string{chemicals.EntryColumn}, columnNames(t.kind)...)
	for i := range t.kind.Columns {
		c := &t.kind.Columns[i]
		n := len(c.Name)
		if len(words) <= n || !strings.EqualFold(words[:n], c.Name) || takenBy(t.kind, c) != measures {
			continue
		}
		if unit := strings.Trim(words[n:], " ,:[]()"); refusal(t.kind, c, "1 "+unit) == nil {
			return fmt.Sprintf("set the unit in brackets: %q", titled(c.Name, unit))
		}
	}
	if near := chemicals.Closest(words, names); len(near) > 0 {
		return fmt.Sprintf("did you mean %s?", strings.Join(near, " or "))
	}
	return "its columns are: " + strings.Join(names, ", ")
}

// titled is a header with its unit.
func titled(words, unit string) string {
	if unit == "" {
		return words
	}
	return words + " [" + unit + "]"
}

func columnNames(k *chemicals.Kind) []string {
	var all []string
	for i := range k.Columns {
		all = append(all, k.Columns[i].Name)
	}
	return all
}
