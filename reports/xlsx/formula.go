package xlsx

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"bathwarden/chemicals/workbook"
	"bathwarden/reports/doc"
)

// formula is the spreadsheet formula of a live figure.
func (p *paper) formula(l *live) (string, error) {
	if l.row == 0 {
		return "SUM(" + l.table.whole(l.column, l.table.page) + ")", nil
	}
	column := l.table.table.Columns[l.column]
	if column.Formula == "" {
		return "", fmt.Errorf("table %q, column %q: a live cell, but the column has no formula", l.table.table.Name, column.Name)
	}
	formula, err := p.fill(column.Formula, l)
	if err != nil {
		return "", fmt.Errorf("table %q, column %q: formula %q: %w", l.table.table.Name, column.Name, column.Formula, err)
	}
	return formula, nil
}

// fill puts references in the place of {name}, {table:name} and {=name}. What
// stands in quotes is text and stays.
func (p *paper) fill(template string, l *live) (string, error) {
	var out strings.Builder
	quoted := false
	for i := 0; i < len(template); i++ {
		switch c := template[i]; {
		case c == '"':
			quoted = !quoted
			out.WriteByte(c)
		case c == '{' && !quoted:
			n := strings.IndexByte(template[i:], '}')
			if n < 0 {
				return "", fmt.Errorf("a { without its }")
			}
			ref, err := p.reference(template[i+1:i+n], l)
			if err != nil {
				return "", err
			}
			out.WriteString(ref)
			i += n
		case c == '}' && !quoted:
			return "", fmt.Errorf("a } without its {")
		default:
			out.WriteByte(c)
		}
	}
	return out.String(), nil
}

func (p *paper) reference(name string, l *live) (string, error) {
	if input, ok := strings.CutPrefix(name, "="); ok {
		defined, ok := p.inputs[input]
		if !ok {
			return "", fmt.Errorf("there is no input %q", input)
		}
		return defined, nil
	}
	tableName, columnName, other := strings.Cut(name, ":")
	if !other {
		n, err := column(l.table.table, name)
		return workbook.Ref(l.table.runs[n].first, l.row), err
	}
	table, ok := p.tables[tableName]
	if !ok {
		return "", fmt.Errorf("there is no table %q", tableName)
	}
	n, err := column(table.table, columnName)
	return table.whole(n, l.table.page), err
}

func column(t doc.Table, name string) (int, error) {
	n := slices.IndexFunc(t.Columns, func(c doc.Column) bool { return c.Name == name })
	if n < 0 {
		return 0, fmt.Errorf("table %q has no column %q", t.Name, name)
	}
	return n, nil
}

// whole is a column of the table's body, as seen from a page.
func (t *placed) whole(column int, from *page) string {
	letters := workbook.Letters(t.runs[column].first)
	ref := fmt.Sprintf("$%s$%d:$%s$%d", letters, t.first, letters, t.last)
	if from == t.page {
		return ref
	}
	return workbook.On(t.page.sheet.Name(), ref)
}

// taken are names that spreadsheet programs read as something else: "tax1" and
// "r2" are cells, "true" is a value. "mass1" is free, for columns end at XFD.
var taken = regexp.MustCompile(`^([a-z]{1,3}[0-9]+|[rc][0-9]*([rc][0-9]*)?|true|false)$`)

var inputName = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)

// nameInputs gives each input the name that formulas use in the workbook.
func (p *paper) nameInputs() {
	for _, in := range p.doc.Inputs {
		if _, double := p.inputs[in.Name]; double || !inputName.MatchString(in.Name) {
			p.fault("input %q: the name is not the only one, or not of lower-case words joined by _", in.Name)
			continue
		}
		p.inputs[in.Name] = in.Name
		if taken.MatchString(in.Name) {
			p.inputs[in.Name] = in.Name + "_"
		}
	}
}
