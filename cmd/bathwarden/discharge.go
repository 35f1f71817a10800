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
	"bathwarden/exposure/discharge"
)

func newDischarge(s *settings) *cobra.Command {
	return &cobra.Command{
		Use:   "discharge",
		Short: "Show what leaves at each point against its limits, samples and open notices",
		Long: "Show for each point and metal what the work of the period is estimated to send\n" +
			"there, the limits in force, the samples, what was due and not taken, and what is\n" +
			"open after a result over a limit. The permit and the control authority decide.",
		Args: wantArgs(0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return s.withShop(readWater, func(shop *chemicals.Shop, from published) error {
				w := waterSideOf(shop, from, quantity.Metric)
				var err error
				if s.json {
					err = printJSON(cmd.OutOrStdout(), dischargeJSON(w))
				} else {
					err = printDischarge(cmd.OutOrStdout(), w)
				}
				if err != nil {
					return err
				}
				return s.listGaps(cmd, w.gaps())
			})
		},
	}
}

func printDischarge(out io.Writer, w waterSide) error {
	fmt.Fprintf(out, "%s, %d days with work; figures are low to high through the whole chain\n", w.water.Period, len(w.water.Days))
	for _, p := range w.water.Points {
		if err := printPoint(out, w, p); err != nil {
			return err
		}
	}
	printStandards(out, w.results.Standards)
	if err := printLimits(out, w); err != nil {
		return err
	}
	if err := printShares(out, w.results.Shares); err != nil {
		return err
	}
	printClocks(out, w.results.Clocks)
	for _, d := range w.results.Due {
		if d.Missed() {
			fmt.Fprintf(out, "no sample found of %s at %s from %s to %s, one in each %s is asked for\n", d.Pollutant, d.Monitoring.Is.Point, d.Span.First, d.Span.Last, d.Monitoring.Is.Every)
		}
	}
	return printBalances(out, w.water.Balances(w.holdings))
}

func printPoint(out io.Writer, w waterSide, p exposure.PointUse) error {
	measured := "flows × hours"
	if p.Meter.Known() {
		measured = "meter " + p.Meter.String()
	}
	fmt.Fprintf(out, "\n%s: %s over %d days, by %s\n\n", p.Point.Is.Name, quantity.Print(p.Whole.Water, "m³", 3), p.Whole.Days, measured)
	t := newTable("METAL", "GRAMS", "MEAN MG/L", "LATEST SAMPLE", "SAMPLE / ESTIMATE")
	for m, metal := range p.Metals {
		if p.Whole.Grams[m] == (exposure.Spread{}) {
			continue
		}
		mean := "not known: no water"
		if c, ok := p.Whole.MilligramsPerLitre(m); ok {
			mean = lowHigh(c)
		}
		latest, ratio := latestSample(w, p, metal)
		t.row(metal, lowHigh(p.Whole.Grams[m]), mean, latest, ratio)
	}
	if err := t.print(out); err != nil {
		return err
	}
	printCalibrations(out, w.water.Calibrations, p.Point.Is.Name)
	return printWorst(out, p)
}

// averaging are the spans that limits are on: for the table, and in JSON.
var averaging = []struct {
	head, when, field string
	rule              chemicals.Rule
}{{"DAY", "ON", "day", chemicals.DailyMaximum}, {"FOUR DAYS", "ON", "four_days", chemicals.FourDayAverage}, {"MONTH", "IN", "month", chemicals.MonthlyAverage}}

// printWorst shows the high estimate of the worst day, set of four days with
// water and month of each metal.
func printWorst(out io.Writer, p exposure.PointUse) error {
	if p.Whole.Water <= 0 {
		return nil // said above, metal by metal
	}
	fmt.Fprintln(out, "\nhigh estimates, mg/L, of the worst day, the worst set of four days with water, the worst month")
	head := []string{"METAL"}
	for _, of := range averaging {
		head = append(head, of.head, of.when)
	}
	t := newTable(head...)
	for m, metal := range p.Metals {
		if p.Whole.Grams[m] == (exposure.Spread{}) {
			continue
		}
		row := []string{metal}
		for _, of := range averaging {
			row = append(row, worst(p, m, of.rule)...)
		}
		t.row(row...)
	}
	return t.print(out)
}

func worst(p exposure.PointUse, metal int, rule chemicals.Rule) []string {
	span, ok := p.Worst(metal, rule, chemicals.ByConcentration)
	if !ok {
		return []string{"fewer than four", ""}
	}
	mean, _ := span.MilligramsPerLitre(metal)
	return []string{quantity.Significant(mean.Highest(), 3), daysOf(span.Period, rule)}
}

func daysOf(span chemicals.Period, rule chemicals.Rule) string {
	switch {
	case rule == chemicals.MonthlyAverage:
		return span.First.Time().Format("2006-01")
	case span.First == span.Last:
		return span.First.String()
	}
	return span.String()
}

// lowHigh prints the bounds of a figure, or the figure where it has none.
func lowHigh(s exposure.Spread) string {
	low, high := quantity.Significant(min(s[working.Low], s[working.Likely], s[working.High]), 3), quantity.Significant(s.Highest(), 3)
	if low == high {
		return low
	}
	return low + " to " + high
}

func printStandards(out io.Writer, standards []exposure.Standard) {
	for _, st := range standards {
		fmt.Fprintf(out, "\nwhich federal rule binds %s:\n", st.Point.Is.Name)
		for _, r := range st.Readings {
			if len(r.If) > 0 {
				fmt.Fprintf(out, "  if %s:\n", strings.Join(r.If, " and "))
			}
			fmt.Fprintf(out, "  %s\n", r.Says)
			for _, reason := range r.Reasons {
				entry := ""
				if reason.Entry != 0 && !strings.Contains(reason.Says, "entry") {
					entry = fmt.Sprintf(" (entry %d)", reason.Entry)
				}
				fmt.Fprintf(out, "    %s%s\n", oneLine(reason.Says), entry)
			}
		}
		for _, m := range st.Missing {
			fmt.Fprintf(out, "  %s\n", oneLine(m.What))
		}
	}
}

func printLimits(out io.Writer, w waterSide) error {
	fmt.Fprintln(out, "\nlimits in force; * the strictest of its kind")
	t := newTable("POINT", "POLLUTANT", "RULE", "LIMIT", "", "SET BY")
	for _, l := range w.results.Limits {
		star := ""
		if l.Strictest {
			star = "*"
		}
		by := l.Origin.String() + ", " + l.Ref.String()
		if l.Document.Known() {
			by = fmt.Sprintf("%s, %s, entry %d", l.Origin, l.Document, l.Entry)
		}
		if len(l.If) > 0 {
			by += "; only if " + strings.Join(l.If, " or ")
		}
		if l.AtWorks {
			by += "; " + l.Apart
		}
		t.row(l.Point.String(), string(l.Pollutant), string(l.Rule), l.Text, star, by)
	}
	if err := t.print(out); err != nil {
		return err
	}
	if err := printCombined(out, w); err != nil {
		return err
	}
	return printCyanide(out, w.water.CyanideLimits(w.results.Limits))
}

func printCombined(out io.Writer, w waterSide) error {
	if len(w.combined) > 0 {
		fmt.Fprintln(out, "\nfederal limits by 40 CFR 403.6(e), with the authority's written concurrence")
		t := newTable("POINT", "POLLUTANT", "RULE", "LIMIT", "COMBINED")
		told := map[string]bool{}
		for _, c := range w.combined {
			if point := c.Limit.Point.Meaning(); !told[point] {
				told[point] = true
				fmt.Fprintf(out, "joins before treatment, %s: %s\n", c.Limit.Point, strings.Join(c.Waters, ", "))
			}
			t.row(c.Limit.Point.String(), string(c.Limit.Pollutant), string(c.Limit.Rule), c.Limit.Text, figure(waterShow{quantity.Metric}, c.Result, "mg/L", "mg/L"))
		}
		if err := t.print(out); err != nil {
			return err
		}
	}
	for _, b := range w.water.BehindTreatment(w.results.Limits) {
		fmt.Fprintf(out, "joins behind treatment, %s: %s; dilution there raises no limit\n", b.Point, strings.Join(b.Waters, ", "))
	}
	return nil
}

// printCyanide shows the limits on cyanide for a sample of the whole effluent.
func printCyanide(out io.Writer, cyanide exposure.CyanideLimits) error {
	if cyanide.None {
		fmt.Fprintln(out, "\nno bath of the book holds cyanide, so no limit on it is adjusted")
	}
	if len(cyanide.Limits) == 0 {
		return nil
	}
	fmt.Fprintln(out, "\nlimits on cyanide by 40 CFR 433.12(c), limit × Qc / Q; they hold only for a sample of the whole effluent,\nby the control authority's leave")
	t := newTable("POINT", "POLLUTANT", "RULE", "LIMIT", "ADJUSTED")
	told := map[string]bool{}
	for _, c := range cyanide.Limits {
		if point := c.Limit.Point.Meaning(); !told[point] && c.Bearing.Known() {
			told[point] = true
			fmt.Fprintf(out, "at %s the water of %s behind %s bears cyanide: Qc = %s of the effluent, Q = %s\n", c.Limit.Point, tankNames(c.Rinses), tankNames(c.Baths),
				figure(waterShow{quantity.Metric}, c.Bearing, "L/day", "L/day"), figure(waterShow{quantity.Metric}, c.Effluent, "L/day", "L/day"))
		}
		rule := string(c.Limit.Rule)
		if len(c.Limit.If) > 0 {
			rule += ", only if " + strings.Join(c.Limit.If, " or ")
		}
		t.row(c.Limit.Point.String(), string(c.Limit.Pollutant), rule, c.Limit.Text, figure(waterShow{quantity.Metric}, c.Result, "mg/L", "mg/L"))
	}
	for _, c := range cyanide.Caveats() {
		fmt.Fprintf(out, "%s\n", c)
	}
	return t.print(out)
}

// printBalances shows where each metal came from and went.
func printBalances(out io.Writer, balances []exposure.Balance) error {
	for _, b := range balances {
		fmt.Fprintf(out, "\n%s over the period\n", b.Metal)
		t := newTable("", "CAME, G", "WENT, G", "HOW IT IS KNOWN")
		for _, l := range b.Lines {
			came, went, how := lowHigh(l.Grams), "", l.How
			if l.Why != "" {
				came, how = "not known", l.Why
			}
			if !l.Comes {
				came, went = "", came
			}
			t.row(l.What, came, went, how)
		}
		unexplained := "came less went"
		if b.Open {
			unexplained += ", with what is not known"
		}
		t.row("unexplained", lowHigh(b.Unexplained), "", unexplained)
		t.row("shipped, by assay", "", lowHigh(b.Shipped), b.ShippedHow+"; a check on what treatment kept")
		if err := t.print(out); err != nil {
			return err
		}
	}
	return nil
}

// printShares counts results over a limit as 40 CFR 403.8(f)(2)(viii) does.
func printShares(out io.Writer, shares []exposure.ResultShare) error {
	if len(shares) == 0 {
		return nil
	}
	w := shares[0].Window
	fmt.Fprintf(out, "\nresults over a limit from %s to %s, the authority's counted, 40 CFR 403.8(f)(2)(viii)\n", w.First, w.Last)
	t := newTable("POINT", "POLLUTANT", "RULE", "RESULTS", "OVER THE LIMIT", "OVER THE FACTOR")
	for _, sh := range shares {
		r := sh.Shares
		t.row(sh.Limit.Point.String(), string(sh.Limit.Pollutant), string(sh.Limit.Rule), fmt.Sprint(r.Results), fmt.Sprintf("%d, %s", r.Over, shareText(r.ChronicShare)), overFactor(r))
	}
	return t.print(out)
}

func overFactor(r discharge.NoncomplianceResult) string {
	if !r.TechnicalShare.Known() {
		return "not counted: " + r.TechnicalShare.Why()
	}
	return fmt.Sprintf("%d, %s", r.OverTechnical, shareText(r.TechnicalShare))
}

// shareText prints a share in percent, with its bounds where results are not
// determined.
func shareText(e working.Estimate[float64]) string {
	if !e.Known() {
		return "none: " + e.Why()
	}
	low, high := quantity.Significant(e.At(working.Low)*100, 3), quantity.Significant(e.At(working.High)*100, 3)
	if low == high {
		return low + " %"
	}
	return low + " to " + high + " %"
}

func printClocks(out io.Writer, clocks []exposure.ClockRun) {
	if len(clocks) == 0 {
		return
	}
	fmt.Fprintln(out, "\nafter results over a limit, and incidents:")
	for _, c := range clocks {
		fmt.Fprintf(out, "  %s, %s: %s\n", c.About, c.Duty, oneLine(c.Says()))
	}
}

func dischargeJSON(w waterSide) map[string]any {
	points := []map[string]any{}
	for _, p := range w.water.Points {
		metals := map[string]any{}
		for m, metal := range p.Metals {
			mean, ok := p.Whole.MilligramsPerLitre(m)
			one := map[string]any{"mass": spreadJSON(p.Whole.Grams[m], "g")}
			if ok {
				one["mean"] = spreadJSON(mean, "mg/L")
			}
			if worst := worstJSON(p, m); len(worst) > 0 {
				one["worst"] = worst
			}
			metals[metal] = one
		}
		points = append(points, map[string]any{"point": p.Point.Is.Name, "water": map[string]any{"value": p.Whole.Water.CubicMetres(), "unit": "m³"}, "metals": metals})
	}
	limits := []map[string]any{}
	for _, l := range w.results.Limits {
		limits = append(limits, map[string]any{
			"point": l.Point, "pollutant": l.Pollutant, "rule": l.Rule, "basis": l.Basis, "value": l.Text, "strictest": l.Strictest, "if": l.If, "at_treatment_works": l.AtWorks, "source": l.Ref.String(),
		})
	}
	clocks := []map[string]any{}
	for _, c := range w.results.Clocks {
		clocks = append(clocks, map[string]any{"about": c.About, "duty": c.Duty.String(), "state": c.State.String(), "due": c.Due.String(), "closed_by": c.ClosedBy})
	}
	return map[string]any{"period": w.water.Period.String(), "points": points, "limits": limits, "clocks": clocks, "calibrations": calibrationsJSON(w.water.Calibrations)}
}

// worstJSON is the worst day, set of four days and month of a metal; one that
// there is not is left out.
func worstJSON(p exposure.PointUse, metal int) map[string]any {
	all := map[string]any{}
	for _, of := range averaging {
		span, ok := p.Worst(metal, of.rule, chemicals.ByConcentration)
		if !ok || p.Whole.Grams[metal] == (exposure.Spread{}) {
			continue
		}
		mean, _ := span.MilligramsPerLitre(metal)
		all[of.field] = map[string]any{"first": span.Period.First, "last": span.Period.Last, "days_with_water": span.Days, "mean": spreadJSON(mean, "mg/L")}
	}
	return all
}
