package working

import (
	"cmp"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"bathwarden/chemicals/source"
)

// A file of worked examples is small; these bounds stop what is not one.
const (
	fileMost  = 1 << 20
	depthMost = 12
)

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

// fileForm reads a list or named values given on the command line.
func fileForm(name, text string) (node, error) {
	y := &yamlReader{}
	documents := y.documents(text)
	if len(y.faults) > 0 || len(documents) != 1 {
		what := "the value is not one list"
		if len(y.faults) > 0 {
			what = faultAt("", y.faults[0]).What
		}
		return node{}, &Fault{Where: name, What: what, Mend: `write a list as "[55 gal, 275 gal]" and named values as "{Ni: 2 kg, Cu: 1 kg}"`}
	}
	return documents[0].withoutLines(), nil
}

func (n node) withoutLines() node {
	n.line = 0
	for i := range n.list {
		n.list[i] = n.list[i].withoutLines()
	}
	for i := range n.fields {
		n.fields[i].line = 0
		n.fields[i].node = n.fields[i].node.withoutLines()
	}
	return n
}

// yamlReader turns YAML into nodes. Scalars are taken as text, never through
// numbers, so that "010" and "1.10" stay what they are.
type yamlReader struct {
	file   string
	faults []error
}

func (y *yamlReader) fault(line int, what, mend string) {
	where := "line " + strconv.Itoa(line)
	if y.file != "" {
		where = y.file + " " + where
	}
	y.faults = append(y.faults, &Fault{Where: where, What: what, Mend: mend})
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)

func (y *yamlReader) documents(text string) []node {
	var all []node
	for d := yaml.NewDecoder(strings.NewReader(text)); ; {
		var document yaml.Node
		err := d.Decode(&document)
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			y.notYAML(err)
			return all
		}
		for _, content := range document.Content {
			if content.Kind != yaml.ScalarNode || content.Value != "" {
				all = append(all, y.node(content, 0))
			}
		}
	}
}

// notYAML places a fault of the syntax near its line: the library counts lines
// from zero for some faults and from one for others.
func (y *yamlReader) notYAML(err error) {
	near, what := "1", err.Error()
	if found := yamlLine.FindStringSubmatch(what); found != nil {
		near, what = cmp.Or(found[1], near), what[len(found[0]):]
	}
	y.faults = append(y.faults, &Fault{
		Where: strings.TrimSpace(y.file + " near line " + near), What: what,
		Mend: "write it as YAML: name: value, lists with - or in [ ]",
	})
}

func (y *yamlReader) node(n *yaml.Node, depth int) node {
	switch {
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		y.fault(n.Line, "it has an anchor or points to one", "write the value out")
		return node{line: n.Line}
	case n.Style&yaml.TaggedStyle != 0:
		y.fault(n.Line, "it has the tag "+quoted(n.Tag), "leave the tag out; values are read as text")
		return node{line: n.Line}
	case depth > depthMost:
		y.fault(n.Line, "it is nested too deeply", "worked examples need few levels")
		return node{line: n.Line}
	}
	switch n.Kind {
	case yaml.SequenceNode:
		all := node{kind: isList, line: n.Line}
		for _, one := range n.Content {
			all.list = append(all.list, y.node(one, depth+1))
		}
		return all
	case yaml.MappingNode:
		return y.mapping(n, depth)
	}
	if n.Tag == "!!null" {
		return node{line: n.Line}
	}
	return node{text: strings.TrimSpace(n.Value), line: n.Line}
}

func (y *yamlReader) mapping(n *yaml.Node, depth int) node {
	all := node{kind: isFields, line: n.Line}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i]
		if key.Kind != yaml.ScalarNode || key.Value == "" {
			y.fault(key.Line, "a name is not plain text", "write name: value")
			continue
		}
		all.fields = append(all.fields, field{name: key.Value, line: key.Line, node: y.node(n.Content[i+1], depth+1)})
	}
	return all
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
