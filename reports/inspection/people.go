package inspection

import (
	"strings"

	"bathwarden/chemicals"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/letterhead"
	"bathwarden/templates"
)

func (b *builder) people() {
	w := templates.Inspection
	b.doc.Section(1, w.People)
	t := doc.Table{
		Name: "people", Empty: "Nobody is recorded.",
		Columns: []doc.Column{
			{Name: "person", Head: "Person"}, {Name: "job", Head: "Job"}, {Name: "role", Head: "Answers for"},
			{Name: "since", Head: "Since"}, {Name: "language", Head: "Language"},
		},
	}
	for _, p := range chemicals.On[chemicals.Person](b.shop, b.shop.AsOf) {
		var roles []string
		for _, r := range p.Is.Roles {
			roles = append(roles, r.String())
		}
		t.Rows = append(t.Rows, []doc.Cell{
			doc.Text{Is: p.Is.Name.String()}, letterhead.Words(p.Is.Job.String()), letterhead.Words(strings.Join(roles, ", ")),
			letterhead.Day(p.Is.Since, ""), letterhead.Words(p.Is.Language.String()),
		})
	}
	b.doc.Add(doc.Paragraph{Text: w.PeopleNote}, t)
	b.doc.Section(2, w.Trainings)
	b.doc.Add(doc.Paragraph{Text: w.TrainingsNote, Cites: letterhead.Cites(b.doc, exposure.StaleAges().Training.Ref)}, b.trainings())
}

func (b *builder) trainings() doc.Table {
	t := doc.Table{
		Name: "trainings", Empty: "No training is recorded.",
		Columns: []doc.Column{
			{Name: "person", Head: "Person"}, {Name: "topic", Head: "Topic"}, {Name: "last", Head: "Last record"},
			{Name: "age", Head: "Age", Unit: "days", Numeric: true}, {Name: "trainer", Head: "By"},
			{Name: "language", Head: "In"}, {Name: "entry", Head: "Entry", Numeric: true},
		},
	}
	for _, r := range b.found.Trainings {
		row := []doc.Cell{doc.Text{Is: r.Person.Is.Name.String()}, doc.Text{Is: r.Topic}}
		if r.Last == nil {
			row = append(row, doc.Text{Is: "no record found", Emphasis: doc.Caution}, doc.Blank{}, doc.Blank{}, doc.Blank{}, doc.Blank{})
		} else {
			row = append(row, letterhead.Day(r.Last.Date, ""), doc.Number{Is: float64(b.shop.AsOf.Since(r.Last.Date)), Emphasis: caution(r.Lapsed)},
				letterhead.Words(r.Last.Is.Trainer.String()), letterhead.Words(r.Last.Is.Language.String()), letterhead.Entry(r.Last.Entry))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (b *builder) checks() {
	w := templates.Inspection
	b.doc.Section(1, w.Checks)
	t := doc.Table{
		Name: "checks", Empty: "No check is recorded in the period.",
		Columns: []doc.Column{
			{Name: "item", Head: "What"}, {Name: "place", Head: "Where"}, {Name: "number", Head: "Records", Numeric: true},
			{Name: "last", Head: "Last"}, {Name: "found", Head: "What was found then"},
			{Name: "usual", Head: "Usual interval", Unit: "days", Numeric: true},
			{Name: "longest", Head: "Longest", Unit: "days", Numeric: true}, {Name: "from", Head: "From"}, {Name: "to", Head: "To"},
		},
	}
	for _, r := range b.found.Rounds {
		last := r.Checks[len(r.Checks)-1]
		row := []doc.Cell{
			doc.Text{Is: r.Item}, letterhead.Words(r.Place), doc.Number{Is: float64(len(r.Checks))}, letterhead.Day(last.Date, ""),
			letterhead.Words(strings.TrimSpace(last.Is.Reading.String() + " " + last.Is.Result.String())),
		}
		if r.Usual == 0 {
			row = append(row, doc.Blank{}, doc.Blank{}, doc.Blank{}, doc.Blank{})
		} else {
			row = append(row, doc.Number{Is: float64(r.Usual)}, doc.Number{Is: float64(r.Longest), Emphasis: caution(r.Missed())},
				letterhead.Day(r.From, ""), letterhead.Day(r.To, ""))
		}
		t.Rows = append(t.Rows, row)
	}
	b.doc.Add(doc.Paragraph{Text: w.ChecksNote}, t)
}

func (b *builder) papers() {
	w := templates.Inspection
	b.doc.Section(1, w.Papers)
	t := paperTable("papers")
	t.Empty = "No paper is recorded."
	for _, p := range b.found.Papers {
		t.Rows = append(t.Rows, paperRow(p))
	}
	b.doc.Add(doc.Paragraph{Text: w.PapersNote, Cites: letterhead.Cites(b.doc, exposure.StaleAges().Paper.Ref)}, t)
}

func paperTable(name string) doc.Table {
	return doc.Table{
		Name: name,
		Columns: []doc.Column{
			{Name: "paper", Head: "Paper"}, {Name: "title", Head: "In words"}, {Name: "sort", Head: "Sort"},
			{Name: "issued", Head: "Issued"}, {Name: "expires", Head: "Last day"},
			{Name: "left", Head: "Days left", Numeric: true}, {Name: "place", Head: "Kept"},
		},
	}
}

func paperRow(p exposure.Paper) []doc.Cell {
	left := doc.Cell(doc.Blank{})
	if p.Is.Expires.Known() {
		n := doc.Number{Is: float64(p.Left), Emphasis: caution(p.Soon)}
		if p.Expired {
			n.Emphasis = doc.Over
		}
		left = n
	}
	return []doc.Cell{
		doc.Text{Is: p.Is.Name.String()}, letterhead.Words(p.Is.Title.String()), letterhead.Words(string(p.Is.Sort)),
		letterhead.Day(p.Is.Issued, ""), letterhead.Day(p.Is.Expires, ""), left, letterhead.Words(p.Is.Place.String()),
	}
}
