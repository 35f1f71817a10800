package main

import (
	"fmt"
	"io"

	"bathwarden/chemicals"
	"bathwarden/exposure"
)

// latestSample is the last result on a metal at a point, and its ratio to the
// estimate of its day.
func latestSample(w waterSide, p exposure.PointUse, metal string) (result, ratio string) {
	var day chemicals.Day
	for _, c := range w.water.Ratios(w.results) {
		if c.Point.Meaning() != p.Point.Is.Name.Meaning() || c.Metal != metal || c.Day < day {
			continue
		}
		day = c.Day
		result, ratio = fmt.Sprintf("%s on %s", c.Result, c.Day), c.Says()
		if c.Calibrates.Known() && c.Why == "" && len(w.water.Calibrations) == 0 {
			ratio += ", which tells of " + c.Calibrates.String() + " alone"
		}
	}
	return result, ratio
}

// printCalibrations says which drag-outs the samples at a point told.
func printCalibrations(out io.Writer, all []exposure.Calibration, point chemicals.Name) {
	for _, c := range all {
		if c.Point.Meaning() != point.Meaning() {
			continue
		}
		fmt.Fprintln(out)
		printSentence(out, "", "the estimated drag-out of %s is taken × %s: by the samples of %s on %d days, of which it alone sends any here, and without treatment", c.Tank, c.Ratio.Text(), c.Metal, len(c.Days))
	}
}
