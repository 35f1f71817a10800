package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
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
			printSentence(out, "", "no sample found of %s at %s from %s to %s, one in each %s is asked for", d.Pollutant, d.Monitoring.Is.Point, d.Span.First, d.Span.Last, d.Monitoring.Is.Every)
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
