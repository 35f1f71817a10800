package working

import (
	"errors"
	"strconv"

	"bathwarden/chemicals/source"
)

// Example is a worked example: inputs of a method and, where a document prints
// them, the answers. The same form serves as a case of the user's own, without
// source and answers.
type Example struct {
	ID     string
	Title  string
	Method string
	Source source.Ref
	Inputs Written
	Expect []Expected
	Note   string
	File   string
	Line   int
}

// Expected is a published answer and how closely it must be met.
type Expected struct {
	Name     string
	is       node
	at       tolerance
	disputed string // why the published answer is not met; empty where it is
	ours     node   // what is computed instead
	line     int
}

// Check says whether a published answer was met. A disputed one holds while
// the result differs from it and is what the example says it is.
type Check struct {
	Name     string
	Got      string // in the unit of the published answer
	Want     string
	Holds    bool
	Disputed string // why the published answer is not met
	Ours     string // what was expected instead
}

// Run works the example out and compares the outputs with its answers.
func (x Example) Run(methods []Method) (Outputs, []Check, error) {
	m, err := Find(methods, x.Method)
	if err != nil {
		return nil, nil, faultAt(x.where(x.Line), err)
	}
	out, err := m.Run(x.Inputs)
	if err != nil {
		return nil, nil, err
	}
	checks, err := x.check(out)
	return out, checks, err
}

func (x Example) where(line int) string { return x.File + " line " + strconv.Itoa(line) }

func (x Example) check(out Outputs) ([]Check, error) {
	var checks []Check
	var faults []error
	for _, e := range x.Expect {
		v, ok := out.Output(e.Name)
		if !ok {
			faults = append(faults, faultAt(x.where(e.line), unknownName("an output of "+x.Method, e.Name, out.names())))
		}
		if err := e.faultOf(v, x.where(e.line)); err != nil {
			faults = append(faults, err)
		}
		checks = append(checks, e.check(v))
	}
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	return checks, nil
}

func (e Expected) check(v Value) Check {
	c := Check{Name: e.Name, Want: e.is.String(), Disputed: e.disputed}
	c.Got, c.Holds = v.meet(e.is, e.at)
	if e.disputed != "" {
		_, asSaid := v.meet(e.ours, e.at)
		c.Holds = asSaid && !c.Holds
		c.Ours = e.ours.String()
	}
	return c
}
