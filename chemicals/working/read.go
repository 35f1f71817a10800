package working

import (
	"errors"
	"io"
	"strconv"

	"bathwarden/chemicals/source"
)

// fileMost stops what is no file of worked examples.
const fileMost = 1 << 20

// ReadExamples reads worked examples, one YAML document each. name is the
// file's, for faults, which are joined *Fault and name their lines. Nothing is
// read where there is a fault.
func ReadExamples(r io.Reader, name string) ([]Example, error) {
	text, err := io.ReadAll(io.LimitReader(r, fileMost+1))
	if err != nil {
		return nil, &Fault{Where: name, What: err.Error()}
	}
	if len(text) > fileMost {
		return nil, &Fault{Where: name, What: "it is too long for a file of worked examples", Mend: "give at most 1 MiB"}
	}
	y := &yamlReader{file: name}
	var examples []Example
	for _, document := range y.documents(string(text)) {
		examples = append(examples, y.example(document))
	}
	if len(y.faults) == 0 && len(examples) == 0 {
		y.fault(1, "it holds no worked example", "write one with method: and inputs:")
	}
	if len(y.faults) > 0 {
		return nil, errors.Join(y.faults...)
	}
	return examples, nil
}

func (y *yamlReader) example(n node) Example {
	x := Example{File: y.file, Line: n.line}
	if n.kind != isFields {
		y.fault(n.line, "a worked example is "+n.kind.String(), "write its parts by name: method:, inputs:")
		return x
	}
	y.onlyNames(n, "a part of a worked example", "id", "title", "method", "source", "inputs", "expect", "note")
	x.ID, x.Title, x.Note = y.optional(n, "id"), y.optional(n, "title"), y.optional(n, "note")
	x.Method = y.wanted(n, "method")
	if about, ok := n.field("source"); ok {
		x.Source = y.source(about)
	}
	x.Inputs = Written{node: y.fieldsOf(n, "inputs"), file: y.file, ref: x.Source}
	if _, ok := n.field("expect"); ok {
		for _, f := range y.fieldsOf(n, "expect").fields {
			x.Expect = append(x.Expect, y.expected(f))
		}
	}
	return x
}

func (y *yamlReader) source(n node) source.Ref {
	if n.kind != isFields {
		y.fault(n.line, "a source is "+n.kind.String(), "write source: {document: ..., place: ..., year: ..., standing: ...}")
		return source.Ref{}
	}
	y.onlyNames(n, "a part of a source", "document", "place", "year", "standing")
	ref := source.Ref{Document: y.wanted(n, "document"), Place: y.optional(n, "place")}
	if year, ok := n.field("year"); ok {
		count, err := strconv.Atoi(year.text)
		if err != nil || count < 1600 || count > 2200 {
			y.fault(year.line, "the year is "+quoted(year.String()), "write the year of the edition in four digits, or leave it out")
		}
		ref.Year = count
	}
	if words := y.wanted(n, "standing"); words != "" {
		standing, err := source.ParseStanding(words)
		if err != nil {
			at, _ := n.field("standing")
			y.fault(at.line, err.Error(), "write one of them")
		}
		ref.Standing = standing
	}
	return ref
}

// onlyNames reports unknown and repeated names.
func (y *yamlReader) onlyNames(n node, what string, known ...string) {
	seen := map[string]bool{}
	for _, f := range n.fields {
		isKnown := false
		for _, k := range known {
			isKnown = isKnown || k == f.name
		}
		if !isKnown {
			unknown := unknownName(what, f.name, known)
			y.fault(f.line, unknown.What, unknown.Mend)
		}
		if seen[f.name] {
			y.fault(f.line, quoted(f.name)+" stands twice", "keep one of them")
		}
		seen[f.name] = true
	}
}

func (y *yamlReader) optional(n node, name string) string {
	value, ok := n.field(name)
	if ok && (value.kind != isText || value.text == "") {
		y.fault(value.line, name+" is not a text", "write "+name+": followed by words")
	}
	return value.text
}

func (y *yamlReader) wanted(n node, name string) string {
	if _, ok := n.field(name); !ok {
		y.fault(n.line, name+" is missing", "write "+name+": followed by words")
	}
	return y.optional(n, name)
}

func (y *yamlReader) fieldsOf(n node, name string) node {
	value, ok := n.field(name)
	if !ok {
		y.fault(n.line, name+" is missing", "write "+name+": and below it name: value")
	} else if value.kind != isFields {
		y.fault(value.line, name+" is "+value.kind.String(), "write name: value, one a line, below "+name+":")
	}
	return value
}
