package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

func newRinse(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "rinse [TANK]",
		Short: "List the rinses: drag-in, water, what they reach, when still ones are due",
		Long: "List each rinse with what the work of the period dragged into it, the water it gets\n" +
			"and would need for what is wanted of it, the strength of its stages, and for a still\n" +
			"rinse when it is due. With a tank, show the working.",
		Args: atMostOne("one tank"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.withShop(readWater, func(shop *chemicals.Shop, from published) error {
				water := exposure.WaterOf(shop, from.Set)
				meters := water.Meters()
				show := waterShow{s.given.units}
				var err error
				if len(args) > 0 {
					err = s.rinseOf(cmd.OutOrStdout(), show, water, args[0])
				} else {
					err = s.listRinses(cmd.OutOrStdout(), show, water, meters)
				}
				if err != nil {
					return err
				}
				return s.listGaps(cmd, water.AllGaps())
			})
		},
	}
}

// waterShow prints figures of the water side in the units asked for.
type waterShow struct{ units quantity.System }

// figure prints an estimate with its bounds, or why there is none.
func figure[Q quantity.Any](show waterShow, e working.Estimate[Q], metric, us string) string {
	if !e.Known() {
		return "not known: " + e.Why()
	}
	unit := metric
	if show.units == quantity.US {
		unit = us
	}
	text := quantity.Print(e.Is(), unit, 3)
	if !e.Spread() {
		return text
	}
	low, high := quantity.Print(e.At(working.Low), unit, 3), quantity.Print(e.At(working.High), unit, 3)
	return fmt.Sprintf("%s (%s to %s)", text, strings.TrimSuffix(low, " "+unit), strings.TrimSuffix(high, " "+unit))
}

// likely prints an estimate without its bounds, for lists.
func likely[Q quantity.Any](show waterShow, e working.Estimate[Q], metric, us string) string {
	switch {
	case !e.Known():
		return "not known"
	case show.units == quantity.US:
		return quantity.Print(e.Is(), us, 3)
	}
	return quantity.Print(e.Is(), metric, 3)
}

func likelyNumber(e working.Estimate[float64]) string {
	if !e.Known() {
		return "not known"
	}
	return quantity.Significant(e.Is(), 3)
}

func number(e working.Estimate[float64]) string {
	if !e.Known() {
		return "not known: " + e.Why()
	}
	if !e.Spread() {
		return quantity.Significant(e.Is(), 3)
	}
	return fmt.Sprintf("%s (%s to %s)", quantity.Significant(e.Is(), 3), quantity.Significant(e.At(working.Low), 3), quantity.Significant(e.At(working.High), 3))
}

func tankNames(all []chemicals.Name) string {
	parts := make([]string, len(all))
	for i, n := range all {
		parts[i] = n.String()
	}
	return strings.Join(parts, ", ")
}

func (s *settings) listRinses(out io.Writer, show waterShow, water *exposure.Water, meters []exposure.MeterUse) error {
	if s.json {
		list := []map[string]any{}
		for _, r := range water.Rinses {
			list = append(list, rinseJSON(r))
		}
		return printJSON(out, list)
	}
	fmt.Fprintf(out, "%s, %d days with work; likely figures, rinse TANK shows low and high\n\n", water.Period, len(water.Days))
	t := newTable("RINSE", "BEHIND", "DRAG-IN A DAY", "WATER", "WANTED", "NEEDED", "LAST STAGE")
	for _, r := range water.Rinses {
		t.row(tankNames(r.Tanks), r.After.String(), likely(show, r.DragInDay, "L", "gal"), waterOf(show, r), likelyNumber(r.Wanted), neededOf(show, r), lastStage(show, r))
	}
	if err := t.print(out); err != nil {
		return err
	}
	return printMeters(out, show, meters)
}

func waterOf(show waterShow, r exposure.RinseUse) string {
	if r.Still != nil {
		return "still"
	}
	return likely(show, r.Water, "L/h", "gal/h")
}

func neededOf(show waterShow, r exposure.RinseUse) string {
	if r.Still == nil {
		return likely(show, r.Needed, "L/h", "gal/h")
	}
	if r.Still.NextDump.Known() {
		return "due " + r.Still.NextDump.String()
	}
	return "not known"
}

func lastStage(show waterShow, r exposure.RinseUse) string {
	switch {
	case r.Still != nil:
		var parts []string
		for _, m := range r.Still.Metals {
			parts = append(parts, fmt.Sprintf("%s %s g/L", m.Metal, quantity.Significant(m.Concentration[working.Likely], 3)))
		}
		return strings.Join(parts, ", ")
	case len(r.Stages) == 0:
		return ""
	case r.LowerOnly && len(r.Heavy) > 0:
		return r.Lead + " " + likely(show, r.Heavy[len(r.Heavy)-1], "mg/L", "mg/L") + " after the heaviest day"
	}
	return r.Lead + " " + likely(show, r.Stages[len(r.Stages)-1], "mg/L", "mg/L")
}

func printMeters(out io.Writer, show waterShow, meters []exposure.MeterUse) error {
	if len(meters) == 0 {
		return nil
	}
	fmt.Fprintln(out)
	t := newTable("METER", "SERVES", "FROM", "TO", "METERED", "FLOWS × HOURS", "OF METERED")
	for _, m := range meters {
		share := "not known: " + m.Share.Why()
		if m.Share.Known() {
			share = quantity.Significant(m.Share.Is()*100, 3) + " %"
		}
		t.row(m.Meter.Is.Name.String(), m.Meter.Is.Serves.String(), m.Period.First.String(), m.Period.Last.String(),
			figure(show, m.Metered, "m³", "gal"), figure(show, m.Rated, "m³", "gal"), share)
	}
	return t.print(out)
}

// rinseOf shows the working of one rinse, found by any of its tanks.
func (s *settings) rinseOf(out io.Writer, show waterShow, water *exposure.Water, tank string) error {
	var known []string
	for _, r := range water.Rinses {
		for _, name := range r.Tanks {
			known = append(known, name.String())
			if name.Meaning() == chemicals.Fold(tank) {
				if s.json {
					return printJSON(out, rinseJSON(r))
				}
				return printRinse(out, show, r)
			}
		}
	}
	p := &chemicals.Problem{What: fmt.Sprintf("no rinse that work came to in the period is named %q", tank), Mend: "bathwarden rinse lists them all"}
	if near := chemicals.Closest(tank, known); len(near) > 0 {
		p.Mend = "did you mean " + strings.Join(near, " or ") + "?"
	}
	return p
}

func printRinse(out io.Writer, show waterShow, r exposure.RinseUse) error {
	fmt.Fprintf(out, "rinse %s behind %s, %s, %d days with work\n", tankNames(r.Tanks), r.After, r.Set.Is.Arrangement, r.Days)
	printEstimate(out, "drag-in on a day with work", figure(show, r.DragInDay, "L", "gal"), r.DragInDay)
	fmt.Fprintf(out, "heaviest day: %s with %s\n", r.HeaviestDay, figure(show, r.Heaviest, "L", "gal"))
	for _, m := range r.Metals {
		kept := m.Kept()
		fmt.Fprintf(out, "%s: %s g came in, %s g went on with the work, %s g stayed or left with the water\n", m.Metal, spread(m.In), spread(m.On), spread(kept))
	}
	if r.Still != nil {
		return printStill(out, r)
	}
	printEstimate(out, "drag-in while the water runs", figure(show, r.DragIn, "L/h", "gal/h"), r.DragIn)
	fmt.Fprintf(out, "water now: %s\n", figure(show, r.Water, "L/h", "gal/h"))
	printEstimate(out, "ratio at equilibrium", number(r.Ratio), r.Ratio)
	for i, stage := range r.Stages {
		printEstimate(out, fmt.Sprintf("%s in %s at equilibrium", r.Lead, r.Tanks[min(i, len(r.Tanks)-1)]), figure(show, stage, "mg/L", "mg/L"), stage)
	}
	printEstimate(out, "ratio wanted", number(r.Wanted), r.Wanted)
	printEstimate(out, "water needed for it", figure(show, r.Needed, "L/h", "gal/h"), r.Needed)
	fmt.Fprintf(out, "by the usual rule r^(1/n), for comparison: %s\n", figure(show, r.RootRule, "L/h", "gal/h"))
	printEstimate(out, "turnover of the water in a stage", figure(show, r.Turnover, "h", "h"), r.Turnover)
	for i, stage := range r.Heavy {
		printEstimate(out, fmt.Sprintf("%s in %s after the heaviest day, from rest", r.Lead, r.Tanks[min(i, len(r.Tanks)-1)]), figure(show, stage, "mg/L", "mg/L"), stage)
	}
	if r.LowerOnly {
		fmt.Fprintln(out, "the water turns over slower than a working day: the flow at equilibrium is a lower bound, go by the heaviest day")
	}
	return nil
}

func printStill(out io.Writer, r exposure.RinseUse) error {
	st := r.Still
	began := "since then"
	if !st.Known {
		began = "where it began is not recorded; taken as clean"
	}
	fmt.Fprintf(out, "%s L, %d loads since %s, %s\n", quantity.Significant(st.Litres, 4), st.Loads, st.Since, began)
	for _, m := range st.Metals {
		fmt.Fprintf(out, "%s in it: %s g/L\n", m.Metal, spread(m.Concentration))
	}
	printEstimate(out, "loads from clean to what is wanted", number(st.ToTarget), st.ToTarget)
	if st.NextDump.Known() {
		fmt.Fprintf(out, "due about %s at the pace of the period\n", st.NextDump)
	} else {
		fmt.Fprintf(out, "not known when it is due: %s\n", st.Why)
	}
	return nil
}

func spread(s exposure.Spread) string {
	likely := quantity.Significant(s[working.Likely], 3)
	if s[working.Low] == s[working.Likely] && s[working.High] == s[working.Likely] {
		return likely
	}
	return fmt.Sprintf("%s (%s to %s)", likely, quantity.Significant(s[working.Low], 3), quantity.Significant(s[working.High], 3))
}

// worked is an estimate of any quantity.
type worked interface {
	Steps() []working.Step
	Caveats() []working.Caveat
}

func printEstimate(out io.Writer, what, value string, e worked) {
	fmt.Fprintf(out, "\n%s: %s\n", what, value)
	for _, st := range e.Steps() {
		fmt.Fprintf(out, "  %s\n", st.Formula)
		for _, in := range st.Inputs {
			known := in.Known()
			if known != "" {
				known = " [" + known + "]"
			}
			fmt.Fprintf(out, "    %s = %s  %s%s\n", in.Symbol, oneLine(in.Value), oneLine(in.What), oneLine(known))
		}
		fmt.Fprintf(out, "    = %s\n", st.Result)
		if st.Ref.Known() {
			fmt.Fprintf(out, "    after %s\n", st.Ref)
		}
	}
	for _, c := range e.Caveats() {
		fmt.Fprintf(out, "  caveat: %s\n", oneLine(string(c)))
	}
}

func rinseJSON(r exposure.RinseUse) map[string]any {
	m := map[string]any{
		"tanks": r.Tanks, "behind": r.After, "arrangement": r.Set.Is.Arrangement, "days": r.Days, "metal": r.Lead,
		"drag_in_per_day": estimateJSON(r.DragInDay, "L"), "water": estimateJSON(r.Water, "L/h"), "needed": estimateJSON(r.Needed, "L/h"),
		"wanted": numberJSON(r.Wanted), "ratio": numberJSON(r.Ratio), "turnover": estimateJSON(r.Turnover, "h"), "steady_is_lower_bound": r.LowerOnly,
	}
	var stages, heavy []any
	for _, st := range r.Stages {
		stages = append(stages, estimateJSON(st, "mg/L"))
	}
	for _, st := range r.Heavy {
		heavy = append(heavy, estimateJSON(st, "mg/L"))
	}
	m["stages"], m["after_heaviest_day"] = stages, heavy
	metals := map[string]any{}
	for _, metal := range r.Metals {
		metals[metal.Metal] = map[string]any{"in": spreadJSON(metal.In, "g"), "on": spreadJSON(metal.On, "g")}
	}
	m["metals"] = metals
	if r.Still != nil {
		m["still"] = map[string]any{"loads": r.Still.Loads, "since": r.Still.Since, "due": r.Still.NextDump}
	}
	return m
}

func estimateJSON[Q quantity.Any](e working.Estimate[Q], unit string) map[string]any {
	if !e.Known() {
		return map[string]any{"absent": e.Why()}
	}
	in := func(c working.Case) float64 {
		v, err := quantity.In(e.At(c), unit)
		if err != nil {
			panic("bathwarden: " + err.Error()) // the unit is one of the quantity's
		}
		return v
	}
	m := map[string]any{"value": in(working.Likely), "unit": unit}
	if e.Spread() {
		m["low"], m["high"] = in(working.Low), in(working.High)
	}
	return m
}

func numberJSON(e working.Estimate[float64]) map[string]any {
	if !e.Known() {
		return map[string]any{"absent": e.Why()}
	}
	return spreadJSON(exposure.Spread{e.At(working.Likely), e.At(working.Low), e.At(working.High)}, "")
}

func spreadJSON(s exposure.Spread, unit string) map[string]any {
	m := map[string]any{"value": s[working.Likely]}
	if unit != "" {
		m["unit"] = unit
	}
	if s[working.Low] != s[working.Likely] || s[working.High] != s[working.Likely] {
		m["low"], m["high"] = s[working.Low], s[working.High]
	}
	return m
}
