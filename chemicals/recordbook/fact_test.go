package recordbook

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

func TestAFactIsAddedOnceAndStandsSinceTheFirstDay(t *testing.T) {
	s := newStory(t)
	assert.Equal(t, []string{"added #1: tank B5", "added #2: tank R1"}, s.load(twoTanks))
	assert.Equal(t, []string{"unchanged #1: tank B5", "unchanged #2: tank R1"}, s.load(twoTanks))
	assert.Equal(t, []string{"#1 B5, 55 °C [..]"}, s.on("tank", "1950-01-01", "temperature")[:1])
	assert.EqualValues(t, 2, s.count())

	s.load("shop\nname|first day\nFernhollow Finishing|2025-03-01")
	assert.Empty(t, s.on("tank", "2025-02-28"), "the shop's first day begins what has none")
	assert.Equal(t, []string{"#1 B5 [2025-03-01..]", "#2 R1 [2025-03-01..]"}, s.on("tank", "2025-03-01"))
	shop, err := s.Read(Reading{AsOf: "2025-02-28"})
	require.NoError(t, err)
	assert.Empty(t, chemicals.Facts[chemicals.Tank](shop), "it has not begun")
	assert.Equal(t, []string{"unchanged #1: tank B5"}, s.load("tank\ntank|from\nB5|2025-03-01"),
		"the shop's first day is the same whether it is written or not")
	assert.Equal(t, []string{"unchanged #3: shop Fernhollow Finishing"}, s.load("shop\nname\nFernhollow Finishing"))
}

func TestARowOfAFact(t *testing.T) {
	tests := map[string]struct {
		sheets []string // after the two tanks
		then   []string // what became of the rows of the last
		day    chemicals.Day
		stands []string // tanks on that day, with temperature and density
	}{
		"without a first day corrects what stands, and a missing column changes nothing": {
			sheets: []string{"tank\ntank|density\nB5|1.3 kg/L"},
			then:   []string{"corrected #3 for #1: tank B5; density  > 1.3 kg/L"},
			day:    "2026-06-01", stands: []string{"#3 B5, 55 °C, 1.3 kg/L [..]", "#2 R1, ,  [..]"},
		},
		"an empty cell clears": {
			sheets: []string{"tank\ntank|temperature\nB5|"},
			then:   []string{"corrected #3 for #1: tank B5; temperature 55 °C > "},
			day:    "2026-06-01", stands: []string{"#3 B5, ,  [..]", "#2 R1, ,  [..]"},
		},
		"equality is of meaning, not of spelling": {
			sheets: []string{"tank\ntank|purpose|temperature\nb5|Plate|131 °F"},
			then:   []string{"unchanged #1: tank B5"},
			day:    "2026-06-01", stands: []string{"#1 B5, 55 °C,  [..]", "#2 R1, ,  [..]"},
		},
		"a value that means the same stays as it was written first": {
			sheets: []string{"tank\ntank|temperature|density\nb5|131 °F|1.3 kg/L"},
			then:   []string{"corrected #3 for #1: tank B5; density  > 1.3 kg/L"},
			day:    "2026-06-01", stands: []string{"#3 B5, 55 °C, 1.3 kg/L [..]", "#2 R1, ,  [..]"},
		},
		"with a new first day starts from what stood and ends it the day before": {
			sheets: []string{"tank\ntank|from|temperature\nB5|2026-03-01|60 °C"},
			then:   []string{"changed #3 for #1: tank B5 2026-03-01; temperature 55 °C > 60 °C; from  > 2026-03-01"},
			day:    "2026-03-01", stands: []string{"#3 B5, 60 °C,  [2026-03-01..]", "#2 R1, ,  [..]"},
		},
		"the former stands until the day before": {
			sheets: []string{"tank\ntank|from|temperature\nB5|2026-03-01|60 °C"},
			then:   []string{"changed #3 for #1: tank B5 2026-03-01; temperature 55 °C > 60 °C; from  > 2026-03-01"},
			day:    "2026-02-28", stands: []string{"#1 B5, 55 °C,  [..]", "#2 R1, ,  [..]"},
		},
		"with the first day of a row that stands corrects that row": {
			sheets: []string{
				"tank\ntank|from|temperature\nB5|2026-03-01|60 °C", "tank\ntank|from|temperature\nB5|2026-03-01|61 °C",
			},
			then: []string{"corrected #4 for #3: tank B5 2026-03-01; temperature 60 °C > 61 °C"},
			day:  "2026-03-01", stands: []string{"#4 B5, 61 °C,  [2026-03-01..]", "#2 R1, ,  [..]"},
		},
		"with an empty first day is about the row since the shop's": {
			sheets: []string{
				"tank\ntank|from|temperature\nB5|2026-03-01|60 °C", "tank\ntank|from|temperature\nB5||50 °C",
			},
			then: []string{"corrected #4 for #1: tank B5; temperature 55 °C > 50 °C"},
			day:  "2026-03-01", stands: []string{"#3 B5, 60 °C,  [2026-03-01..]", "#2 R1, ,  [..]"},
		},
		"without a first day is about the row that stands last": {
			sheets: []string{
				"tank\ntank|from|temperature\nB5|2026-03-01|60 °C", "tank\ntank|temperature\nB5|62 °C",
			},
			then: []string{"corrected #4 for #3: tank B5 2026-03-01; temperature 60 °C > 62 °C"},
			day:  "2026-02-28", stands: []string{"#1 B5, 55 °C,  [..]", "#2 R1, ,  [..]"},
		},
		"between two others starts from the one that stood then": {
			sheets: []string{
				"tank\ntank|from|temperature\nB5|2026-05-01|60 °C", "tank\ntank|from|density\nB5|2026-03-01|1.2 kg/L",
			},
			then: []string{"changed #4 for #1: tank B5 2026-03-01; density  > 1.2 kg/L; from  > 2026-03-01"},
			day:  "2026-06-01", stands: []string{"#3 B5, 60 °C,  [2026-05-01..]", "#2 R1, ,  [..]"},
		},
		"before all others starts from nothing but keeps the spelling of the name": {
			sheets: []string{
				"tank\ntank|purpose|from\nN1|plate|2026-05-01", "tank\ntank|purpose|from\nn1|strip|2026-03-01",
			},
			then: []string{"added #4: tank N1 2026-03-01"},
			day:  "2026-04-01", stands: []string{"#1 B5, 55 °C,  [..]", "#4 N1, ,  [2026-03-01..]", "#2 R1, ,  [..]"},
		},
		"a last day retires": {
			sheets: []string{"tank\ntank|until\nB5|2026-03-31"},
			then:   []string{"corrected #3 for #1: tank B5; until  > 2026-03-31"},
			day:    "2026-04-01", stands: []string{"#2 R1, ,  [..]"},
		},
		"a change before a last day may keep it": {
			sheets: []string{"tank\ntank|until\nB5|2026-03-31", "tank\ntank|from|until\nB5|2026-03-01|2026-03-31"},
			then:   []string{"changed #4 for #3: tank B5 2026-03-01; from  > 2026-03-01"},
			day:    "2026-03-31", stands: []string{"#4 B5, 55 °C,  [2026-03-01..2026-03-31]", "#2 R1, ,  [..]"},
		},
		"a change before a last day may lift it": {
			sheets: []string{"tank\ntank|until\nB5|2026-03-31", "tank\ntank|from|until\nB5|2026-03-01|"},
			then:   []string{"changed #4 for #3: tank B5 2026-03-01; from  > 2026-03-01; until 2026-03-31 > "},
			day:    "2026-04-01", stands: []string{"#4 B5, 55 °C,  [2026-03-01..]", "#2 R1, ,  [..]"},
		},
		"what is taken up again after its last day starts from nothing": {
			sheets: []string{"tank\ntank|until\nB5|2026-03-31", "tank\ntank|from|purpose\nB5|2026-08-01|strip"},
			then:   []string{"added #4: tank B5 2026-08-01"},
			day:    "2026-08-01", stands: []string{"#4 B5, ,  [2026-08-01..]", "#2 R1, ,  [..]"},
		},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := newStory(t)
			s.load(twoTanks)
			var then []string
			for _, text := range test.sheets {
				then = s.load(text)
			}
			assert.Equal(t, test.then, then)
			assert.Equal(t, test.stands, s.on("tank", test.day, "temperature", "density"))
			again, err := s.Apply(sheet(t, test.sheets[len(test.sheets)-1]), s.author(), false)
			require.NoError(t, err)
			assert.Equal(t, len(again.Changes), again.Count(Unchanged), "a second load changes something: %v", tell(again))
		})
	}
}

func TestAFactIsRefused(t *testing.T) {
	tests := map[string]struct{ sheets, want []string }{
		"without its name": {
			[]string{"tank\ntank|purpose\n|plate"},
			[]string{`tank.csv line 2, tank: no value is given for tank`},
		},
		"new and without what it must have": {
			[]string{"tank\ntank|temperature\nB9|55 °C"},
			[]string{"tank.csv line 2: no value is given for purpose"},
		},
		"with what it must have cleared": {
			[]string{"tank\ntank|purpose\nB5|"},
			[]string{"tank.csv line 2, purpose: no value is given for purpose"},
		},
		"with a value that cannot be read, all of them at once": {
			[]string{"tank\ntank|temperature|pH|length\nB5|hot|99|3"},
			[]string{
				`tank.csv line 2, length: "3" has no unit`,
				`tank.csv line 2, temperature: "hot" does not start with a number`,
				`tank.csv line 2, pH: "99" is out of range`,
			},
		},
		"with a column that it does not have": {
			[]string{"tank\ntank|temperatur\nB5|55 °C"},
			[]string{`tank.csv line 2, temperatur: tank has no column "temperatur"`},
		},
		"when it ends before it begins": {
			[]string{"tank\ntank|from|until\nB5|2026-03-01|2026-02-01"},
			[]string{"tank.csv line 2, until: it ends on 2026-02-01, before it begins on 2026-03-01"},
		},
		"when it ends before what stands begins": {
			[]string{"tank\ntank|from|temperature\nB5|2026-03-01|60 °C", "tank\ntank|until\nB5|2026-02-01"},
			[]string{"tank.csv line 2, until: it ends on 2026-02-01, before it begins on 2026-03-01"},
		},
		"when what it changes has a last day and it does not say whether that holds": {
			[]string{"tank\ntank|until\nB5|2026-03-31", "tank\ntank|from|temperature\nB5|2026-03-01|60 °C"},
			[]string{"tank.csv line 2: tank B5 ends on 2026-03-31 (entry 3), and the row from 2026-03-01 does not say whether it still does"},
		},
		"twice with other content": {
			[]string{"tank\ntank|temperature\nB5|60 °C\nb5|61 °C"},
			[]string{"tank.csv line 3: tank B5 is given twice, first in tank.csv line 2"},
		},
		"twice with the same content": {
			[]string{"tank\ntank|temperature\nB5|55 °C\nB5|55 °C"},
			[]string{"tank.csv line 3: tank B5 is given twice, first in tank.csv line 2"},
		},
		"twice and new": {
			[]string{"tank\ntank|purpose|from\nB9|plate|2026-03-01\nB9|plate|2026-03-01"},
			[]string{"tank.csv line 3: tank B9 from 2026-03-01 is given twice, first in tank.csv line 2"},
		},
		"with the number of no entry": {
			[]string{"tank\nentry|tank\n99|B5"},
			[]string{"tank.csv line 2: the book has no entry 99"},
		},
		"with the number of an entry of another kind": {
			[]string{"location\nentry|location\n1|B5"},
			[]string{"location.csv line 2: entry 1 is of kind tank, not location"},
		},
		"with the number of an entry that was corrected otherwise": {
			[]string{"tank\nentry|temperature\n1|60 °C", "tank\nentry|temperature\n1|61 °C"},
			[]string{"tank.csv line 2: entry 1 was corrected by entry 3 (Ada, 2026-01-05) and no longer stands"},
		},
		"with the same number twice": {
			[]string{"tank\nentry|temperature\n1|60 °C\n1|61 °C"},
			[]string{"tank.csv line 3: tank B5 is given twice, first in tank.csv line 2"},
		},
		"when a correction makes it another that stands": {
			[]string{"tank\nentry|tank\n2|B5"},
			[]string{"tank.csv line 2: entry 2 would become tank B5, which stands already from the same day (entry 1)"},
		},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := newStory(t)
			s.load(twoTanks)
			last := len(test.sheets) - 1
			for _, text := range test.sheets[:last] {
				s.load(text)
			}
			assert.Equal(t, test.want, s.refused(test.sheets[last]))
		})
	}
}

func TestARowWithANumber(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	again := "tank\nentry|tank|temperature\n1|B5|60 °C\n2|R1|"
	assert.Equal(t, []string{"corrected #3 for #1: tank B5; temperature 55 °C > 60 °C", "unchanged #2: tank R1"}, s.load(again))
	assert.Equal(t, []string{"unchanged #3: tank B5", "unchanged #2: tank R1"}, s.load(again),
		"a second load of the same file adds nothing, though entry 1 no longer stands")
	swap := "tank\nentry|tank\n3|R1\n2|B5"
	assert.Equal(t, []string{"corrected #4 for #3: tank R1; tank B5 > R1", "corrected #5 for #2: tank B5; tank R1 > B5"}, s.load(swap),
		"two names may be exchanged in one load")
	assert.Equal(t, []string{"corrected #6 for #4: tank R1 2026-02-01; from  > 2026-02-01"}, s.load("tank\nentry|from\n4|2026-02-01"))
}

func TestAListEndsAsAWhole(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks, nickelBath, "bath\ntank|ingredient|concentration\nR1|nickel|50 mg/L")
	assert.Equal(t, []string{
		"changed #7 for #3: bath B5, nickel sulfate 2026-03-01; concentration 300 g/L > 280 g/L; from  > 2026-03-01",
		"changed #8 for #5: bath B5, boric acid 2026-03-01; from  > 2026-03-01",
		"ended #4: bath B5, nickel chloride 2026-02-28",
	}, s.load("bath\ntank|ingredient|concentration|from\nB5|nickel sulfate|280 g/L|2026-03-01\nB5|boric acid|~|2026-03-01"))
	assert.Equal(t, []string{
		"#5 B5, boric acid [..2026-02-28]", "#4 B5, nickel chloride [..2026-02-28]", "#3 B5, nickel sulfate [..2026-02-28]", "#6 R1, nickel [..]",
	}, sinceKnown(s, "2026-02-28"))
	assert.Equal(t, []string{
		"#8 B5, boric acid [2026-03-01..]", "#7 B5, nickel sulfate [2026-03-01..]", "#6 R1, nickel [..]",
	}, s.on("bath", "2026-03-01"), "a shorter list is a shorter list, and the other tank is not touched")

	assert.Equal(t, []string{"added #9: bath B5, brightener 2026-03-01"}, s.load("bath\ntank|ingredient|concentration\nB5|brightener|3 g/L"),
		"a row without a first day belongs to the list that stands")
	assert.Equal(t, []string{"corrected #10 for #9: bath B5, brightener 2026-03-01; concentration 3 g/L > 4 g/L"},
		s.load("bath\ntank|ingredient|concentration|from\nB5|brightener|4 g/L|2026-03-01"))
	assert.Equal(t, []string{"changed #11 for #4: bath B5, nickel chloride 2026-03-01; from  > 2026-03-01"},
		s.load("bath\ntank|ingredient\nB5|nickel chloride"), "a row of the former list is taken up as it stood there")
	assert.Equal(t, []string{
		"#8 B5, boric acid [2026-03-01..]", "#10 B5, brightener [2026-03-01..]", "#11 B5, nickel chloride [2026-03-01..]",
		"#7 B5, nickel sulfate [2026-03-01..]", "#6 R1, nickel [..]",
	}, s.on("bath", "2026-12-31"))

	for _, n := range []int64{7, 8, 10, 11} {
		_, err := s.Withdraw(n, s.author())
		require.NoError(t, err)
	}
	assert.Equal(t, []string{
		"#5 B5, boric acid [..]", "#4 B5, nickel chloride [..]", "#3 B5, nickel sulfate [..]", "#6 R1, nickel [..]",
	}, s.on("bath", "2026-12-31"), "a list that was never true ends nothing")
}

// sinceKnown tells what stood on a day as seen from the year's end.
func sinceKnown(s *story, day chemicals.Day) []string {
	k, err := chemicals.KindOf("bath")
	require.NoError(s.t, err)
	all, err := s.Standing(k, Known{})
	require.NoError(s.t, err)
	var on []string
	for _, r := range all {
		if r.From <= day && (r.Until == "" || r.Until >= day) {
			on = append(on, "#"+itoa(r.Entry)+" "+nameOf(k, r.Body)+" ["+string(r.From)+".."+string(r.Until)+"]")
		}
	}
	return on
}

func TestSeveralListsInOneLoad(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	text := `bath
		tank | ingredient | concentration | from
		B5 | nickel sulfate | 300 g/L |
		B5 | boric acid | 45 g/L |
		B5 | nickel sulfate | 280 g/L | 2026-03-01
		B5 | nickel sulfamate | 400 g/L | 2026-06-01
		B5 | boric acid | 40 g/L | 2026-06-01`
	assert.Equal(t, []string{
		"added #3: bath B5, nickel sulfate", "added #4: bath B5, boric acid",
		"changed #5 for #3: bath B5, nickel sulfate 2026-03-01; concentration 300 g/L > 280 g/L; from  > 2026-03-01",
		"added #6: bath B5, nickel sulfamate 2026-06-01", "added #7: bath B5, boric acid 2026-06-01",
		"ended #4: bath B5, boric acid 2026-02-28", "ended #5: bath B5, nickel sulfate 2026-05-31",
	}, s.load(text))
	assert.Equal(t, []string{
		"unchanged #3: bath B5, nickel sulfate", "unchanged #4: bath B5, boric acid", "unchanged #5: bath B5, nickel sulfate 2026-03-01",
		"unchanged #6: bath B5, nickel sulfamate 2026-06-01", "unchanged #7: bath B5, boric acid 2026-06-01",
	}, s.load(text))
}

func TestARowOfAListStartsFromTheListBefore(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	const salt = "bath\ntank|ingredient|concentration|from\n"
	s.load(salt + "B5|boric acid|45 g/L|2026-03-01")
	s.load(salt + "B5|boric acid|40 g/L|2026-01-01\nB5|nickel sulfate|300 g/L|2026-01-01")
	assert.Equal(t, []string{`bath.csv line 2: no value is given for concentration`},
		s.refused("bath\ntank|ingredient|from\nB5|nickel sulfate|2026-06-01"), "the list before, of March, does not have it")
	assert.Equal(t, []string{"changed #6 for #5: bath B5, nickel sulfate 2026-02-01; from 2026-01-01 > 2026-02-01", "ended #4: bath B5, boric acid 2026-01-31"},
		s.load("bath\ntank|ingredient|from\nB5|nickel sulfate|2026-02-01"))
	assert.Equal(t, []string{"#5 B5, nickel sulfate [2026-01-01..2026-01-31]"}, sinceKnown(s, "2026-01-31")[1:], "the next to begin ends it, not a later one")
}

func TestARowOfAListThatHadEndedIsNotEndedAgain(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks, nickelBath)
	s.load("bath\ntank|ingredient|until\nB5|boric acid|2026-01-31")
	assert.Equal(t, []string{
		"changed #7 for #3: bath B5, nickel sulfate 2026-03-01; from  > 2026-03-01", "ended #4: bath B5, nickel chloride 2026-02-28",
	}, s.load("bath\ntank|ingredient|from\nB5|nickel sulfate|2026-03-01"))
}

func TestAReadingAsOfADayKnowsNothingThatBeginsLater(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	s.load("tank\ntank|from|temperature\nB5|2026-03-01|60 °C")
	assert.Equal(t, []string{"#1 B5, 55 °C [..]"}, s.on("tank", "2026-02-28", "temperature")[:1])
	k, err := chemicals.KindOf("tank")
	require.NoError(t, err)
	all, err := s.Standing(k, Known{})
	require.NoError(t, err)
	require.Len(t, all, 3)
	assert.EqualValues(t, "2026-02-28", all[0].Until, "a listing shows what is to come")
}

func TestOneOfTwoRowsHoldsWhereTheShopsFirstDayMakesThemMeet(t *testing.T) {
	s := newStory(t)
	s.load("shop\nname|first day\nFernhollow Finishing|2025-01-01", twoTanks)
	s.load("tank\ntank|from|temperature\nB5|2026-03-01|60 °C")
	s.load("shop\nfirst day\n2026-03-01")
	assert.Equal(t, []string{"#4 B5, 60 °C [2026-03-01..]", "#3 R1,  [2026-03-01..]"}, s.on("tank", "2026-12-31", "temperature"))
	k, err := chemicals.KindOf("tank")
	require.NoError(t, err)
	assert.Len(t, s.records(k, Known{}, "2026-12-31"), 2, "what holds on no day is not read")
	all, err := s.Standing(k, Known{})
	require.NoError(t, err)
	assert.Len(t, all, 3, "but it stands")
}
