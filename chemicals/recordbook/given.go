package recordbook

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
)

// given reads the cells of a row: the tidied text of each column that it gives,
// empty for one to be cleared, and the faults of what it lacks, which count
// only where nothing stands that has it. It reports false after noting a fault.
func (p *plan) given(r *chemicals.Row) (given chemicals.Body, lacking []*chemicals.Problem, ok bool) {
	ok = true
	typed := chemicals.Body{}
	for _, column := range sortedColumns(r.Given) {
		if !slices.ContainsFunc(r.Kind.Columns, func(c chemicals.Column) bool { return c.Name == column }) {
			p.faultIn(r, noSuchColumn(r.Kind, column))
			ok = false
			continue
		}
		typed[column] = r.Given[column].Text
	}
	tidy, err := r.Kind.Check(typed)
	for _, problem := range problems(err) {
		if strings.TrimSpace(typed[problem.Where]) == "" {
			lacking = append(lacking, problem)
			continue
		}
		p.faultIn(r, problem)
		ok = false
	}
	given = chemicals.Body{}
	for column := range typed {
		given[column] = tidy[column]
	}
	return given, lacking, ok
}

func sortedColumns(given map[string]chemicals.Cell) []string {
	columns := make([]string, 0, len(given))
	for c := range given {
		columns = append(columns, c)
	}
	slices.Sort(columns)
	return columns
}

func noSuchColumn(k *chemicals.Kind, column string) *chemicals.Problem {
	var all []string
	for i := range k.Columns {
		all = append(all, k.Columns[i].Name)
	}
	mend := "its columns are: " + strings.Join(all, ", ")
	if near := chemicals.Closest(column, all); len(near) > 0 {
		mend = "did you mean " + strings.Join(near, " or ") + "?"
	}
	return &chemicals.Problem{Where: column, What: fmt.Sprintf("%s has no column %q", k.Name, column), Mend: mend}
}

// problems takes apart what Kind.Check joined.
func problems(err error) []*chemicals.Problem {
	if err == nil {
		return nil
	}
	var all []*chemicals.Problem
	for _, one := range err.(interface{ Unwrap() []error }).Unwrap() {
		all = append(all, one.(*chemicals.Problem))
	}
	return all
}

// faultIn notes a fault of the column that the problem names as its place.
func (p *plan) faultIn(r *chemicals.Row, problem *chemicals.Problem) {
	where := r.Stands(problem.Where)
	if where == "" {
		where = problem.Where
	}
	p.fault(&chemicals.Problem{Where: where, What: problem.What, Mend: problem.Mend})
}

// sound checks a whole body and notes its faults.
func (p *plan) sound(r *chemicals.Row, body chemicals.Body) (chemicals.Body, bool) {
	tidy, err := r.Kind.Check(body)
	for _, problem := range problems(err) {
		p.faultIn(r, problem)
	}
	return tidy, err == nil
}

// laid gives the body that stands with the given columns laid over it. A column
// that means the same as before stays as it was written.
func laid(k *chemicals.Kind, stands, given chemicals.Body) chemicals.Body {
	body := chemicals.Body{}
	for column, text := range stands {
		body[column] = text
	}
	for i := range k.Columns {
		c := &k.Columns[i]
		text, ok := given[c.Name]
		switch {
		case !ok, body[c.Name] != "" && text != "" && c.Meaning(text) == c.Meaning(body[c.Name]):
		case text == "":
			delete(body, c.Name)
		default:
			body[c.Name] = text
		}
	}
	return body
}

// dayOf is a row's own day as given, empty if it gives none that can be read.
func dayOf(r chemicals.Row) chemicals.Day {
	if r.Kind.Nature == chemicals.Event {
		return dayIn(r, chemicals.DateColumn)
	}
	return dayIn(r, chemicals.FromColumn)
}

func dayIn(r chemicals.Row, column string) chemicals.Day {
	d, err := chemicals.ParseDay(r.Given[column].Text)
	if err != nil {
		return "" // noted when the row is read
	}
	return d
}
