package working

import (
	"regexp"
	"strconv"

	"bathwarden/chemicals/quantity"
)

// Pair is a named value of inputs such as metals{}.
type Pair[Q any] struct {
	Name  string
	Value Estimate[Q]
}

// listMost bounds how many values one list may hold; no shop has as many tanks
// or samples in one calculation.
const listMost = 10000

// "12 x 55 gal" is how a shop writes twelve drums alike.
var counted = regexp.MustCompile(`^(\d{1,5}) ?[x×] ?(.+)$`)

// Quantities reads a list of quantities, in the file form or parted by
// semicolons; "12 x 55 gal" stands for twelve entries.
func Quantities[Q quantity.Quantity[Q]](in *Inputs, name string) []Estimate[Q] {
	var all []Estimate[Q]
	n, _ := in.find(name, isList)
	for i, entry := range n.list {
		place, times := numbered(name, i), 1
		if found := counted.FindStringSubmatch(entry.text); found != nil {
			times, _ = strconv.Atoi(found[1]) // the pattern lets only digits through
			entry.text = found[2]
		}
		if times == 0 || len(all)+times > listMost {
			in.fault(place, entry.line, "it counts "+strconv.Itoa(times)+" entries", "count from 1 to "+strconv.Itoa(listMost))
			continue
		}
		e := read1(in, place, entry, parseQuantity[Q])
		for range times {
			all = append(all, e)
		}
	}
	return all
}

// Words reads a list of texts, or of words of a closed list.
func (in *Inputs) Words(name string, of ...string) []Estimate[string] {
	var all []Estimate[string]
	n, _ := in.find(name, isList)
	for i, entry := range n.list {
		all = append(all, read1(in, numbered(name, i), entry, wordOf(of)))
	}
	return all
}

// Records reads a list of named values, such as samples[]: time, concentration.
// The fields are those of the parameter.
func (in *Inputs) Records(name string) []*Inputs {
	p, _ := in.param(name)
	n, _ := in.find(name, isList)
	var all []*Inputs
	for i, entry := range n.list {
		place := numbered(name, i)
		if entry.kind != isFields {
			in.fault(place, entry.line, "it takes named values, not "+entry.kind.String(), "give "+p.example())
			continue
		}
		all = append(all, newInputs(p.Fields, entry, in.path+place+", ", in.given, in.faults))
	}
	return all
}

// Pairs reads named quantities whose names are free, such as metals{}.
func Pairs[Q quantity.Quantity[Q]](in *Inputs, name string) []Pair[Q] {
	n, _ := in.find(name, isFields)
	var all []Pair[Q]
	seen := map[string]bool{}
	for _, f := range n.fields {
		place := name + " " + f.name
		if seen[f.name] {
			in.fault(place, f.line, "it is given twice", "give it once")
			continue
		}
		seen[f.name] = true
		all = append(all, Pair[Q]{Name: f.name, Value: read1(in, place, f.node, parseQuantity[Q])})
	}
	return all
}

func numbered(name string, i int) string { return name + " " + strconv.Itoa(i+1) }
