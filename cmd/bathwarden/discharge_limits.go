package main

import (
	"fmt"
	"io"
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/exposure/discharge"
)

func printStandards(out io.Writer, standards []exposure.Standard) {
	for _, st := range standards {
		fmt.Fprintf(out, "\nwhich federal rule binds %s:\n", st.Point.Is.Name)
		for _, r := range st.Readings {
			if len(r.If) > 0 {
				printSentence(out, "  ", "if %s:", strings.Join(r.If, " and "))
			}
			printSentence(out, "  ", "%s", r.Says)
			for _, reason := range r.Reasons {
				entry := ""
				if reason.Entry != 0 && !strings.Contains(reason.Says, "entry") {
					entry = fmt.Sprintf(" (entry %d)", reason.Entry)
				}
				printSentence(out, "    ", "%s%s", reason.Says, entry)
			}
		}
		for _, m := range st.Missing {
			printSentence(out, "  ", "%s", m.What)
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
				printSentence(out, "", "joins before treatment, %s: %s", c.Limit.Point, strings.Join(c.Waters, ", "))
			}
			t.row(c.Limit.Point.String(), string(c.Limit.Pollutant), string(c.Limit.Rule), c.Limit.Text, figure(waterShow{quantity.Metric}, c.Result, "mg/L", "mg/L"))
		}
		if err := t.print(out); err != nil {
			return err
		}
	}
	for _, b := range w.water.BehindTreatment(w.results.Limits) {
		printSentence(out, "", "joins behind treatment, %s: %s; dilution there raises no limit", b.Point, strings.Join(b.Waters, ", "))
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
	fmt.Fprintln(out)
	printSentence(out, "", "limits on cyanide by 40 CFR 433.12(c), limit × Qc / Q; they hold only for a sample of the whole effluent, by the control authority's leave")
	t := newTable("POINT", "POLLUTANT", "RULE", "LIMIT", "ADJUSTED")
	told := map[string]bool{}
	for _, c := range cyanide.Limits {
		if point := c.Limit.Point.Meaning(); !told[point] && c.Bearing.Known() {
			told[point] = true
			printSentence(out, "", "at %s the water of %s behind %s bears cyanide: Qc = %s of the effluent, Q = %s", c.Limit.Point, tankNames(c.Rinses), tankNames(c.Baths),
				figure(waterShow{quantity.Metric}, c.Bearing, "L/day", "L/day"), figure(waterShow{quantity.Metric}, c.Effluent, "L/day", "L/day"))
		}
		rule := string(c.Limit.Rule)
		if len(c.Limit.If) > 0 {
			rule += ", only if " + strings.Join(c.Limit.If, " or ")
		}
		t.row(c.Limit.Point.String(), string(c.Limit.Pollutant), rule, c.Limit.Text, figure(waterShow{quantity.Metric}, c.Result, "mg/L", "mg/L"))
	}
	for _, c := range cyanide.Caveats() {
		printSentence(out, "", "%s", c)
	}
	return t.print(out)
}

// printShares counts results over a limit as 40 CFR 403.8(f)(2)(viii) does.
func printShares(out io.Writer, shares []exposure.ResultShare) error {
	if len(shares) == 0 {
		return nil
	}
	w := shares[0].Window
	fmt.Fprintln(out)
	printSentence(out, "", "results over a limit, %s to %s, the authority's counted, 40 CFR 403.8(f)(2)(viii)", w.First, w.Last)
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
		printSentence(out, "  ", "%s, %s: %s", c.About, c.Duty, c.Says())
	}
}
