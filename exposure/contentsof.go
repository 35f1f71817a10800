package exposure

import (
	"fmt"
	"slices"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
)

// contents is what one tank held, span by span, worked out when first asked.
type contents struct {
	baths  *baths
	stands []chemicals.Held[chemicals.Tank]
	metals []string
	from   []chemicals.Day
	held   []*Tank
	grams  [][]Spread // g/L of each metal, zero where none is known
}

func newContents(b *baths, metals []string, stands []chemicals.Held[chemicals.Tank], first chemicals.Day) *contents {
	c := &contents{baths: b, metals: metals, stands: stands}
	c.from = b.turns(stands[0].Is.Name.Meaning(), first, b.shop.AsOf)
	for _, t := range stands {
		if first < t.From && t.From <= b.shop.AsOf {
			c.from = append(c.from, t.From)
		}
	}
	slices.Sort(c.from)
	c.from = slices.Compact(c.from)
	c.held, c.grams = make([]*Tank, len(c.from)), make([][]Spread, len(c.from))
	return c
}

// span is the index of the span in which a day lies.
func (c *contents) span(day chemicals.Day) int {
	at, found := slices.BinarySearch(c.from, day)
	if !found {
		at--
	}
	return max(at, 0)
}

func (c *contents) at(span int) *Tank {
	if c.held[span] == nil {
		tank := c.stands[0]
		for _, t := range c.stands {
			if t.On(c.from[span]) {
				tank = t
			}
		}
		held := c.baths.on(tank, c.from[span])
		c.held[span] = &held
	}
	return c.held[span]
}

// last is what the tank held on a day.
func (c *contents) last(day chemicals.Day) *Tank { return c.at(c.span(day)) }

// on is g/L of each metal on a day.
func (c *contents) on(day chemicals.Day) []Spread {
	span := c.span(day)
	if c.grams[span] != nil {
		return c.grams[span]
	}
	all := make([]Spread, len(c.metals))
	for _, m := range c.at(span).Metals {
		if i := slices.Index(c.metals, m.Metal.Name); i >= 0 && m.Concentration.Known() {
			all[i] = gramsOf(m.Concentration)
		}
	}
	c.grams[span] = all
	return all
}

// metal is the concentration of one metal on a day.
func (c *contents) metal(day chemicals.Day, metal string) working.Estimate[quantity.BathConcentration] {
	for _, m := range c.last(day).Metals {
		if m.Metal.Name == metal {
			return m.Concentration
		}
	}
	return working.Absent[quantity.BathConcentration](fmt.Sprintf("%s is not known to hold %s", c.stands[0].Is.Name, metal))
}
