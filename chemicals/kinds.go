package chemicals

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"sync"
)

// Kinds are the kinds of record, in the order in which pages and sheets list
// them. A kind that refers to another stands after it. The slice is one for
// all and not to be changed.
func Kinds() []*Kind { return kinds() }

// kinds reads the columns of every kind when the first is asked for.
var kinds = sync.OnceValue(func() []*Kind {
	return []*Kind{
		fact[Firm]("shop", "the shop itself, one row"),
		fact[Location]("location", "places where things stand or are stored"),
		fact[Product]("product", "chemicals as they are bought"),
		list[Content]("product-content", "what a product is made of, by mass, one row a constituent"),
		list[DeclaredHazard]("product-hazard", "hazard classes that the supplier's sheet declares"),
		fact[Stock]("stock", "containers counted at a place on a day"),
		event[Receipt]("receipt", "deliveries"),
		fact[Tank]("tank", "tanks of the line, rinses included"),
		list[Ingredient]("bath", "what a tank is made up with, one row an ingredient"),
		lasting(event[Analysis]("analysis", "laboratory results on baths and rinses")),
		event[Addition]("addition", "products put into tanks"),
		fact[Rinse]("rinse", "how each rinse is set up and fed"),
		list[CycleStep]("cycle", "the way of the work through the tanks, one row a step"),
		event[Work]("work", "work done: loads and area through a cycle"),
		fact[DragOut]("film", "drag-out measured on a tank"),
		event[Charged]("charge", "ampere-hours passed in a tank"),
		event[Dump]("dump", "solution taken from a tank and where it went"),
		lasting(event[LevelRead]("level", "volume found in a hold tank")),
		fact[Meter]("meter", "water meters and what they serve"),
		event[MeterRead]("water", "readings of water meters"),
		fact[Point]("point", "points where waste water leaves the shop"),
		fact[OtherWater]("other-water", "water to a point that no rinse sends"),
		fact[Removal]("removal", "what the shop's own treatment takes out or leaves"),
		fact[LimitSet]("limit", "limits of permits and local rules"),
		fact[Monitoring]("monitoring", "samples that a permit asks for"),
		lasting(event[Sample]("sample", "laboratory results on waste water, one row a pollutant")),
		lasting(event[Incident]("incident", "spills, releases and upsets")),
		lasting(event[Told]("notice", "notices given to an authority")),
		fact[WasteStream]("stream", "waste streams that are hauled"),
		event[WasteMove]("waste", "what happened to containers of waste"),
		lasting(event[MetalAssay]("assay", "metal content of a waste stream")),
		fact[PriceOf]("price", "what water, sewer, hauling, reagents and metals cost"),
		fact[Answer]("answer", "facts that a rule turns on and no other kind shows"),
		fact[Person]("person", "people who work here"),
		lasting(event[Training]("training", "who was trained in what")),
		event[Check]("check", "walks, readings and tests"),
		fact[Paper]("paper", "permits, plans and certificates held"),
		event[Issued]("issued", "reports handed out"),
	}
})

// Nature tells how a kind holds in time.
type Nature int

// The natures.
const (
	Fact  Nature = iota + 1 // holds from a day until a day
	List                    // a fact of several rows; rows with a new first day end all former rows of their name
	Event                   // happens on a day and adds up
)

func (n Nature) String() string {
	return [...]string{Fact: "fact", List: "list", Event: "event"}[n]
}

// The columns that every kind of a nature has beside its own.
const (
	FromColumn  = "from"  // first day of a fact; empty: the shop's first day
	UntilColumn = "until" // last day of a fact; empty: still so
	DateColumn  = "date"  // day of an event
	EntryColumn = "entry" // number in the book, in sheets only
)

// Kind is one kind of record.
type Kind struct {
	Name    string
	Help    string
	Nature  Nature
	Lasting bool     // an event of which the last one counts, however long ago it was
	Columns []Column // its own, then those of its nature

	row     reflect.Type
	collect func([]Record) (any, error)
}

// Column is one column of a kind.
type Column struct {
	Name    string
	Help    string
	Key     bool
	Must    bool     // a row without it is refused; so is every key column
	Of      string   // the kind whose names it takes, if any
	Example string   // a text that it reads
	Words   []string // the words it takes, if they are a closed list
	Units   []string // the units it takes, if it is a quantity

	index int // field of the row; -1 for a column of the nature
	form  form
}

func fact[T any](name, help string) *Kind  { return kind[T](name, help, Fact, heldRows[T]) }
func list[T any](name, help string) *Kind  { return kind[T](name, help, List, heldRows[T]) }
func event[T any](name, help string) *Kind { return kind[T](name, help, Event, eventRows[T]) }

func lasting(k *Kind) *Kind {
	k.Lasting = true
	return k
}

func kind[T any](name, help string, nature Nature, collect func(*Kind, []Record) (any, error)) *Kind {
	row := reflect.TypeFor[T]()
	k := &Kind{Name: name, Help: help, Nature: nature, row: row}
	for i := range row.NumField() {
		k.Columns = append(k.Columns, column(row.Field(i), i))
	}
	if nature == Event {
		k.Columns = append([]Column{dayColumn(DateColumn, "the day it happened", true)}, k.Columns...)
	} else {
		k.Columns = append(k.Columns, dayColumn(FromColumn, "first day it holds; empty: the shop's first day", false),
			dayColumn(UntilColumn, "last day it holds; empty: still so", false))
	}
	k.collect = func(records []Record) (any, error) { return collect(k, records) }
	return k
}

func column(field reflect.StructField, index int) Column {
	name, ok := field.Tag.Lookup("column")
	if !ok {
		panic("chemicals: field " + field.Name + " names no column")
	}
	_, key := field.Tag.Lookup("key")
	_, must := field.Tag.Lookup("must")
	c := Column{Name: name, Help: field.Tag.Get("help"), Key: key, Must: must || key, Of: field.Tag.Get("of"), index: index}
	return c.shaped(formOf(field.Type))
}

func dayColumn(name, help string, must bool) Column {
	c := Column{Name: name, Help: help, Must: must, index: -1}
	return c.shaped(formOf(reflect.TypeFor[Day]()))
}

func (c Column) shaped(f form) Column {
	c.form, c.Example, c.Words, c.Units = f, f.example, f.words, f.units
	return c
}

// KindOf finds a kind by its name. The error names the nearest.
func KindOf(name string) (*Kind, error) {
	var all []string
	for _, k := range Kinds() {
		if k.Name == name {
			return k, nil
		}
		all = append(all, k.Name)
	}
	mend := "known are: " + strings.Join(all, ", ")
	if near := Closest(name, all); len(near) > 0 {
		mend = "did you mean " + strings.Join(near, " or ") + "?"
	}
	return nil, &Problem{What: fmt.Sprintf("%q is not a kind of record", name), Mend: mend}
}

// Column finds a column by its words; case, blanks, hyphens and underscores do
// not count.
func (k *Kind) Column(name string) (*Column, bool) {
	want := loose(name)
	for i := range k.Columns {
		if loose(k.Columns[i].Name) == want {
			return &k.Columns[i], true
		}
	}
	return nil, false
}

func loose(name string) string {
	return strings.ToLower(strings.NewReplacer(" ", "", "-", "", "_", "", "\u00a0", "").Replace(name))
}

// Keys are the key columns, in order.
func (k *Kind) Keys() []*Column {
	var keys []*Column
	for i := range k.Columns {
		if k.Columns[i].Key {
			keys = append(keys, &k.Columns[i])
		}
	}
	return keys
}

// Body is a row as text: what was typed under each column; columns without a
// value are absent.
type Body map[string]string

// Check reads every value of a body and gives it tidied, in the one text form
// of its column. It reports all faults at once, each a *Problem whose Where is
// the column's words.
func (k *Kind) Check(body Body) (Body, error) {
	tidy := Body{}
	var faults []error
	for i := range k.Columns {
		c := &k.Columns[i]
		text, err := c.form.tidy(body[c.Name])
		switch {
		case err != nil:
			faults = append(faults, At(c.Name, err))
		case text != "":
			tidy[c.Name] = text
		case c.Must:
			faults = append(faults, &Problem{Where: c.Name, What: "no value is given for " + c.Name, Mend: fmt.Sprintf("give one, such as %q", c.Example)})
		}
	}
	if from, until := tidy[FromColumn], tidy[UntilColumn]; from != "" && until != "" && until < from {
		faults = append(faults, &Problem{Where: UntilColumn, What: fmt.Sprintf("it ends on %s, before it begins on %s", until, from), Mend: "mend one of the two days"})
	}
	if len(faults) == 0 {
		faults = append(faults, k.together(tidy))
	}
	return tidy, errors.Join(faults...)
}

// checked is a row whose values must also go together. Its fault is a *Problem
// whose Where is the column's words.
type checked interface{ check() error }

// together checks the values of a body, each of which can be read, against one
// another.
func (k *Kind) together(tidy Body) error {
	row := reflect.New(k.row).Interface()
	one, ok := row.(checked)
	if !ok {
		return nil
	}
	if err := k.fill(row, Record{Kind: k, Body: tidy}); err != nil {
		panic("chemicals: a checked value cannot be read: " + err.Error())
	}
	return one.check()
}

// Key is the key of a checked body in the form in which keys are compared, its
// parts joined by tabs; empty for an event.
func (k *Kind) Key(body Body) string {
	var parts []string
	for _, c := range k.Keys() {
		parts = append(parts, c.Meaning(body[c.Name]))
	}
	return strings.Join(parts, "\t")
}

// Group is the part of the key whose rows end one another in a List: the first
// key column.
func (k *Kind) Group(body Body) string {
	return k.Keys()[0].Meaning(body[k.Keys()[0].Name])
}

// Day is the day of a checked event, or the first day of a fact.
func (k *Kind) Day(body Body) Day {
	if k.Nature == Event {
		return Day(body[DateColumn])
	}
	return Day(body[FromColumn])
}

// Meaning is the same text for every way to write the same value. It panics on
// a value that Check would refuse.
func (c *Column) Meaning(text string) string {
	meaning, err := c.form.meaning(text)
	if err != nil {
		panic("chemicals: unchecked value: " + err.Error())
	}
	return meaning
}

// Same reports whether two checked bodies mean the same.
func (k *Kind) Same(a, b Body) bool {
	for i := range k.Columns {
		c := &k.Columns[i]
		if a[c.Name] != b[c.Name] && c.Meaning(a[c.Name]) != c.Meaning(b[c.Name]) {
			return false
		}
	}
	return true
}

// Flag is the column's name as a command-line flag.
func (c *Column) Flag() string { return strings.ToLower(strings.ReplaceAll(c.Name, " ", "-")) }
