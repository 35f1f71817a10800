package reference

import (
	"fmt"
	"slices"
	"strings"
)

// Statement is the text of a hazard or precautionary statement.
type Statement struct {
	Code      string
	Text      string
	Edition   string // in which editions and laws the code stands
	US        string // wording of 29 CFR 1910.1200 where it differs
	USSourced Sourced
	Sourced
}

// Statement looks a statement up by its code, combined codes included:
// "H314", "P301+P330+P331".
func (s *Set) Statement(code string) (Statement, bool) {
	found, ok := s.statements[code]
	return found, ok
}

// ClassCodes are the statement codes that may stand with a hazard class, nil
// if there is no such class.
func (s *Set) ClassCodes(class string) []string { return slices.Clone(s.codes[class]) }

func (l *loader) loadStatements() {
	for _, r := range l.table("statements", "*code", "text", "US text", "edition", "source", "US source") {
		st := Statement{Code: r.must("code"), Text: r.must("text"), Edition: r.must("edition"), US: r.text("US text"), Sourced: r.sourced()}
		r.fact(nil, st.Code, st.Text, st.Sourced)
		if st.US != "" {
			st.USSourced = Sourced{Ref: r.ref("US source")}
			r.fact(nil, st.Code+", US wording", st.US, st.USSourced)
		}
		l.set.statements[st.Code] = st
	}
}

func (l *loader) loadClassCodes() {
	for _, r := range l.table("hazard_classes", "*class", "*code", "source", "confirm in") {
		class := r.must("class")
		l.set.codes[class] = append(l.set.codes[class], r.code())
		r.fact(nil, "code of "+class, r.text("code"), r.sourced())
	}
}

// code is a statement code that has a text.
func (r row) code() string {
	code := r.text("code")
	if _, ok := r.loader.set.statements[code]; !ok {
		r.fault(fmt.Sprintf("code %q has no text", code), "add it to data/statements.csv or mend it")
	}
	return code
}

// class is a hazard class that may stand with the row's code.
func (r row) class() string {
	class, code := r.text("class"), r.code()
	codes, known := r.loader.set.codes[class]
	switch {
	case !known:
		r.fault(fmt.Sprintf("class %q is not known", class), `write the abbreviation of Annex VI, "Skin Corr. 1B"`)
	case !slices.Contains(codes, code):
		r.fault(fmt.Sprintf("class %q does not have the code %q", class, code), "it has "+strings.Join(codes, ", "))
	}
	return class
}
