package working

import (
	"errors"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
)

// Inputs are the inputs of one run of a method, read by name and type. Faults
// gather until Err is asked; an input that is absent or faulty reads as an
// absent estimate. Reading a name that the method does not declare panics.
type Inputs struct {
	params []Param
	fields node
	path   string // of these inputs among all, with its blank: "samples 2, "
	given  Written
	faults *findings // of these inputs and all below them
}

// findings are the faults of all inputs of one run. Those of names alone do not
// keep a formula from being worked out, so that its own faults show as well.
type findings struct{ values, names []error }

func newInputs(params []Param, fields node, path string, given Written, faults *findings) *Inputs {
	in := &Inputs{params: params, fields: fields, path: path, given: given, faults: faults}
	for _, p := range params {
		if _, ok := fields.field(p.Name); !ok && !p.Optional {
			in.fault(p.Name, fields.line, "it is not given", "give "+p.example())
		}
	}
	faults.names = append(faults.names, in.misnamed()...)
	return in
}

// misnamed are the faults of the names: those that the method does not declare,
// and those that are given twice.
func (in *Inputs) misnamed() []error {
	known := make([]string, len(in.params))
	for i, p := range in.params {
		known[i] = p.Name
	}
	var faults []error
	seen := map[string]bool{}
	for _, f := range in.fields.fields {
		where := in.given.where(in.path+f.name, f.line)
		_, declared := in.param(f.name)
		switch {
		case !declared:
			faults = append(faults, faultAt(where, unknownName("an input", f.name, known)))
		case seen[f.name]:
			faults = append(faults, &Fault{Where: where, What: "it is given twice", Mend: "give it once"})
		}
		seen[f.name] = true
	}
	return faults
}

// Err is every fault found so far in what was given for the names that the
// method declares, joined; each is a *Fault.
func (in *Inputs) Err() error { return errors.Join(in.faults.values...) }

func (in *Inputs) fault(name string, line int, what, mend string) {
	in.faults.values = append(in.faults.values, &Fault{Where: in.given.where(in.path+name, line), What: what, Mend: mend})
}

func (in *Inputs) param(name string) (Param, bool) {
	for _, p := range in.params {
		if p.Name == name {
			return p, true
		}
	}
	return Param{}, false
}

// find gives what was written for a name if it is of the wanted kind.
func (in *Inputs) find(name string, want kind) (node, bool) {
	p, declared := in.param(name)
	if !declared {
		panic("working: the method does not declare the input " + name)
	}
	n, ok := in.fields.field(name)
	switch {
	case !ok:
		return node{}, false
	case n.kind == isText && n.text == "":
		mend := "give " + p.example()
		if p.Optional {
			mend += ", or leave it out"
		}
		in.fault(name, n.line, "it has no value", mend)
		return node{}, false
	case n.kind == isText && want == isList:
		return node{kind: isList, list: pieces(n.text, n.line), line: n.line}, true
	case n.kind != want:
		in.fault(name, n.line, "it takes "+want.String()+", not "+n.kind.String(), "give "+p.example())
		return node{}, false
	}
	return n, true
}

// one reads a single value with the function that knows its form.
func one[Q any](in *Inputs, name string, read func(text string) (Q, string, error)) Estimate[Q] {
	n, ok := in.find(name, isText)
	if !ok {
		return Absent[Q](in.absence(name))
	}
	return read1(in, name, n, read)
}

func read1[Q any](in *Inputs, name string, n node, read func(text string) (Q, string, error)) Estimate[Q] {
	if n.kind != isText || n.text == "" {
		in.fault(name, n.line, "it is not one value", "write a value")
		return Absent[Q](in.absence(name))
	}
	v, text, err := read(n.text)
	if err != nil {
		f := faultAt("", err)
		in.fault(name, n.line, f.What, f.Mend)
		return Absent[Q](in.absence(name))
	}
	return Given(source.Value[Q]{Is: v, Origin: in.origin(), Ref: in.given.ref}, text)
}

func (in *Inputs) absence(name string) string {
	return in.path + strings.ReplaceAll(name, "_", " ") + " is not given"
}

func (in *Inputs) origin() source.Origin {
	if in.given.ref.Known() {
		return source.Published
	}
	return 0
}

// Quantity reads a quantity with its unit.
func Quantity[Q quantity.Quantity[Q]](in *Inputs, name string) Estimate[Q] {
	return one(in, name, parseQuantity[Q])
}

func parseQuantity[Q quantity.Quantity[Q]](text string) (Q, string, error) {
	var stated quantity.Stated[Q]
	err := stated.UnmarshalText([]byte(text))
	return stated.Is(), stated.String(), err
}

// Number reads a bare number.
func (in *Inputs) Number(name string) Estimate[float64] { return one(in, name, parseNumber) }

// Count reads a whole number, zero or more.
func (in *Inputs) Count(name string) Estimate[int] { return one(in, name, parseCount) }

// Share reads a share in percent, "95 %", as the fraction 0.95.
func (in *Inputs) Share(name string) Estimate[float64] { return one(in, name, parseShare) }

// YesNo reads yes or no.
func (in *Inputs) YesNo(name string) Estimate[bool] { return one(in, name, parseYesNo) }

// Word reads text, or one of the words of a closed list.
func (in *Inputs) Word(name string, of ...string) Estimate[string] {
	return one(in, name, wordOf(of))
}

var decimalNumber = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^[+-]?(\d{1,40}(\.\d{0,40})?|\.\d{1,40})([eE][+-]?\d{1,3})?`)
})

func parseNumber(text string) (float64, string, error) {
	tidy := strings.TrimSpace(strings.ReplaceAll(text, "\u2212", "-"))
	digits := decimalNumber().FindString(tidy)
	v, err := strconv.ParseFloat(digits, 64)
	if digits != tidy || err != nil {
		return 0, "", &Fault{What: quoted(text) + " is not a bare number", Mend: `write it without a unit, with a decimal point: "1.5"`}
	}
	return v, tidy, nil
}

func parseCount(text string) (int, string, error) {
	tidy := strings.TrimSpace(text)
	const most = 1e9
	v, err := strconv.Atoi(tidy)
	if err != nil || v < 0 || v > most {
		return 0, "", &Fault{What: quoted(text) + " is not a whole number from zero up", Mend: `write it in digits, without a unit: "2"`}
	}
	return v, tidy, nil
}

func parseShare(text string) (float64, string, error) {
	number, found := strings.CutSuffix(strings.TrimSpace(text), "%")
	v, tidy, err := parseNumber(number)
	switch {
	case !found && err == nil:
		hint := `write the share in percent: "95 %"`
		if v > 0 && v <= 1 {
			hint = "write the share in percent; " + tidy + " of the whole is " + strconv.Quote(quantity.Plain(v*100)+" %")
		}
		return 0, "", &Fault{What: quoted(text) + " does not say that it is a share", Mend: hint}
	case err != nil:
		return 0, "", &Fault{What: quoted(text) + " is not a share", Mend: `write it in percent: "95 %"`}
	case v < 0:
		return 0, "", &Fault{What: quoted(text) + " is negative", Mend: `a share is never below zero; write it as "95 %"`}
	}
	return v / 100, tidy + " %", nil
}

func parseYesNo(text string) (bool, string, error) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "yes", "true":
		return true, "yes", nil
	case "no", "false":
		return false, "no", nil
	}
	return false, "", &Fault{What: quoted(text) + " is neither yes nor no", Mend: "write yes or no"}
}

func wordOf(words []string) func(string) (string, string, error) {
	return func(text string) (string, string, error) {
		tidy := strings.Join(strings.Fields(text), " ")
		if len(words) == 0 {
			return tidy, tidy, nil
		}
		for _, w := range words {
			if strings.EqualFold(w, tidy) {
				return w, w, nil
			}
		}
		return "", "", unknownName("a word known here", tidy, words)
	}
}
