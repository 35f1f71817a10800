package rinsewater

import (
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/sewer"
	"bathwarden/templates"
)

// charts draws each pollutant that is estimated at a point, was sampled there
// and has a limit on its concentration.
func (b *builder) charts() {
	w := templates.RinseWater
	b.doc.Section(1, w.Charts)
	b.doc.Add(doc.Paragraph{Text: w.ChartsNote})
	n := 0
	for _, p := range b.found.Water.Points {
		for m := range p.Metals {
			c, ok := b.chart(p, m)
			if !ok {
				continue
			}
			n++
			c.Name = sewer.TableName("chart", n)
			b.doc.Add(c)
		}
	}
	if n == 0 {
		b.doc.Add(doc.Paragraph{Text: w.NoCharts})
	}
}

func (b *builder) chart(p exposure.PointUse, metal int) (doc.Chart, bool) {
	symbol := p.Metals[metal]
	c := doc.Chart{
		Title: symbol + " at " + p.Point.Is.Name.String(), Axis: symbol + " at " + p.Point.Is.Name.String(), Unit: "mg/L", Empty: templates.RinseWater.ChartEmpty,
		First: day(p.Whole.Period.First), Last: day(p.Whole.Period.Last), Dots: b.dots(p.Point.Is.Name, symbol), Steps: b.steps(p.Point.Is.Name, symbol),
	}
	if len(c.Dots) == 0 || len(c.Steps) == 0 {
		return c, false
	}
	band := doc.Band{Name: "estimate, month by month"}
	for _, span := range p.Months {
		if mg, ok := span.MilligramsPerLitre(metal); ok {
			low, likely, high := sewer.Ordered(mg)
			band.Spans = append(band.Spans, doc.Span{From: day(span.Period.First), To: day(span.Period.Last), Low: sewer.Number(low), Likely: sewer.Number(likely), High: sewer.Number(high)})
		}
	}
	if len(band.Spans) > 0 {
		c.Bands = []doc.Band{band}
	}
	return c, true
}

// dots are the values of days, those of the shop's own samples and those of the
// authority's apart.
func (b *builder) dots(point chemicals.Name, symbol string) []doc.Dots {
	own, theirs := doc.Dots{Name: "sample of the shop"}, doc.Dots{Name: "sample of the authority"}
	for _, d := range b.found.Results.Days {
		if d.Point.Meaning() != point.Meaning() || string(d.Pollutant) != symbol || !d.Concentration.Known() {
			continue
		}
		n := sewer.Number(d.Concentration.Is().MilligramsPerLitre())
		n.Below = d.NonDetects == len(d.Entries)
		into := &theirs
		if d.Own {
			into = &own
		}
		into.Points = append(into.Points, doc.Point{Day: day(d.Day), Value: n})
	}
	return slices.DeleteFunc([]doc.Dots{own, theirs}, func(d doc.Dots) bool { return len(d.Points) == 0 })
}

// steps are the strictest limits on the concentration, a recorded one with what
// it was before in the period.
func (b *builder) steps(point chemicals.Name, symbol string) []doc.Steps {
	var all []doc.Steps
	for _, l := range b.found.Results.Limits {
		at, ok := milligrams(l.Value)
		if !ok || !l.Strictest || l.Point.Meaning() != point.Meaning() || string(l.Pollutant) != symbol {
			continue
		}
		s := doc.Steps{Name: string(l.Rule), Levels: []doc.Level{{Value: sewer.Number(at)}}, Cites: sewer.Cite(b.doc, l.Ref)}
		if l.Entry != 0 {
			s.Levels = b.levels(l)
		}
		all = append(all, s)
	}
	return all
}

// levels are all rows of the book under the key of a limit.
func (b *builder) levels(l exposure.LimitInForce) []doc.Level {
	facts := chemicals.Facts[chemicals.LimitSet](b.shop)
	at := slices.IndexFunc(facts, func(f chemicals.Held[chemicals.LimitSet]) bool { return f.Entry == l.Entry })
	if at < 0 {
		return nil
	}
	of := facts[at].Is
	var all []doc.Level
	for _, f := range facts {
		is := f.Is
		mg, ok := milligrams(is.Value)
		if !ok || is.Point.Meaning() != of.Point.Meaning() || is.Pollutant.Meaning() != of.Pollutant.Meaning() || is.Rule != of.Rule ||
			is.Basis != of.Basis || is.Document.Meaning() != of.Document.Meaning() {
			continue
		}
		all = append(all, doc.Level{From: day(f.From), To: day(f.Until), Value: sewer.Number(mg)})
	}
	return all
}

func milligrams(l chemicals.Level) (float64, bool) {
	r, ok := l.Release()
	if !ok {
		return 0, false
	}
	c, ok := r.Concentration()
	return c.MilligramsPerLitre(), ok
}

// day is a day of the model; none for an unknown one.
func day(d chemicals.Day) doc.Date {
	if !d.Known() {
		return doc.Date{}
	}
	t := d.Time()
	return doc.Date{Year: t.Year(), Month: int(t.Month()), Day: t.Day()}
}

// likely is the likely figure of a spread.
func likely(s exposure.Spread) float64 { return s[working.Likely] }
