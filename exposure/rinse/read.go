package rinse

import (
	"strings"

	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
)

// target reads what a rinse may hold: a concentration into at, or a share of
// the bath, which it gives.
func target(in *working.Inputs, at *working.Estimate[quantity.BathConcentration]) working.Estimate[float64] {
	word := in.Word("target")
	if !word.Known() {
		*at = working.Absent[quantity.BathConcentration](word.Why())
		return working.Absent[float64](word.Why())
	}
	if number, share := strings.CutSuffix(word.Is(), "%"); share && bare(strings.TrimSpace(number)) {
		return in.Share("target")
	}
	*at = working.Quantity[quantity.BathConcentration](in, "target")
	return working.Absent[float64](at.Why())
}

// dragIn reads what one load brings in the units of any volume, gallons among
// them, which a drag-out per load lacks.
func dragIn(in *working.Inputs) working.Estimate[quantity.LoadVolume] {
	volume := working.Quantity[quantity.Volume](in, "drag_in")
	if !volume.Known() {
		return working.Absent[quantity.LoadVolume](volume.Why())
	}
	return likewise(volume, quantity.LoadVolume(volume.Is().Litres())*quantity.LitrePerLoad, volume.Text())
}

// hours reads a time, or a bare number under a name that says hours.
func hours(in *working.Inputs, name string) working.Estimate[quantity.Duration] {
	word := in.Word(name)
	switch {
	case !word.Known():
		return working.Absent[quantity.Duration](word.Why())
	case !bare(word.Is()) || strings.HasPrefix(word.Is(), "-"):
		return working.Quantity[quantity.Duration](in, name)
	}
	number := in.Number(name)
	if !number.Known() {
		return working.Absent[quantity.Duration](number.Why())
	}
	return likewise(number, quantity.Duration(number.Is())*quantity.Hour, number.Text()+" h")
}

// days reads a number of days, bare as the name says days, or with its unit.
func days(in *working.Inputs, name string) working.Estimate[float64] {
	word := in.Word(name)
	if !word.Known() {
		return working.Absent[float64](word.Why())
	}
	if bare(word.Is()) {
		return in.Number(name)
	}
	span := working.Quantity[quantity.Duration](in, name)
	if !span.Known() {
		return working.Absent[float64](span.Why())
	}
	return likewise(span, span.Is().Hours()/24, span.Text())
}

// bare reports whether a text is a number without a unit.
func bare(text string) bool {
	return text != "" && strings.Trim(text, "+-.0123456789eE") == ""
}

// likewise is a figure that was written as another one is.
func likewise[Q, P any](written working.Estimate[P], is Q, text string) working.Estimate[Q] {
	return working.Given(source.Value[Q]{Is: is, Origin: written.Origin(), Ref: written.Ref()}, text)
}
