package sheet

import (
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// takes is what a column takes, as far as cells are concerned. It is found by
// trying, so that the types of columns are listed in one place only.
type takes int

const (
	otherForm takes = iota + 1 // words of a closed list, or a form of its own
	yesNo
	anyText
	figures  // bare numbers
	measures // numbers with a unit
	days
)

func takenBy(k *chemicals.Kind, c *chemicals.Column) takes {
	reads := func(text string) bool { return refusal(k, c, text) == nil }
	switch {
	case slices.Equal(c.Words, []string{string(chemicals.Yes), string(chemicals.No)}):
		return yesNo
	case len(c.Words) > 0:
		return otherForm
	case reads("=x"):
		return anyText
	case len(c.Units) > 0 || reads("1 %"):
		return measures
	case reads("1"):
		return figures
	case reads(string(chemicals.Day("").Example())):
		return days
	}
	return otherForm
}

// refusal says why a column does not take a text, nil where it does.
func refusal(k *chemicals.Kind, c *chemicals.Column, text string) *chemicals.Problem {
	_, err := k.Check(chemicals.Body{c.Name: text})
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return nil
	}
	for _, one := range joined.Unwrap() {
		if p, ok := one.(*chemicals.Problem); ok && p.Where == c.Name {
			return p
		}
	}
	return nil
}

// number reports whether a text is a number without anything behind it, or
// tries to be one.
func number(text string) bool {
	digits := false
	for _, r := range text {
		switch {
		case '0' <= r && r <= '9':
			digits = true
		case !strings.ContainsRune(".,+-\u2212eE \u00a0", r):
			return false
		}
	}
	return digits
}

// inUnit gives a number the unit of its header. A cell's own unit wins; a mere
// percent sign is not one where the header says percent of what.
func inUnit(text, unit string) string {
	trimmed := strings.TrimSpace(text)
	bare := trimmed
	if strings.HasPrefix(unit, "%") {
		bare = strings.TrimSpace(strings.TrimSuffix(trimmed, "%"))
	}
	if unit == "" || !number(bare) {
		return text
	}
	return bare + " " + unit
}
