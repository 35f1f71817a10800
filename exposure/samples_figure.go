package exposure

import (
	"fmt"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/source"
	"bathwarden/chemicals/working"
	"bathwarden/exposure/discharge"
)

// resultFigure is what a sample shows: a level, or less than one.
type resultFigure struct {
	level chemicals.Level // the value, or the reporting limit; not known of a bare "ND"
	less  bool
}

// figureOf reads a sample. A bare "ND" is less than the reporting limit of the
// row, or for want of it than the detection limit.
func figureOf(s chemicals.Sample) resultFigure {
	f := resultFigure{level: s.Result.Level, less: s.Result.Less}
	if _, known := levelNumber(f.level); known {
		return f
	}
	limit := s.ReportingLimit
	if !limit.Known() {
		limit = s.DetectionLimit
	}
	f.level = chemicals.Level{}
	if limit.Known() {
		f.level = levelOf(limit.String())
	}
	return f
}

// levelOf reads a level that was read before; it panics on any other.
func levelOf(text string) chemicals.Level {
	var l chemicals.Level
	if err := l.UnmarshalText([]byte(text)); err != nil {
		panic("exposure: " + err.Error())
	}
	return l
}

// kindOfLevel tells apart what must not be compared.
func kindOfLevel(l chemicals.Level) string {
	if _, ok := l.PH(); ok {
		return "pH"
	}
	if _, ok := l.Temperature(); ok {
		return "temperature"
	}
	return string(limitBasis(l))
}

// against puts a single figure beside a limit.
func (f resultFigure) against(l LimitInForce, s chemicals.Sample) ResultAgainst {
	a := ResultAgainst{Limit: l, Verdict: ResultNotCompared, Why: l.Apart}
	if l.Apart != "" {
		return a
	}
	if !f.level.Known() {
		a.Verdict, a.Why = ResultUndetermined, "not detected, and no reporting limit is recorded"
		return a
	}
	found, kind, why := f.on(l.Basis, s)
	if why == "" && kind != kindOfLevel(l.Value) {
		why = fmt.Sprintf("the limit is a %s, and the result is a %s", kindOfLevel(l.Value), kind)
	}
	if why != "" {
		a.Why = why
		return a
	}
	bound, _ := levelNumber(l.Value)
	side := compareFigures(found, bound)
	if limitRules[l.Rule] {
		side = -side
	}
	a.Verdict, a.Why = f.verdict(side, limitRules[l.Rule])
	if a.Verdict == ResultNotOver && l.Rule == chemicals.Instantaneous && s.Type == chemicals.Composite {
		a.Verdict, a.Why = ResultNotCompared, "a composite sample does not show the highest of its hours"
	}
	return a
}

// verdict judges by the side on which the figure lies: over zero is the wrong
// one.
func (f resultFigure) verdict(side int, least bool) (ResultVerdict, string) {
	switch {
	case f.less && least:
		return ResultUndetermined, "less than the reporting limit, and the limit is a minimum"
	case f.less && side > 0:
		return ResultUndetermined, "the reporting limit is over the limit"
	case side > 0:
		return ResultOver, ""
	}
	return ResultNotOver, ""
}

// on is the figure on the basis of a limit, in mg/L, g/h, °C or pH, and what
// kind it is; why says why it cannot be.
func (f resultFigure) on(basis chemicals.Basis, s chemicals.Sample) (is float64, kind, why string) {
	is, _ = levelNumber(f.level)
	kind = kindOfLevel(f.level)
	has := limitBasis(f.level)
	if has == basis || basis == chemicals.NoBasis || has == chemicals.NoBasis {
		return is, kind, ""
	}
	if !s.Flow.Known() {
		return is, kind, fmt.Sprintf("the limit is on %s, the result on %s, and no flow is recorded with the sample", basis, has)
	}
	r, _ := f.level.Release()
	mass := discharge.Mass{Flow: flowOf(s, 0)}
	if c, ok := r.Concentration(); ok && basis == chemicals.ByDay {
		mass.Concentration = working.Given(source.Value[quantity.EffluentConcentration]{Is: c, Origin: source.Measured}, f.level.String())
		if solved, err := mass.Solve(); err == nil {
			return solved.MassRate.Is().GramsPerHour(), string(basis), ""
		}
	}
	if v, ok := r.MassRate(); ok && basis == chemicals.ByConcentration {
		mass.MassRate = working.Given(source.Value[quantity.MassRate]{Is: v, Origin: source.Measured}, f.level.String())
		if solved, err := mass.Solve(); err == nil {
			return solved.Concentration.Is().MilligramsPerLitre(), string(basis), ""
		}
	}
	return is, kind, fmt.Sprintf("the limit is on %s, and the result on %s", basis, has)
}

func flowOf(s chemicals.Sample, entry int64) working.Estimate[quantity.Flow] {
	if !s.Flow.Known() {
		return working.Absent[quantity.Flow]("no flow is recorded with the sample")
	}
	return working.Given(source.Value[quantity.Flow]{Is: s.Flow.Is(), Origin: source.Recorded, Ref: source.Entry(entry)}, s.Flow.String())
}
