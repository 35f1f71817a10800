package waste

import (
	"errors"
	"slices"
	"strconv"

	"bathwarden/chemicals/working"
)

// chosen are the matters that the names of Reagents stand for.
type chosen struct {
	metals, acids                   []*matter
	alkali, reducer, oxidiser, acid *matter
	assumed                         []*matter
}

func (c chosen) caveats(r Reagents, m *matter) []working.Caveat {
	all := []working.Caveat{exactAmounts}
	if slices.Contains(c.assumed, m) {
		all = append(all, working.Caveat("no reagent is named that does it; "+m.name+" is taken"))
	}
	if r.Chromium6.Known() && r.Cyanide.Known() {
		all = append(all, apartCaveat)
	}
	return all
}

func (r Reagents) choose() (chosen, error) {
	var c chosen
	var faults []error
	c.metals, faults = findMetals(r.Metals)
	for _, a := range r.Acids {
		m, ok := treatment().find(a.Name, false)
		if !ok || !m.uses[givesAcid].Known() {
			faults = append(faults, &working.Fault{Where: "acid", What: strconv.Quote(a.Name) + " is not an acid of the table", Mend: "known here: " + treatment().names(false, givesAcid)})
			continue
		}
		c.acids = append(c.acids, m)
	}
	faults = append(faults, c.named(r)...)
	if len(faults) > 0 {
		return c, errors.Join(faults...)
	}
	if len(r.Metals)+len(r.Acids) == 0 && !r.Chromium6.Known() && !r.Cyanide.Known() {
		return c, &working.Fault{Where: "metals", What: "there is nothing to treat", Mend: `give metals="{Cu: 2 kg}", acid, chromium6 or cyanide`}
	}
	return c, c.complete(r)
}

// named sorts the reagents by what they do; each must have something to do.
func (c *chosen) named(r Reagents) []error {
	var faults []error
	for _, name := range r.With {
		m, ok := treatment().find(name, false)
		if !ok {
			faults = append(faults, reagentFault(strconv.Quote(name)+" is not a reagent of the table", "known here: "+treatment().names(false, givesHydroxide, reducesChromium, oxidisesToCyanate)))
			continue
		}
		place, idle := &c.alkali, false
		switch {
		case m.uses[reducesChromium].Known():
			place, idle = &c.reducer, !r.Chromium6.Known()
		case m.uses[oxidisesToCyanate].Known():
			place, idle = &c.oxidiser, !r.Cyanide.Known()
		case !m.uses[givesHydroxide].Known():
			faults = append(faults, reagentFault(m.name+" treats nothing", "name one of: "+treatment().names(false, givesHydroxide, reducesChromium, oxidisesToCyanate)))
			continue
		}
		switch {
		case idle:
			faults = append(faults, reagentFault("there is nothing for "+m.name+" to do", "give the mass of what it treats (chromium6 or cyanide), or leave it out"))
		case *place != nil && *place != m:
			faults = append(faults, reagentFault((*place).name+" and "+m.name+" do the same", "name one of them"))
		}
		*place = m
	}
	return faults
}

func reagentFault(what, mend string) error {
	return &working.Fault{Where: "reagent", What: what, Mend: mend}
}

// complete takes from the table what is needed and was not named. Chromium
// alone asks for no alkali unless one is named: its precipitation is then
// another step.
func (c *chosen) complete(r Reagents) error {
	t := treatment()
	take := func(place **matter, use string) {
		if *place == nil {
			*place = t.first(use)
			c.assumed = append(c.assumed, *place)
		}
	}
	if r.Chromium6.Known() {
		take(&c.reducer, reducesChromium)
		c.acid, _ = t.find("sulfuric acid", false)
	}
	if r.Cyanide.Known() {
		take(&c.oxidiser, oxidisesToCyanate)
	}
	_, lye := r.lye(c.oxidiser)
	if lye || len(r.Metals)+len(r.Acids) > 0 {
		take(&c.alkali, givesHydroxide)
	}
	if c.alkali != nil && len(r.hydroxide(*c)) == 0 {
		return reagentFault("nothing here takes hydroxide, and there is nothing for "+c.alkali.name+" to do", "leave it out; what only holds a pH is not counted")
	}
	return nil
}
