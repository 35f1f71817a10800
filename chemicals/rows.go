package chemicals

import "bathwarden/chemicals/quantity"

// Firm is the shop itself, one row.
type Firm struct {
	Name              Text                               `column:"name" must:"" help:"as it stands on letters"`
	Address           Text                               `column:"address" help:"where it is"`
	Contact           Text                               `column:"contact" help:"who answers questions, and how"`
	EmergencyPhone    Text                               `column:"emergency phone" help:"answered at all hours"`
	ControlAuthority  Text                               `column:"control authority" help:"who issues the sewer permit"`
	FirstDay          Day                                `column:"first day" help:"the day from which facts without a first day hold"`
	TimeZone          Zone                               `column:"time zone" help:"for the day of today"`
	Currency          Currency                           `column:"currency" help:"of prices"`
	ConstructionStart Day                                `column:"construction start" help:"when construction of the source began"`
	JobShop           YesNo                              `column:"job shop" help:"owns at most half of what it finishes, by area and year"`
	HoursPerDay       quantity.Stated[quantity.Duration] `column:"hours per day" help:"of work"`
	DaysPerYear       Count                              `column:"days per year" help:"of work"`
	RoomVolume        quantity.Stated[quantity.Volume]   `column:"room volume" help:"of the plating room"`
	RoomAirflow       quantity.Stated[quantity.Airflow]  `column:"room airflow" help:"fresh air into the plating room"`
	Regime            Regime                             `column:"regime" help:"whose rules apply"`
	Employees         Count                              `column:"employees" help:"people on the payroll"`
}

func (f *Firm) check() error { return hoursOfDay("hours per day", f.HoursPerDay) }

// Location is a place where things are stored or stand.
type Location struct {
	Name              Name                             `column:"location" key:"" help:"short name"`
	Title             Text                             `column:"title" help:"name in words, for pages"`
	Description       Text                             `column:"description" help:"where it is, how it is built"`
	ContainmentVolume quantity.Stated[quantity.Volume] `column:"containment volume" help:"what a dike or pallet would hold back"`
	FloorDrain        Text                             `column:"floor drain" help:"where a floor drain leads, or none"`
	Ventilated        YesNo                            `column:"ventilated" help:"by a fan or to the outside"`
	ControlArea       Name                             `column:"control area" help:"of the fire code"`
	Cabinet           YesNo                            `column:"cabinet" help:"an approved storage cabinet"`
	Sprinklered       YesNo                            `column:"sprinklered" help:"under automatic sprinklers"`
}

// Product is what the shop buys: a chemical by its trade description.
type Product struct {
	Name       Name                              `column:"product" key:"" help:"short name"`
	Title      Text                              `column:"title" help:"name in words, for pages"`
	Supplier   Text                              `column:"supplier" help:"who sells it"`
	Form       Form                              `column:"form" help:"as it is bought"`
	Density    quantity.Stated[quantity.Density] `column:"density" help:"from the safety data sheet"`
	PH         PH                                `column:"pH" help:"as supplied, from the safety data sheet"`
	SheetDate  Day                               `column:"sheet date" help:"of the safety data sheet"`
	SheetPlace Text                              `column:"sheet place" help:"where the sheet is kept"`
	Use        Text                              `column:"use" help:"what it is for"`
}

// Content is one constituent of a product.
type Content struct {
	Product   Name                                `column:"product" key:"" of:"product" help:"the product"`
	Substance Name                                `column:"substance" key:"" help:"published name, synonym or CAS number"`
	Low       quantity.Stated[quantity.MassShare] `column:"low" help:"least share by mass"`
	High      quantity.Stated[quantity.MassShare] `column:"high" must:"" help:"largest share by mass"`
}

// DeclaredHazard is one hazard class that the supplier's sheet declares.
type DeclaredHazard struct {
	Product  Name `column:"product" key:"" of:"product" help:"the product"`
	Class    Name `column:"class" key:"" help:"as abbreviated in CLP Annex VI, without its category: Skin Corr."`
	Category Name `column:"category" help:"1B"`
}

// Stock is a count of containers at a place; its first day is the day counted.
type Stock struct {
	Product       Name                             `column:"product" key:"" of:"product" help:"the product"`
	Location      Name                             `column:"location" key:"" of:"location" help:"where it stands"`
	ContainerSize quantity.Stated[quantity.Amount] `column:"container size" key:"" help:"mass or volume of a full one"`
	Containers    Count                            `column:"containers" must:"" help:"how many"`
}

// Receipt is a delivery.
type Receipt struct {
	Product       Name                             `column:"product" of:"product" must:"" help:"the product"`
	ContainerSize quantity.Stated[quantity.Amount] `column:"container size" must:"" help:"mass or volume of a full one"`
	Containers    Count                            `column:"containers" must:"" help:"how many"`
	Lot           Text                             `column:"lot" help:"number on the label"`
	Cost          quantity.Stated[quantity.Money]  `column:"cost" help:"of the whole delivery"`
}

// Tank is a tank of the line, rinses included.
type Tank struct {
	Name              Name                                  `column:"tank" key:"" help:"short name"`
	Title             Text                                  `column:"title" help:"name in words, for pages"`
	Line              Name                                  `column:"line" help:"which line it stands in"`
	Position          Count                                 `column:"position" help:"its place in the line"`
	Purpose           Purpose                               `column:"purpose" must:"" help:"what it does"`
	Length            quantity.Stated[quantity.Length]      `column:"length" help:"inside"`
	Width             quantity.Stated[quantity.Length]      `column:"width" help:"inside, front to back"`
	Diameter          quantity.Stated[quantity.Length]      `column:"diameter" help:"inside, of a round tank"`
	WorkingVolume     quantity.Stated[quantity.Volume]      `column:"working volume" help:"of solution at its working level"`
	Temperature       quantity.Stated[quantity.Temperature] `column:"temperature" help:"it is run at"`
	HeatedHours       quantity.Stated[quantity.Duration]    `column:"heated hours" help:"on a working day"`
	PH                PH                                    `column:"pH" help:"it is run at"`
	Density           quantity.Stated[quantity.Density]     `column:"density" help:"of the solution"`
	Viscosity         quantity.Stated[quantity.Viscosity]   `column:"viscosity" help:"of the solution"`
	Agitation         Agitation                             `column:"agitation" help:"how the solution is moved"`
	Current           quantity.Stated[quantity.Current]     `column:"current" help:"usual, while work is in"`
	Plates            Name                                  `column:"plates" help:"the metal, by its symbol"`
	Valence           Count                                 `column:"valence" help:"of the metal in the bath"`
	CathodeEfficiency Share                                 `column:"cathode efficiency" help:"share of the current that plates"`
	Hood              Hood                                  `column:"hood" help:"of the exhaust"`
	Cover             Text                                  `column:"cover" help:"lid, floating balls or none"`
	Suppressant       Text                                  `column:"suppressant" help:"fume suppressant, or none"`
	ExhaustSystem     Name                                  `column:"exhaust system" help:"which fan it hangs on"`
	Location          Name                                  `column:"location" of:"location" help:"where it stands"`
	DrainsTo          Name                                  `column:"drains to" help:"a tank, a point of discharge, or haul"`
}

func (t *Tank) check() error { return hoursOfDay("heated hours", t.HeatedHours) }

// Ingredient is one line of a bath's make-up.
type Ingredient struct {
	Tank          Name                                        `column:"tank" key:"" of:"tank" help:"the tank"`
	Ingredient    Name                                        `column:"ingredient" key:"" help:"a product, a substance, or an element or ion as such"`
	Concentration quantity.Stated[quantity.BathConcentration] `column:"concentration" must:"" help:"as made up"`
	Leaves        Leaves                                      `column:"leaves" help:"how it leaves the bath"`
}

// Analysis is a laboratory result on a bath or rinse.
type Analysis struct {
	Tank          Name                                        `column:"tank" of:"tank" must:"" help:"the tank"`
	Ingredient    Name                                        `column:"ingredient" must:"" help:"a product, a substance, or an element or ion as such"`
	Concentration quantity.Stated[quantity.BathConcentration] `column:"concentration" must:"" help:"as found"`
}

// Addition is a product put into a tank.
type Addition struct {
	Tank    Name                             `column:"tank" of:"tank" must:"" help:"the tank"`
	Product Name                             `column:"product" of:"product" must:"" help:"the product"`
	Amount  quantity.Stated[quantity.Amount] `column:"amount" must:"" help:"mass or volume"`
}

// Person is somebody who works in the shop.
type Person struct {
	Name     Name   `column:"person" key:"" help:"name"`
	Job      Text   `column:"job" help:"what they do"`
	Roles    []Name `column:"role" help:"such as signs, emergency coordinator; several parted by ;"`
	Since    Day    `column:"since" help:"first day of work"`
	Language Text   `column:"language" help:"in which they are best told"`
}

// Training is one person's instruction in one topic.
type Training struct {
	Person   Name `column:"person" of:"person" must:"" help:"who was trained"`
	Topic    Text `column:"topic" must:"" help:"in what"`
	Trainer  Text `column:"trainer" help:"by whom"`
	Language Text `column:"language" help:"in which language"`
	Duty     Name `column:"duty" help:"the duty it answers"`
}

// Check is a look at something: a reading, a walk, a test of an alarm.
type Check struct {
	Item    Text `column:"item" must:"" help:"what was looked at"`
	Place   Text `column:"place" help:"where"`
	Reading Text `column:"reading" help:"what an instrument showed"`
	Result  Text `column:"result" help:"what was found"`
	By      Text `column:"by" help:"who looked"`
	Duty    Name `column:"duty" help:"the duty it answers"`
	Note    Text `column:"note" help:"anything more"`
}

// Paper is a document that the shop holds.
type Paper struct {
	Name    Name `column:"paper" key:"" help:"short name"`
	Title   Text `column:"title" help:"name in words, for pages"`
	Sort    Sort `column:"sort" help:"what sort of paper"`
	Issued  Day  `column:"issued" help:"day of issue"`
	Expires Day  `column:"expires" help:"last day it holds"`
	Place   Text `column:"place" help:"where it is kept"`
	Duty    Name `column:"duty" help:"the duty it answers"`
}

// Issued is a report that was printed and handed out.
type Issued struct {
	Report   Name  `column:"report" must:"" help:"which report"`
	AsOf     Day   `column:"as of" must:"" help:"the day it speaks of"`
	Period   Text  `column:"period" help:"the days it covers"`
	KnownBy  Count `column:"known by" help:"number of the last entry it could see"`
	Language Name  `column:"language" help:"it is written in"`
	Page     Name  `column:"page size" help:"of the PDF"`
	FileHash Text  `column:"file hash" must:"" help:"SHA-256 of the file"`
	To       Text  `column:"to" help:"who received it"`
}
