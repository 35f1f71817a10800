package exposure

import (
	"fmt"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/dragout"
)

// byRise finds the drag-out of a load out of a tank from the last analysis of
// the still rinse behind it, since that was last emptied or analysed.
func (f *films) byRise(p *plant, tank string) *Film {
	if known, ok := f.rises[tank]; ok {
		return known
	}
	f.rises[tank] = nil
	still, ok := f.stillBehind(p, tank)
	if !ok {
		return nil
	}
	for _, a := range chemicals.Events[chemicals.Analysis](f.w.shop) {
		if a.Is.Tank.Meaning() != still {
			continue
		}
		if film := f.riseTo(p, tank, still, a); film != nil {
			f.rises[tank] = film
		}
	}
	return f.rises[tank]
}

// stillBehind is the still rinse that follows a tank in every cycle through it
// and stands in each once.
func (f *films) stillBehind(p *plant, tank string) (string, bool) {
	still := ""
	for _, steps := range p.cycles {
		stands := map[string]int{}
		for _, s := range steps {
			stands[s.tank]++
		}
		for i, s := range steps[:max(len(steps)-1, 0)] {
			if s.tank != tank {
				continue
			}
			behind := steps[i+1].tank
			if p.rinses[behind].Is.Arrangement != chemicals.Still || stands[behind] != 1 || still != "" && still != behind {
				return "", false
			}
			still = behind
		}
	}
	return still, still != ""
}

// riseTo is the drag-out by one analysis, nil where the book does not tell
// where the rise began or how many loads made it.
func (f *films) riseTo(p *plant, tank, still string, a chemicals.Happened[chemicals.Analysis]) *Film {
	start, begun, ok := f.riseFrom(p, still, a)
	loads := 0
	for _, work := range chemicals.Events[chemicals.Work](f.w.shop) {
		if work.Date <= begun || work.Date > a.Date || !f.w.goesThrough(work, tank) {
			continue
		}
		if !work.Is.Loads.Known() {
			return nil
		}
		loads += work.Is.Loads.Int()
	}
	metal := a.Is.Ingredient.String()
	bath := f.w.contents[tank].metal(a.Date, metal)
	found, inGrams := a.Is.Concentration.Is().GramsPerLitre()
	rise := found - start
	if !ok || loads == 0 || !bath.Known() || !inGrams || rise <= 0 {
		return nil
	}
	value := source.Value[quantity.BathConcentration]{Is: quantity.GramsPerLitre(rise), Origin: source.Measured, Ref: source.Entry(a.Entry)}
	began := source.Value[quantity.BathConcentration]{Is: quantity.GramsPerLitre(start), Origin: source.Measured}
	r, err := dragout.ByRise{
		Volume: stated(p.tanks[still].Is.WorkingVolume, p.tanks[still].Entry, "no working volume is recorded"), Bath: bath,
		Rise:  working.Given(value, fmt.Sprintf("%s less %s g/L on %s", a.Is.Concentration, quantity.Significant(start, 3), begun)),
		Start: working.Given(began, quantity.Significant(start, 3)+" g/L"),
		Loads: working.Given(source.Value[int]{Is: loads, Origin: source.Recorded}, fmt.Sprint(loads)),
	}.Solve()
	if err != nil {
		return nil
	}
	return &Film{Tank: p.tanks[tank].Is.Name, Way: ByRise, What: fmt.Sprintf("from the rise of %s in %s by %s", metal, p.tanks[still].Is.Name, a.Date), PerLoad: r.PerLoad}
}

// riseFrom is what a still rinse held, and since when, before an analysis: the
// analysis before of the same metal, or nothing since it was emptied.
func (f *films) riseFrom(p *plant, still string, to chemicals.Happened[chemicals.Analysis]) (start float64, begun chemicals.Day, ok bool) {
	volume := p.tanks[still].Is.WorkingVolume
	for _, a := range chemicals.Events[chemicals.Analysis](f.w.shop) {
		if a.Is.Tank.Meaning() == still && a.Is.Ingredient.Meaning() == to.Is.Ingredient.Meaning() && a.Date < to.Date {
			start, ok = a.Is.Concentration.Is().GramsPerLitre()
			begun = a.Date
		}
	}
	for _, d := range chemicals.Events[chemicals.Dump](f.w.shop) {
		if d.Is.Tank.Meaning() != still || d.Date < begun || d.Date >= to.Date || !volume.Known() {
			continue
		}
		if d.Is.Volume.Is() < volume.Is() {
			ok = false // part of it went: where the rise began is not known
			continue
		}
		start, begun, ok = 0, d.Date, true
	}
	return start, begun, ok
}
