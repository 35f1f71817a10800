package quantity

// Length is a length or a thickness.
type Length float64

// The units.
const (
	Metre      Length = 1
	Centimetre        = Metre / 100
	Millimetre        = Metre / 1000
	Micrometre        = Metre / 1e6
	Inch              = 0.0254 * Metre
	Foot              = 12 * Inch
	Mil               = Inch / 1000
	Microinch         = Inch / 1e6
)

// Metres reads l in metres.
func (l Length) Metres() float64 { return float64(l / Metre) }

// Micrometres reads l in micrometres.
func (l Length) Micrometres() float64 { return float64(l / Micrometre) }

func (Length) things() []*thing      { return []*thing{&length} }
func (Length) wrap(m measure) Length { return Length(m.base) }
func (l Length) measure() measure    { return measure{thing: &length, base: float64(l)} }

// Area is a surface.
type Area float64

// The units.
const (
	SquareMetre      Area = 1
	SquareDecimetre       = SquareMetre / 100
	SquareCentimetre      = SquareMetre / 10000
	SquareFoot            = 0.09290304 * SquareMetre
)

// SquareMetres reads a in square metres.
func (a Area) SquareMetres() float64 { return float64(a / SquareMetre) }

// SquareFeet reads a in square feet.
func (a Area) SquareFeet() float64 { return float64(a / SquareFoot) }

func (Area) things() []*thing    { return []*thing{&area} }
func (Area) wrap(m measure) Area { return Area(m.base) }
func (a Area) measure() measure  { return measure{thing: &area, base: float64(a)} }

// Duration is a span of time; a day is 24 hours.
type Duration float64

// The units.
const (
	Hour   Duration = 1
	Minute          = Hour / 60
	Second          = Hour / 3600
	Day             = 24 * Hour
)

// Hours reads d in hours.
func (d Duration) Hours() float64 { return float64(d / Hour) }

// Minutes reads d in minutes.
func (d Duration) Minutes() float64 { return float64(d / Minute) }

// Seconds reads d in seconds.
func (d Duration) Seconds() float64 { return float64(d / Second) }

func (Duration) things() []*thing        { return []*thing{&duration} }
func (Duration) wrap(m measure) Duration { return Duration(m.base) }
func (d Duration) measure() measure      { return measure{thing: &duration, base: float64(d)} }

// Speed is the speed of air or of a rack being withdrawn.
type Speed float64

// The units.
const (
	MetrePerSecond      Speed = 1
	CentimetrePerSecond       = MetrePerSecond / 100
	FootPerMinute             = 0.3048 * MetrePerSecond / 60
)

// MetresPerSecond reads s in m/s.
func (s Speed) MetresPerSecond() float64 { return float64(s / MetrePerSecond) }

func (Speed) things() []*thing     { return []*thing{&speed} }
func (Speed) wrap(m measure) Speed { return Speed(m.base) }
func (s Speed) measure() measure   { return measure{thing: &speed, base: float64(s)} }

var (
	length = thing{
		name: "a length", example: "1.2 m", metric: "m", us: "ft", most: 1e4, dimension: lengthOf, si: 1,
		units: []unit{
			{symbol: "m", factor: float64(Metre)},
			{symbol: "µm", factor: float64(Micrometre), also: []string{"micron", "microns"}},
			{symbol: "mil", factor: float64(Mil), also: []string{"mils"}},
			{symbol: "µin", factor: float64(Microinch)},
			{symbol: "mm", factor: float64(Millimetre)},
			{symbol: "cm", factor: float64(Centimetre)},
			{symbol: "in", factor: float64(Inch)},
			{symbol: "ft", factor: float64(Foot)},
		},
	}
	area = thing{
		name: "an area", example: "14 m²", metric: "m²", us: "ft²", most: 1e8, dimension: areaOf, si: 1,
		units: []unit{
			{symbol: "m²", factor: float64(SquareMetre)},
			{symbol: "cm²", factor: float64(SquareCentimetre)},
			{symbol: "dm²", factor: float64(SquareDecimetre)},
			{symbol: "ft²", factor: float64(SquareFoot), also: []string{"sq ft"}},
		},
	}
	duration = thing{
		name: "a time", example: "8 h", metric: "h", us: "h", most: 1e6, dimension: timeOf, si: 1. / 3600,
		units: []unit{
			{symbol: "h", factor: float64(Hour), also: []string{"hr", "hour", "hours"}},
			{symbol: "s", factor: float64(Second), also: []string{"sec"}},
			{symbol: "min", factor: float64(Minute)},
			{symbol: "day", factor: float64(Day), also: []string{"d", "days"}},
		},
	}
	speed = thing{
		name: "a speed", example: "0.5 m/s", metric: "m/s", us: "ft/min", most: 100, dimension: speedOf, si: 1,
		units: []unit{
			{symbol: "m/s", factor: float64(MetrePerSecond)},
			{symbol: "ft/min", factor: float64(FootPerMinute), also: []string{"fpm"}},
			{symbol: "cm/s", factor: float64(CentimetrePerSecond)},
		},
	}
)
