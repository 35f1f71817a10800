package working

import (
	"cmp"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"
)

// depthMost is more than any list of named values needs.
const depthMost = 12

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
