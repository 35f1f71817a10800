package chemicals

import "bathwarden/chemicals/quantity"

// Haul and the words below are what a flow can lead to beside tanks and
// points, and come from beside tanks.
const (
	Haul      Name = "haul"      // kept for a hauler
	Mains     Name = "mains"     // town water
	Deionised Name = "deionised" // from the shop's own plant
)

// Rinse is how a rinse tank is set up and fed.
type Rinse struct {
	Tank        Name                               `column:"tank" key:"" of:"tank" help:"the rinse tank"`
	Arrangement Arrangement                        `column:"arrangement" must:"" help:"how it is set up; a counterflow is running rinses, each fed from the next"`
	FedFrom     Name                               `column:"fed from" help:"mains, deionised, or the tank whose water it gets"`
	Flow        quantity.Stated[quantity.Flow]     `column:"flow" help:"of fresh water, written once, where it enters"`
	Hours       quantity.Stated[quantity.Duration] `column:"hours" help:"that the water runs on a working day; empty: the shop's hours"`
	Mixing      Share                              `column:"mixing" help:"how well it mixes; empty: taken as fully mixed"`
	Wanted      Wanted                             `column:"wanted" help:"a ratio, or a concentration of a metal in the last stage"`
}

func (r *Rinse) check() error { return hoursOfDay("hours", r.Hours) }

// CycleStep is one step of the work's way through the tanks. A tank that
// stands twice is dipped into before and after.
type CycleStep struct {
	Cycle      Name                               `column:"cycle" key:"" help:"short name of the way"`
	Step       Count                              `column:"step" key:"" help:"1 for the first"`
	Tank       Name                               `column:"tank" of:"tank" must:"" help:"the tank"`
	Dwell      quantity.Stated[quantity.Duration] `column:"dwell" help:"time in the tank"`
	Drip       quantity.Stated[quantity.Duration] `column:"drip" help:"time over it"`
	Withdrawal quantity.Stated[quantity.Speed]    `column:"withdrawal" help:"speed out of the tank"`
}

// Work is work that went through a cycle on a day.
type Work struct {
	Cycle    Name                           `column:"cycle" of:"cycle" must:"" help:"the way it took"`
	Area     quantity.Stated[quantity.Area] `column:"area" help:"of all loads together, wetted"`
	Loads    Count                          `column:"loads" help:"racks or barrels"`
	Drainage Drainage                       `column:"drainage" help:"how the work hangs and drains"`
	Start    Clock                          `column:"start" help:"of the first load"`
	End      Clock                          `column:"end" help:"of the last load"`
	By       Text                           `column:"by" help:"who ran it"`
}

func (w *Work) check() error { return areaOfDay("area", w.Area) }

// DragOut is a drag-out measured on a tank.
type DragOut struct {
	Tank     Name                                 `column:"tank" key:"" of:"tank" help:"the tank it leaves"`
	Drainage Drainage                             `column:"drainage" key:"" help:"of the work"`
	PerArea  quantity.Stated[quantity.Film]       `column:"per area" help:"volume on each area of the work"`
	PerLoad  quantity.Stated[quantity.LoadVolume] `column:"per load" help:"volume with each load"`
	How      Text                                 `column:"how" help:"it was measured"`
}

// Charged is the charge passed in a tank on a day.
type Charged struct {
	Tank   Name                             `column:"tank" of:"tank" must:"" help:"the tank"`
	Charge quantity.Stated[quantity.Charge] `column:"charge" must:"" help:"by the ampere-hour meter"`
}

// Dump is solution taken from a tank.
type Dump struct {
	Tank   Name                             `column:"tank" of:"tank" must:"" help:"it was taken from"`
	Volume quantity.Stated[quantity.Volume] `column:"volume" must:"" help:"taken"`
	To     Name                             `column:"to" help:"a tank, a point, or haul; empty: where the tank drains to"`
}

// LevelRead is the volume found in a hold tank.
type LevelRead struct {
	Tank   Name                             `column:"tank" of:"tank" must:"" help:"the tank"`
	Volume quantity.Stated[quantity.Volume] `column:"volume" must:"" help:"found in it"`
}

// Meter is a water meter.
type Meter struct {
	Name   Name                             `column:"meter" key:"" help:"short name"`
	Serves Name                             `column:"serves" help:"shop, a line, a tank or a point"`
	Unit   quantity.Stated[quantity.Volume] `column:"unit" must:"" help:"what one count of its dial is"`
}

// MeterRead is a reading of a water meter.
type MeterRead struct {
	Meter   Name   `column:"meter" of:"meter" must:"" help:"the meter"`
	Reading Number `column:"reading" must:"" help:"the running total on its dial"`
}

// Point is where waste water leaves the shop.
type Point struct {
	Name        Name      `column:"point" key:"" help:"short name"`
	Title       Text      `column:"title" help:"name in words, for pages"`
	Description Text      `column:"description" help:"where it is, how a sample is taken"`
	Body        WaterBody `column:"body" must:"" help:"what takes the water"`
}

// OtherWater is water to a point that no rinse sends.
type OtherWater struct {
	Name  Name                               `column:"name" key:"" help:"short name"`
	Title Text                               `column:"title" help:"name in words, for pages"`
	Point Name                               `column:"point" of:"point" must:"" help:"where it leaves"`
	Kind  WaterSort                          `column:"kind" must:"" help:"as 40 CFR 403.6(e) sorts it"`
	Joins Joining                            `column:"joins" help:"where it meets the rinse water"`
	Flow  quantity.Stated[quantity.Flow]     `column:"flow" must:"" help:"while it runs"`
	Hours quantity.Stated[quantity.Duration] `column:"hours" help:"on a working day; empty: the flow is a day's mean"`
}

func (o *OtherWater) check() error { return hoursOfDay("hours", o.Hours) }

// Removal is what the shop's own treatment takes out of what flows into it.
type Removal struct {
	Tank      Name                                            `column:"tank" key:"" of:"tank" help:"the treatment tank"`
	Pollutant Name                                            `column:"pollutant" key:"" help:"such as Ni, CN total"`
	Removal   Share                                           `column:"removal" help:"share that it takes out"`
	Leaves    quantity.Stated[quantity.EffluentConcentration] `column:"leaves" help:"or the concentration that it leaves"`
	How       Text                                            `column:"how" help:"it is known"`
}

// LimitSet is a limit of a permit or a local rule.
type LimitSet struct {
	Point     Name  `column:"point" key:"" of:"point" help:"where it binds"`
	Pollutant Name  `column:"pollutant" key:"" help:"such as Ni, CN total, pH"`
	Rule      Rule  `column:"rule" key:"" help:"what it binds"`
	Basis     Basis `column:"basis" key:"" help:"of the value; none for pH and temperature"`
	Document  Name  `column:"document" key:"" help:"which paper sets it"`
	Value     Level `column:"value" must:"" help:"with its unit; a pH stands bare"`
}

func (l *LimitSet) check() error { return l.Value.fits("value", l.Pollutant) }

// Monitoring is a sample that a permit asks for.
type Monitoring struct {
	Point     Name       `column:"point" key:"" of:"point" help:"where"`
	Pollutant Name       `column:"pollutant" key:"" help:"such as Ni, CN total, pH"`
	Type      SampleType `column:"sample type" help:"how it is to be taken"`
	Every     Every      `column:"every" must:"" help:"one in each"`
	Document  Name       `column:"document" help:"which paper asks for it"`
}

// Sample is one result on a sample of waste water; several pollutants of one
// sample are several rows.
type Sample struct {
	Name           Name                                            `column:"sample" must:"" help:"number of the sample"`
	Time           Clock                                           `column:"time" help:"it was taken, or the composite ended"`
	Point          Name                                            `column:"point" of:"point" must:"" help:"where"`
	Pollutant      Name                                            `column:"pollutant" must:"" help:"such as Ni, CN total, pH"`
	Result         Finding                                         `column:"result" must:"" help:"with its unit; <0.05 mg/L, ND; a pH stands bare"`
	ReportingLimit quantity.Stated[quantity.EffluentConcentration] `column:"reporting limit" help:"of the laboratory"`
	DetectionLimit quantity.Stated[quantity.EffluentConcentration] `column:"detection limit" help:"of the method"`
	Type           SampleType                                      `column:"type" help:"how it was taken"`
	By             Sampler                                         `column:"by" help:"on whose behalf; empty: the shop's"`
	Sampler        Text                                            `column:"sampler" help:"who took it"`
	Method         Text                                            `column:"method" help:"of analysis"`
	Laboratory     Text                                            `column:"laboratory" help:"who analysed it"`
	Analysed       Day                                             `column:"analysed" help:"day of analysis"`
	Analyst        Text                                            `column:"analyst" help:"who did it"`
	Received       Moment                                          `column:"received" help:"when the shop had the result"`
	Flow           quantity.Stated[quantity.Flow]                  `column:"flow" help:"at the point on that day"`
}

func (s *Sample) check() error { return s.Result.fits("result", s.Pollutant) }

// Incident is a spill, a release or an upset.
type Incident struct {
	Name     Name                             `column:"incident" must:"" help:"its number"`
	Time     Clock                            `column:"time" help:"it was seen"`
	Location Name                             `column:"location" help:"where"`
	What     Text                             `column:"what" must:"" help:"happened"`
	Amount   quantity.Stated[quantity.Amount] `column:"amount" help:"that left its place"`
	Went     Text                             `column:"where it went" help:"floor, drain, outside"`
}

// Told is a notice given to an authority.
type Told struct {
	Time  Clock `column:"time" help:"it was given"`
	To    Text  `column:"to" must:"" help:"whom"`
	About Name  `column:"about" must:"" help:"a sample, an incident, a paper, or entry N"`
	How   Text  `column:"how" help:"by telephone, by letter"`
	Duty  Name  `column:"duty" help:"the duty it answers"`
}

// WasteStream is a waste that is hauled.
type WasteStream struct {
	Name     Name   `column:"stream" key:"" help:"short name"`
	Title    Text   `column:"title" help:"name in words, for pages"`
	Codes    []Name `column:"codes" help:"waste codes, parted by ;"`
	Location Name   `column:"location" of:"location" help:"where it is kept"`
	Acute    YesNo  `column:"acute" help:"acute hazardous waste"`
}

// WasteMove is what happened to a container of waste.
type WasteMove struct {
	Stream    Name                             `column:"stream" of:"stream" must:"" help:"the waste"`
	Event     WasteEvent                       `column:"event" must:"" help:"what happened"`
	Amount    quantity.Stated[quantity.Amount] `column:"amount" help:"added or shipped"`
	Container Text                             `column:"container" help:"its number"`
	Location  Name                             `column:"location" of:"location" help:"where it was moved to"`
	Manifest  Text                             `column:"manifest" help:"number of the manifest"`
	Receiver  Text                             `column:"receiver" help:"who took it"`
}

// MetalAssay is the metal content of a waste stream.
type MetalAssay struct {
	Stream  Name                            `column:"stream" of:"stream" must:"" help:"the waste"`
	Metal   Name                            `column:"metal" must:"" help:"by its symbol"`
	Content quantity.Stated[quantity.Assay] `column:"content" must:"" help:"in it"`
}

// PriceOf is what something costs.
type PriceOf struct {
	Item   Name                            `column:"item" key:"" help:"water, sewer, haul, a reagent, or a metal's symbol"`
	Amount quantity.Stated[quantity.Price] `column:"amount" must:"" help:"by volume or by mass"`
}

// Answer is a fact that a rule turns on and no other kind shows.
type Answer struct {
	Question Name `column:"question" key:"" help:"short name of what is asked"`
	Answer   Text `column:"answer" must:"" help:"yes, no, or words"`
	Note     Text `column:"note" help:"how it is known"`
}
