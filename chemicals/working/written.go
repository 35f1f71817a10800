package working

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"bathwarden/chemicals/source"
)

// Written are the inputs of one calculation as they were written, from a file or
// from the command line. Text stays text: "010" is not ten.
type Written struct {
	node node
	file string
	ref  source.Ref // the document that states the inputs, if one does
}

// node is what was written for one input: text, a list or named fields.
type node struct {
	kind   kind
	text   string
	list   []node
	fields []field
	line   int // in its file; 0 on the command line
}

type kind int

const (
	isText kind = iota
	isList
	isFields
)

func (k kind) String() string {
	return [...]string{isText: "one value", isList: "a list", isFields: "named values"}[k]
}

type field struct {
	name string
	line int
	node node
}

// String prints the node on one line.
func (n node) String() string {
	var parts []string
	for _, one := range n.list {
		parts = append(parts, one.String())
	}
	for _, f := range n.fields {
		parts = append(parts, f.name+": "+f.node.String())
	}
	if n.kind == isText {
		return n.text
	}
	return strings.Join(parts, "; ")
}

func (n node) field(name string) (node, bool) {
	for _, f := range n.fields {
		if f.name == name {
			return f.node, true
		}
	}
	return node{}, false
}

// ParseArguments reads inputs as a command line gives them: name=value. A
// value that begins with [ or { is in the form of a file: volumes="[55 gal, 275 gal]".
// Errors are joined *Fault.
func ParseArguments(arguments []string) (Written, error) {
	given := Written{node: node{kind: isFields}}
	var faults []error
	for _, argument := range arguments {
		name, value, found := strings.Cut(argument, "=")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		if !found || name == "" {
			faults = append(faults, &Fault{What: quoted(argument) + " does not name an input", Mend: `write name=value, such as area="14 m²"`})
			continue
		}
		n := node{text: value}
		if strings.HasPrefix(value, "[") || strings.HasPrefix(value, "{") {
			var err error
			if n, err = fileForm(name, value); err != nil {
				faults = append(faults, err)
				continue
			}
		}
		given.node.fields = append(given.node.fields, field{name: name, node: n})
	}
	return given, errors.Join(faults...)
}

// where names a place in the inputs: file and line as far as known, then path.
func (w Written) where(path string, line int) string {
	switch {
	case w.file == "":
		return path
	case line == 0:
		return w.file + ", " + path
	}
	return w.file + " line " + strconv.Itoa(line) + ", " + path
}

// lineOf is where an input stands in its file.
func (w Written) lineOf(name string) int {
	for _, f := range w.node.fields {
		if f.name == name {
			return f.line
		}
	}
	return w.node.line
}

// pieces parts a text at semicolons, as lists in one cell and on the command
// line are parted.
func pieces(text string, line int) []node {
	var all []node
	for piece := range strings.SplitSeq(text, ";") {
		all = append(all, node{text: strings.TrimSpace(piece), line: line})
	}
	if last := len(all) - 1; last > 0 && all[last].text == "" {
		all = slices.Delete(all, last, last+1)
	}
	return all
}
