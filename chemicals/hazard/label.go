package hazard

import (
	"slices"
	"strings"

	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Label are the label elements that go with classes under one regime.
type Label struct {
	Regime     Regime
	Signal     string // "Danger", "Warning" or empty
	Pictograms []Pictogram
	Statements []Statement // hazard statements, then supplemental ones
	Notes      []Note      // what was left off, and by which rule
	Caveats    []working.Caveat
	classes    []Class
}

// Pictogram is a sign and the classes that it stands for.
type Pictogram struct {
	Code string // "GHS05"
	Of   []Class
	Ref  source.Ref
}

// Statement is a hazard or precautionary statement with its words.
type Statement struct {
	Code string
	Text string
	Ref  source.Ref // of the words
}

// Note is one rule of precedence that was used.
type Note struct {
	Text string
	Ref  source.Ref
}

// NewLabel gives the label elements of classes. Of one hazard the strictest
// class counts. What a regime does not know is left off with a caveat.
//
// The signs follow HCS C.2.1, CLP Articles 20, 26 and 27 and UN GHS 1.4.10.5.3.
// GHS05 that stands for corrosion of metals alone does not take away GHS07 for
// irritation: that is our judgement, the wording of the European Union would.
//
// Left out: signs of explosives and gases, small packages, what a supplier must
// name on the label beside these elements.
func NewLabel(regime Regime, classes []Class, added ...Added) Label {
	l := Label{Regime: regime}
	for _, c := range classes {
		if under := c.under(regime); under.in(regime) {
			l.classes = append(l.classes, under)
		} else {
			l.Caveats = append(l.Caveats, working.Caveat(c.String()+" is no class of regime "+string(regime)+" and is left off"))
		}
	}
	l.classes = Strictest(l.classes)
	l.signs()
	l.statements()
	for _, a := range added {
		l.Statements = append(l.Statements, Statement{a.Code, a.Text, a.Reason.Ref})
	}
	return l
}

// Label gives the label elements of what was found.
func (r Result) Label() Label { return NewLabel(r.Regime, r.Classes(), r.Supplements...) }

// signs sets pictograms and signal word.
func (l *Label) signs() {
	for _, c := range l.classes {
		own := c.label()
		if own.signal == "Danger" || l.Signal == "" {
			l.Signal = own.signal
		}
		if own.pictogram == "" {
			continue
		}
		at := slices.IndexFunc(l.Pictograms, func(p Pictogram) bool { return p.Code == own.pictogram })
		if at < 0 {
			l.Pictograms = append(l.Pictograms, Pictogram{Code: own.pictogram, Ref: own.ref})
			at = len(l.Pictograms) - 1
		}
		l.Pictograms[at].Of = append(l.Pictograms[at].Of, c)
	}
	for _, row := range published().signs {
		if row.figure == string(l.Regime)+takesPlace {
			l.replace(row)
		}
	}
	slices.SortFunc(l.Pictograms, func(a, b Pictogram) int { return strings.Compare(a.Code, b.Code) })
	l.metalAlone()
}

const exclamation = "GHS07"

// replace takes GHS07 off where another sign stands in its place. The row says
// which sign, "GHS05 of Skin Corr.; Eye Dam.", and for which kinds.
func (l *Label) replace(row threshold) {
	sign, of, limited := strings.Cut(row.of, " of ")
	stands := func(c Class) bool {
		return c.label().pictogram == sign && (!limited || slices.Contains(threshold{text: of}.words(), c.Kind()))
	}
	at := slices.IndexFunc(l.Pictograms, func(p Pictogram) bool { return p.Code == exclamation })
	if at < 0 || !slices.ContainsFunc(l.classes, stands) {
		return
	}
	before := l.Pictograms[at].Of
	kept := slices.DeleteFunc(slices.Clone(before), func(c Class) bool {
		return row.text == "every class" || slices.Contains(row.words(), c.Kind())
	})
	if len(kept) == len(before) {
		return
	}
	l.Pictograms[at].Of = kept
	if len(kept) == 0 {
		l.Pictograms = slices.Delete(l.Pictograms, at, at+1)
	}
	gone := slices.DeleteFunc(slices.Clone(before), func(c Class) bool { return slices.Contains(kept, c) })
	l.Notes = append(l.Notes, Note{sign + " takes the place of " + exclamation + " for " + join(gone), row.ref})
}

func join(classes []Class) string {
	names := make([]string, len(classes))
	for i, c := range classes {
		names[i] = c.String()
	}
	return strings.Join(names, ", ")
}

func (l *Label) metalAlone() {
	irritates := func(c Class) bool { return c.Kind() == "Skin Irrit." || c.Kind() == "Eye Irrit." }
	var corrosion, harm []Class
	for _, p := range l.Pictograms {
		switch p.Code {
		case "GHS05":
			corrosion = p.Of
		case exclamation:
			harm = p.Of
		}
	}
	if len(corrosion) == 1 && corrosion[0].Kind() == "Met. Corr." && slices.ContainsFunc(harm, irritates) {
		l.Caveats = append(l.Caveats, "GHS05 stands for corrosion of metals alone, so GHS07 is kept for irritation; that is our judgement")
	}
}

// statements lists the codes in their order: joined where routes of one
// category have a joint text, without those that another covers.
func (l *Label) statements() {
	codes := l.joined()
	for _, code := range slices.Clone(codes) {
		covers, ok := l.Regime.find(base(code), "covers")
		if !ok {
			continue
		}
		for _, covered := range covers.words() {
			if at := slices.Index(codes, covered); at >= 0 {
				codes = slices.Delete(codes, at, at+1)
				l.Notes = append(l.Notes, Note{code + " covers " + covered, covers.ref})
			}
		}
	}
	slices.Sort(codes)
	for _, code := range slices.Compact(codes) {
		l.Statements = append(l.Statements, statement(code, l.Regime))
	}
}

// joined are the codes with those of acute toxicity joined: H301+H311.
func (l *Label) joined() []string {
	var codes []string
	at := map[string]int{}
	for _, c := range l.classes {
		if c.Kind() != "Acute Tox." {
			codes = append(codes, c.Code)
			continue
		}
		group := c.Name
		if c.Category() == "2" {
			group = "Acute Tox. 1" // the words of both are the same
		}
		i, found := at[group]
		if !found {
			at[group] = len(codes)
			codes = append(codes, c.Code)
			continue
		}
		codes[i] += "+" + c.Code
	}
	return codes
}

// texts are the published words of statements. A fault in them is one of the
// program.
func texts() *reference.Set {
	set, err := reference.Tables()
	if err != nil {
		panic("hazard: " + err.Error())
	}
	return set
}

func statement(code string, r Regime) Statement {
	s, ok := texts().Statement(code)
	if !ok {
		panic("hazard: no words for " + code)
	}
	if r == US && s.US != "" {
		return Statement{code, s.US, s.USSourced.Ref}
	}
	return Statement{code, s.Text, s.Ref}
}

func statementText(code string, r Regime) string { return statement(code, r).Text }
