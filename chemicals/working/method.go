package working

import (
	"errors"
	"slices"
	"strconv"
	"strings"
)

// Method is a formula that can be run by name on inputs given as text.
type Method struct {
	Name    string // "rinse.running"
	Help    string // one line
	Inputs  []Param
	Outputs []Result
	// Solve reads the inputs, stops if in.Err() is not nil, and gives every
	// output declared, absent ones with their reason. Its own faults are
	// *Fault whose Where is the name of an input.
	Solve func(in *Inputs) (Outputs, error)
}

// Param declares an input.
type Param struct {
	Name     string
	What     string
	Example  string // as the command line or a file would give it: "14 m²"
	Optional bool
	Fields   []Param // of each entry, where the input is a list of named values
}

func (p Param) example() string { return p.Name + "=" + strconv.Quote(p.Example) }

// Result declares an output; an optional one may be absent.
type Result struct {
	Name     string
	What     string
	Optional bool
}

// Find looks a method up by its name.
func Find(methods []Method, name string) (Method, error) {
	names := make([]string, len(methods))
	for i, m := range methods {
		if m.Name == name {
			return m, nil
		}
		names[i] = m.Name
	}
	return Method{}, unknownName("a method", name, names)
}

// Run reads the inputs and works the method out. Errors are joined *Fault: all
// that can be found in the inputs at once. A formula that stops at a value which
// cannot be read says nothing of the others.
func (m Method) Run(given Written) (Outputs, error) {
	var found findings
	out, err := m.Solve(newInputs(m.Inputs, given.node, "", given, &found))
	if err := m.faults(found, err, given); err != nil {
		return nil, err
	}
	m.mustDeclare(out)
	if endless := out.endless(); endless != "" {
		return nil, &Fault{Where: m.Name, What: endless + " comes out as no ordinary number", Mend: "check the size of the inputs"}
	}
	return out, nil
}

// Misnamed is every fault of the names in what was given, joined.
func (m Method) Misnamed(given Written) error {
	var found findings
	newInputs(m.Inputs, given.node, "", given, &found)
	return errors.Join(found.names...)
}

// faults joins those of the values, those of the formula, which get the places
// of the inputs that they name, and those of the names.
func (m Method) faults(found findings, own error, given Written) error {
	all := slices.Clone(found.values)
	each(own, func(one error) {
		if slices.Contains(found.values, one) {
			return // the formula gives back what it was told
		}
		f := faultAt(m.Name, one)
		where := f.Where
		if where != m.Name {
			where = given.where(where, given.lineOf(where))
		}
		all = append(all, &Fault{Where: where, What: f.What, Mend: f.Mend})
	})
	return errors.Join(append(all, found.names...)...)
}

// mustDeclare panics where outputs and declaration differ, which is a mistake
// of the program.
func (m Method) mustDeclare(out Outputs) {
	var wrong []string
	if len(out) != len(m.Outputs) {
		wrong = append(wrong, "their count")
	}
	for i, declared := range m.Outputs {
		if i < len(out) && (out[i].Name != declared.Name || out[i].Value.body == nil && !declared.Optional) {
			wrong = append(wrong, declared.Name)
		}
	}
	if len(wrong) > 0 {
		panic("working: outputs of " + m.Name + " are not as declared: " + strings.Join(wrong, ", "))
	}
}
