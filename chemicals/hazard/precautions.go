package hazard

import (
	"slices"
	"strings"

	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// Precautions are the precautionary statements that go with classes, in the
// groups of the label. Caveats says how complete they are.
type Precautions struct {
	Prevention, Response, Storage, Disposal []Statement
	Caveats                                 []working.Caveat
}

// Precautions gives the statements of the label's classes, each once, without
// the weaker of two like ones. The European Union asks normally for no more
// than six; which six is for the supplier to choose.
//
// Left out: conditions that stand with single statements in the tables.
func (l Label) Precautions() Precautions {
	set := "clp"
	if l.Regime == UN {
		set = "un"
	}
	var p Precautions
	if l.Regime == US && len(l.classes) > 0 {
		p.Caveats = append(p.Caveats, "the statements are those of the European Union; tables C.4 of 29 CFR 1910.1200 were not read and must be compared")
	}
	recalled := false
	codes := map[string][]string{}
	for _, c := range l.classes {
		any := false
		for _, group := range precautionGroups {
			row, ok := find(c.key(), set+" "+group)
			if !ok {
				continue
			}
			any = true
			recalled = recalled || row.ref.Standing == source.FromMemory
			codes[group] = append(codes[group], row.words()...)
		}
		if !any {
			p.Caveats = append(p.Caveats, working.Caveat("the tables have no precautionary statements for "+c.String()))
		}
	}
	if recalled {
		p.Caveats = append(p.Caveats, "which statements go with some of the classes is recalled, not read")
	}
	all := slices.Concat(codes["prevention"], codes["response"], codes["storage"], codes["disposal"])
	for i, into := range []*[]Statement{&p.Prevention, &p.Response, &p.Storage, &p.Disposal} {
		*into = l.words(codes[precautionGroups[i]], all)
	}
	return p
}

var precautionGroups = [...]string{"prevention", "response", "storage", "disposal"}

// words are the statements of some codes in their order, without those that
// another of all covers.
func (l Label) words(codes, all []string) []Statement {
	covered := map[string]bool{}
	for _, code := range all {
		if row, ok := find(code, "precaution covers"); ok {
			for _, weaker := range row.words() {
				covered[weaker] = true
			}
		}
	}
	var kept []Statement
	codes = slices.Clone(codes)
	slices.SortFunc(codes, strings.Compare)
	for _, code := range slices.Compact(codes) {
		if !covered[code] {
			kept = append(kept, statement(code, l.Regime))
		}
	}
	return kept
}
