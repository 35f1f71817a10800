package exposure

import (
	"fmt"
	"slices"
	"strings"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
)

// Gaps lists what the inventory cannot say and why: of the shop, its products,
// their amounts and its tanks.
func Gaps(shop *chemicals.Shop, holdings []Holding, tanks []Tank) []Gap {
	gaps := firmGaps(shop)
	declared := map[string]bool{}
	for _, h := range chemicals.On[chemicals.DeclaredHazard](shop, shop.AsOf) {
		declared[h.Is.Product.Meaning()] = true
	}
	for _, h := range holdings {
		gaps = append(gaps, productGaps(shop, h.Matter, declared[h.Product.Is.Name.Meaning()])...)
		gaps = append(gaps, holdingGaps(shop, h)...)
	}
	for _, t := range tanks {
		gaps = append(gaps, tankGaps(shop, t)...)
	}
	return sorted(gaps)
}

func firmGaps(shop *chemicals.Shop) []Gap {
	firm, ok := shop.Firm()
	if !ok {
		return []Gap{{Where: "shop", What: "nothing is recorded of the shop itself", Mend: "record shop with its name, address and regime"}}
	}
	var gaps []Gap
	for _, field := range []struct {
		known bool
		name  string
	}{
		{firm.Is.Address.Known(), "address"},
		{firm.Is.Contact.Known(), "contact"},
		{firm.Is.EmergencyPhone.Known(), "emergency phone"},
		{firm.Is.ControlAuthority.Known(), "control authority"},
		{firm.Is.TimeZone.Known(), "time zone"},
		{firm.Is.Regime != "", "regime"},
	} {
		if !field.known {
			gaps = append(gaps, Gap{Where: "shop", What: "no " + field.name + " is recorded", Mend: "record shop, " + field.name, Entry: firm.Entry})
		}
	}
	return gaps
}

func productGaps(shop *chemicals.Shop, m Matter, declared bool) []Gap {
	p := *m.Product
	var gaps []Gap
	add := func(what, mend string) {
		gaps = append(gaps, Gap{Where: "product " + p.Is.Name.String(), What: what, Mend: mend, Entry: p.Entry})
	}
	if age := StaleAges().Sheet; !p.Is.SheetDate.Known() {
		add("the safety data sheet has no date", "look at the sheet and record its date")
	} else if age.Past(p.Is.SheetDate, shop.AsOf) {
		add(fmt.Sprintf("the safety data sheet of %s is older than %d years", p.Is.SheetDate, age.Days/365), "ask the supplier for the current sheet")
	}
	if !p.Is.SheetPlace.Known() {
		add("the record does not say where the safety data sheet is kept", "record sheet place")
	}
	if p.Is.Form == chemicals.Liquid && !p.Is.Density.Known() {
		add("no density is recorded for a liquid", "record density from the safety data sheet")
	}
	if p.Is.Form == "" {
		add("the record does not say whether it is solid or liquid", "record form")
	}
	if !declared {
		add("no hazard class is recorded from the supplier's sheet", "record product-hazard; where the sheet declares none, one row with the class \"not classified\"")
	}
	return append(gaps, contentGaps(m)...)
}

func contentGaps(m Matter) []Gap {
	where := "product " + m.Product.Is.Name.String()
	if len(m.Parts) == 0 {
		return []Gap{{Where: where, What: "no contents are recorded", Mend: "record product-content from section 3 of the safety data sheet", Entry: m.Product.Entry}}
	}
	var gaps []Gap
	listed := 0.0
	for _, part := range m.Parts {
		listed += part.Is.High.Is().Percent()
		if part.Substance == nil {
			gaps = append(gaps, Gap{Where: where, What: fmt.Sprintf("the published tables do not know %q", part.Is.Substance), Mend: "check the name or CAS number; classes and limits must come from the supplier's sheet", Entry: part.Entry})
		}
	}
	if listed < 100*(1-listedSlack) {
		gaps = append(gaps, Gap{Where: where, What: fmt.Sprintf("the listed contents make at most %s %% of it; the rest is not known", quantity.Significant(listed, 3)), Mend: "ask the supplier; list water where the rest is water", Entry: m.Product.Entry})
	}
	return gaps
}

func holdingGaps(shop *chemicals.Shop, h Holding) []Gap {
	var gaps []Gap
	add := func(what, mend string) {
		gaps = append(gaps, Gap{Where: "product " + h.Product.Is.Name.String(), What: what, Mend: mend, Entry: h.Product.Entry})
	}
	switch {
	case len(h.Counts) == 0:
		add("it was never counted; its amount is not known", "count it and record stock")
		return gaps
	case StaleAges().Count.Past(h.Counted, shop.AsOf):
		add("the last count is of "+orFirst(h.Counted), "count it again")
	}
	if !h.Today.MassKnown {
		add("its amount in kilograms is not known: it is counted by volume and has no density", "record density from the safety data sheet")
	}
	if days := countDays(h.Counts); len(days) > 1 {
		add("its places were counted on different days ("+strings.Join(days, ", ")+"); movements are taken from the last", "count all places on one day")
	}
	if len(h.Below) > 0 {
		add(fmt.Sprintf("more was used than was there by %s: %s", h.Below[len(h.Below)-1].Date, entriesOf(h.Below)), "look for a receipt or a count that is missing, or a wrong addition")
	}
	return gaps
}

func orFirst(day chemicals.Day) string {
	if day == "" {
		return "the shop's first day"
	}
	return day.String()
}

func countDays(counts []Count) []string {
	var days []string
	for _, c := range counts {
		days = append(days, orFirst(c.From))
	}
	slices.Sort(days)
	return slices.Compact(days)
}

// entriesOf names the entries of movements, the last ten of them.
func entriesOf(moves []Movement) string {
	const most = 10
	text := "entries "
	if len(moves) > most {
		moves, text = moves[len(moves)-most:], "entries … "
	}
	for i, m := range moves {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprint(m.Entry)
	}
	return text
}

// unfilled are the purposes of tanks that need no make-up.
var unfilled = []chemicals.Purpose{chemicals.RinseWork, chemicals.Dry, chemicals.Treat, chemicals.Hold}

func tankGaps(shop *chemicals.Shop, t Tank) []Gap {
	var gaps []Gap
	add := func(what, mend string) {
		gaps = append(gaps, Gap{Where: "tank " + t.Is.Name.String(), What: what, Mend: mend, Entry: t.Entry})
	}
	if !t.Is.WorkingVolume.Known() && t.Is.Purpose != chemicals.Dry {
		add("no working volume is recorded; its contents in kilograms are not known", "record working volume")
	}
	if len(t.Contents) == 0 && !slices.Contains(unfilled, t.Is.Purpose) {
		add("no make-up is recorded", "record bath, one row an ingredient")
	}
	for _, c := range t.Contents {
		switch {
		case !c.Known():
			add(fmt.Sprintf("%q is neither a product of the book nor a published substance, element or ion", c.Name), "record it as a product with its contents, or mend the name")
		case !c.Concentration.Known():
			add(fmt.Sprintf("the concentration of %s in g/L is not known: %s", c.Name, c.Concentration.Why()), "record what is missing")
		}
		if age := StaleAges().Analysis; c.Found != nil && age.Past(c.Found.Date, shop.AsOf) {
			add(fmt.Sprintf("the last analysis of %s is of %s", c.Found.Is.Ingredient, c.Found.Date), "have the bath analysed")
		}
	}
	return gaps
}
