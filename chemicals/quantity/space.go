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
