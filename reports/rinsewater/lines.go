package rinsewater

import (
	"cmp"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/reports/doc"
	"bathwarden/reports/sewer"
	"bathwarden/templates"
)

// lines draws each line of the shop that work goes through.
func (b *builder) lines() {
	w := templates.RinseWater
	b.doc.Section(1, w.Lines)
	b.doc.Add(doc.Paragraph{Text: w.LinesNote})
	all := b.shopLines()
	if len(all) == 0 {
		b.doc.Add(doc.Paragraph{Text: w.NoLines})
	}
	for i, tanks := range all {
		b.doc.Add(b.line(tanks, i+1))
	}
}

// shopLines are the tanks of each line that a cycle goes through, by position.
func (b *builder) shopLines() [][]chemicals.Held[chemicals.Tank] {
	worked := map[string]bool{}
	for _, step := range chemicals.On[chemicals.CycleStep](b.shop, b.shop.AsOf) {
		worked[step.Is.Tank.Meaning()] = true
	}
	byLine := map[string][]chemicals.Held[chemicals.Tank]{}
	var order []string
	for _, t := range chemicals.On[chemicals.Tank](b.shop, b.shop.AsOf) {
		line := t.Is.Line.Meaning()
		if !worked[t.Is.Name.Meaning()] {
			continue
		}
		if byLine[line] == nil {
			order = append(order, line)
		}
		byLine[line] = append(byLine[line], t)
	}
	slices.Sort(order)
	var all [][]chemicals.Held[chemicals.Tank]
	for _, line := range order {
		tanks := byLine[line]
		slices.SortStableFunc(tanks, func(x, y chemicals.Held[chemicals.Tank]) int {
			return cmp.Or(cmp.Compare(x.Is.Position.Int(), y.Is.Position.Int()), cmp.Compare(x.Is.Name, y.Is.Name))
		})
		all = append(all, tanks)
	}
	return all
}

func (b *builder) line(tanks []chemicals.Held[chemicals.Tank], number int) doc.Line {
	l := doc.Line{Name: sewer.TableName("line", number), Title: tanks[0].Is.Line.String(), Empty: templates.RinseWater.NoLines}
	if l.Title == "" {
		l.Title = "Tanks of no line"
	}
	rinses := map[string]chemicals.Rinse{}
	for _, r := range chemicals.On[chemicals.Rinse](b.shop, b.shop.AsOf) {
		rinses[r.Is.Tank.Meaning()] = r.Is
	}
	for i, t := range tanks {
		words := t.Is.Title.String()
		if t.Is.WorkingVolume.Known() {
			words = or(words, string(t.Is.Purpose)) + ", " + t.Is.WorkingVolume.String()
		}
		one := doc.Station{
			Name: t.Is.Name.String(), Words: words, Purpose: string(t.Is.Purpose), Rinse: t.Is.Purpose == chemicals.RinseWork, DrainsTo: t.Is.DrainsTo.String(),
		}
		if i+1 < len(tanks) {
			one.CarryOn = b.carried(t.Is)
		}
		if r, ok := rinses[t.Is.Name.Meaning()]; ok {
			one.Feeds = b.feeds(r, tanks)
			one.Drain = b.drained(t.Is.Name)
		}
		l.Stations = append(l.Stations, one)
	}
	return l
}

// feeds is the water into a rinse: from another of the line, or fresh.
func (b *builder) feeds(r chemicals.Rinse, tanks []chemicals.Held[chemicals.Tank]) []doc.Feed {
	if !r.FedFrom.Known() {
		return nil
	}
	f := doc.Feed{Source: r.FedFrom.String()}
	switch {
	case r.Flow.Known():
		f.Flow = doc.Text{Is: r.Flow.String()}
	case r.Arrangement == chemicals.Still:
		f.Flow = doc.Text{Is: "filled"}
	default:
		f.Flow = doc.Blank{Why: "no flow recorded"}
	}
	for i, t := range tanks {
		if t.Is.Name.Meaning() == r.FedFrom.Meaning() {
			f.From, f.Flow = i+1, doc.Text{Is: "all of its water"}
		}
	}
	return []doc.Feed{f}
}

// drained is the water that leaves a rinse: all that comes into its chain.
func (b *builder) drained(tank chemicals.Name) doc.Cell {
	for _, r := range b.found.Water.Rinses {
		if r.Still == nil && slices.ContainsFunc(r.Tanks, func(n chemicals.Name) bool { return n.Meaning() == tank.Meaning() }) && r.Water.Known() {
			return doc.Text{Is: r.Water.Text()}
		}
	}
	return doc.Blank{}
}

// carried is what the work carries out of a tank on a mean day with work: of a
// rinse as much as it brings.
func (b *builder) carried(t chemicals.Tank) doc.Cell {
	days := float64(len(b.found.Water.Days))
	if days == 0 {
		return doc.Blank{Why: "no work in the period"}
	}
	litres, known := 0.0, false
	for _, r := range b.found.Water.Rinses {
		if slices.ContainsFunc(r.Tanks, func(n chemicals.Name) bool { return n.Meaning() == t.Name.Meaning() }) && r.DragInDay.Known() {
			litres, known = r.DragInDay.Is().Litres()*float64(r.Days), true
		}
	}
	for _, d := range b.found.Water.DragOuts {
		if d.Tank.Meaning() == t.Name.Meaning() && d.Volume.Known() {
			litres, known = litres+d.Volume.Is().Litres(), true
		}
	}
	if !known {
		return doc.Blank{Why: "not known"}
	}
	n := b.volume(litres / days)
	n.Unit = b.in.Volume + "/day"
	return n
}

// perDay is a volume of the period on a mean day with work.
func (b *builder) perDay(v quantity.Volume) quantity.Volume {
	return v / quantity.Volume(max(1, len(b.found.Water.Days)))
}
