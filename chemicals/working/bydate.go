package working

import (
	"regexp"
	"slices"
	"time"

	"bathwarden/chemicals/quantity"
)

// Dated is a value with a day: the one a result was taken on, or the first on
// which a limit holds. Day is zero where none was given.
type Dated[Q any] struct {
	Day   time.Time
	Value Estimate[Q]
}

const dayForm = "2006-01-02"

// "2026-03-04 3.2 mg/L" is how a result is written with its day on one line.
var dayFirst = regexp.MustCompile(`^(\d{4}-\d{2}-\d{2})(?:\s+(\S.*))?$`)

// DatedList reads a list whose entries may bear a day, with the function that
// knows the form of the values: "2026-03-04 3.2 mg/L", or by name, as
// {date: 2026-03-04, result: 3.2 mg/L}. The fields of the parameter are the day
// and the value, in this order.
func DatedList[Q any](in *Inputs, name string, read func(text string) (Q, string, error)) []Dated[Q] {
	var all []Dated[Q]
	n, _ := in.find(name, isList)
	for i, entry := range n.list {
		all = append(all, dated(in, name, i, entry, read))
	}
	return all
}

// ByDate reads what may change with time: one value, or several, each with the
// first day on which it holds, as [{from: 2026-01-01, is: 2.61 mg/L}]. They
// come back in order of their days; at most the first is without one.
func ByDate[Q any](in *Inputs, name string, read func(text string) (Q, string, error)) []Dated[Q] {
	all := DatedList(in, name, read)
	slices.SortStableFunc(all, func(a, b Dated[Q]) int { return a.Day.Compare(b.Day) })
	for i := 1; i < len(all); i++ {
		if all[i].Day.Equal(all[i-1].Day) {
			in.fault(name, 0, "two values hold from the same day", "give each the first day on which it holds; one of them may be without a day, for all time before")
			break
		}
	}
	return all
}

func dated[Q any](in *Inputs, name string, i int, entry node, read func(text string) (Q, string, error)) Dated[Q] {
	place := numbered(name, i)
	if entry.kind == isFields {
		p, _ := in.param(name)
		nested := newInputs(p.Fields, entry, in.path+place+", ", in.given, in.faults)
		day := one(nested, p.Fields[0].Name, parseDay)
		return Dated[Q]{Day: dayOf(day), Value: one(nested, p.Fields[1].Name, read)}
	}
	found := dayFirst.FindStringSubmatch(entry.text)
	if entry.kind != isText || found == nil {
		return Dated[Q]{Value: read1(in, place, entry, read)}
	}
	if found[2] == "" {
		p, _ := in.param(name)
		in.fault(place, entry.line, quoted(found[1])+" is a day without a value", "write the value behind it: "+quoted(found[1]+" "+p.Fields[1].Example))
		return Dated[Q]{Value: Absent[Q](in.absence(place))}
	}
	day := read1(in, place, node{text: found[1], line: entry.line}, parseDay)
	return Dated[Q]{Day: dayOf(day), Value: read1(in, place, node{text: found[2], line: entry.line}, read)}
}

func dayOf(e Estimate[time.Time]) time.Time {
	if !e.Known() {
		return time.Time{}
	}
	return e.Is()
}

func parseDay(text string) (time.Time, string, error) {
	day, err := time.Parse(dayForm, text)
	if err != nil {
		return time.Time{}, "", &Fault{What: quoted(text) + " is not a day", Mend: "write year, month and day: 2026-03-31"}
	}
	return day, text, nil
}

// PairsOr reads named quantities, or one quantity without a name, which then
// is that of alone.
func PairsOr[Q quantity.Quantity[Q]](in *Inputs, name, alone string) []Pair[Q] {
	if n, ok := in.fields.field(name); ok && n.kind == isText {
		return []Pair[Q]{{Name: alone, Value: Quantity[Q](in, name)}}
	}
	return Pairs[Q](in, name)
}

// Read reads a value with the function that knows its form; its second result
// is the text that is shown.
func Read[Q any](in *Inputs, name string, read func(text string) (Q, string, error)) Estimate[Q] {
	return one(in, name, read)
}
