package sewer

import (
	"strconv"
	"strings"

	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

// clocks are what results over a limit and incidents set running, with their
// state.
func (s *Sections) clocks() doc.Table {
	t := doc.Table{
		Name: "clocks", Empty: templates.Sewer.NoClocks,
		Columns: []doc.Column{
			{Name: "about", Head: "About"}, {Name: "over", Head: "Over"}, {Name: "duty", Head: "What is due"},
			{Name: "start", Head: "Known from"}, {Name: "due", Head: "Due"}, {Name: "state", Head: "By the record"},
		},
	}
	for _, c := range s.found.Results.Clocks {
		var over []string
		for _, l := range c.Over {
			over = append(over, string(l.Rule)+" "+l.Text)
		}
		state := doc.Text{Is: c.State.String() + ": " + c.Says(), Emphasis: Caution(c.State == exposure.ClockOpen || c.State == exposure.ClockClosedLate)}
		if c.State == exposure.ClockOverdue {
			state.Emphasis = doc.Over
		}
		for _, caveat := range c.Caveats {
			state.Is += "; " + string(caveat)
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: c.About + entriesText(c.Entries)}, letterhead.Words(strings.Join(over, "; ")), doc.Text{Is: c.Duty.String(), Cites: Cite(s.doc, c.Ref)},
			doc.Text{Is: c.Start.String() + ", " + c.StartFrom}, doc.Text{Is: c.Due.String()}, state,
		})
	}
	return t
}

func entriesText(entries []int64) string {
	var all []string
	for _, e := range entries {
		all = append(all, strconv.FormatInt(e, 10))
	}
	switch len(all) {
	case 0:
		return ""
	case 1:
		return " (entry " + all[0] + ")"
	}
	return " (entries " + strings.Join(all, ", ") + ")"
}
