package chemicals

import (
	"fmt"

	"bathwarden/chemicals/quantity"
)

// dayHours are the hours of a day: none of what runs on a working day runs for
// more.
const dayHours = 24

// hoursOfDay refuses more hours than a day has.
func hoursOfDay(column string, hours quantity.Stated[quantity.Duration]) error {
	if hours.Is().Hours() <= dayHours {
		return nil
	}
	return &Problem{
		Where: column, What: fmt.Sprintf("%q is more than the %d hours of a day", hours, dayHours),
		Mend: "write the hours of one working day, such as \"8 h\"",
	}
}

// mostArea guards against a wrong unit: no job shop finishes more on a day.
// Common practice, no source.
const mostArea = 100_000 * quantity.SquareMetre

// areaOfDay refuses an area of work that no shop finishes on a day.
func areaOfDay(column string, area quantity.Stated[quantity.Area]) error {
	if area.Is() <= mostArea {
		return nil
	}
	return &Problem{
		Where: column, What: fmt.Sprintf("%q is more than %s, which no job shop finishes on a day", area, quantity.Print(mostArea, "m²", 6)),
		Mend: "look at the number and its unit: dm², ft² or in² may be meant",
	}
}
