package recordbook

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals"
)

func (s *story) at(text string) {
	s.t.Helper()
	at, err := time.Parse(time.RFC3339, text)
	require.NoError(s.t, err)
	s.now = at.Add(-time.Minute) // author adds it
}

func TestKnownByADay(t *testing.T) {
	for zone, want := range map[string][]int64{ // the last entry known by 2, 3, 4 and 5 March
		"":                   {1, 2, 4, 4},
		"America/Chicago":    {1, 3, 4, 4},
		"Pacific/Kiritimati": {1, 1, 4, 4}, // 14 hours ahead of UTC
	} {
		t.Run(zone, func(t *testing.T) {
			s := newStory(t)
			s.at("2026-03-01T12:00:00Z")
			s.load("shop\nname|time zone\nFernhollow Finishing|" + zone)
			s.at("2026-03-03T12:00:00Z")
			s.load("tank\ntank|purpose\nB5|plate")
			s.at("2026-03-04T04:30:00Z") // 3 March, half past ten in the evening in Chicago
			s.load("tank\ntank|purpose\nB6|plate")
			s.at("2026-03-04T06:30:00Z") // half an hour past midnight
			s.load("tank\ntank|purpose\nB7|plate")
			for i, day := range []chemicals.Day{"2026-03-02", "2026-03-03", "2026-03-04", "2026-03-05"} {
				shop, err := s.Read(Reading{AsOf: "2026-12-31", KnownBy: Known{Day: day}})
				require.NoError(t, err)
				assert.Equal(t, want[i], shop.Last.Entry, "by %s", day)
			}
		})
	}
}

func TestADayBeginsLaterWhereTheClocksAreSet(t *testing.T) {
	s := newStory(t)
	s.at("2026-03-01T12:00:00Z")
	s.load("shop\nname|time zone\nFernhollow Finishing|America/Chicago")
	s.at("2026-03-09T04:59:00Z") // 8 March ends at 05:00 UTC: in the morning clocks went ahead
	s.load("tank\ntank|purpose\nB5|plate")
	s.at("2026-03-09T05:00:00Z")
	s.load("tank\ntank|purpose\nB6|plate")
	assert.Equal(t, []string{"#2 B5 [..]"}, s.knownBy(Known{Day: "2026-03-08"}, "tank", "2026-12-31"))
}

// With a clock that went back the book is still read from its beginning.
func TestKnownByADayWhenTheClockWentBack(t *testing.T) {
	s := newStory(t)
	s.at("2027-01-01T12:00:00Z") // a year ahead
	s.load("tank\ntank|purpose\nB5|plate")
	s.at("2026-01-02T12:00:00Z")
	s.load("tank\nentry|purpose\n1|strip")
	assert.Equal(t, []string{"#2 B5, strip [..]"}, s.knownBy(Known{Day: "2026-01-02"}, "tank", "2026-12-31", "purpose"))
	assert.Empty(t, s.knownBy(Known{Day: "2026-01-01"}, "tank", "2026-12-31"))
}

func TestKnownByAnEntry(t *testing.T) {
	s := fiveEntries(t)
	const day = "2026-06-01"
	for entry, want := range map[int64][]string{
		1: {"#1 B5, 55 °C [..]"},
		2: {"#1 B5, 55 °C [..]", "#2 R1,  [..]"},
		3: {"#3 B5, 60 °C [2026-03-01..]", "#2 R1,  [..]"},
		4: {"#4 B5, 61 °C [2026-03-01..]", "#2 R1,  [..]"},
		5: {"#4 B5, 61 °C [2026-03-01..]"},
		0: {"#4 B5, 61 °C [2026-03-01..]"}, // all
	} {
		assert.Equal(t, want, s.knownBy(Known{Entry: entry}, "tank", day, "temperature"), "by entry %d", entry)
	}
	_, err := s.Standing(chemicals.Kinds()[0], Known{Entry: 6})
	assert.ErrorContains(t, err, "the book has no entry 6")
}

func TestEventsOfAReading(t *testing.T) {
	s := newStory(t)
	s.load(twoWalks)
	assert.Equal(t, []string{"#1 eyewash", "#2 eyewash"}, s.on("check", "2026-02-02"), "none after the as-of day")
	shop, err := s.Read(Reading{AsOf: "2026-12-31", EventsFrom: "2026-02-03"})
	require.NoError(t, err)
	assert.Len(t, chemicals.Events[chemicals.Check](shop), 1)
	_, err = s.Correct(1, map[string]string{"date": "2026-03-01"}, s.author())
	require.NoError(t, err)
	shop, err = s.Read(Reading{AsOf: "2026-12-31", EventsFrom: "2026-02-03"})
	require.NoError(t, err)
	got := chemicals.Events[chemicals.Check](shop)
	require.Len(t, got, 2, "a correction may move an event into the days that are read")
	assert.Equal(t, chemicals.Happened[chemicals.Check]{Entry: 4, Date: "2026-03-01", Is: got[1].Is}, got[1])
	assert.Equal(t, []string{"#2 eyewash"}, s.on("check", "2026-02-02"), "and out of them")
	shop, err = newStory(t).Read(Reading{AsOf: "2026-12-31"})
	require.NoError(t, err)
	assert.Equal(t, chemicals.LastEntry{}, shop.Last, "an empty book can be read")
}

func TestIssuedReportsAreSeenWithTheNextEntry(t *testing.T) {
	s := newStory(t)
	s.load(twoWalks)
	s.load("issued\ndate|report|as of|file hash\n2026-02-03|inventory|2026-02-03|00")
	assert.Empty(t, s.on("issued", "2026-12-31"), "a paper must read the same when it is printed again")
	s.load(twoTanks)
	assert.Len(t, s.on("issued", "2026-12-31"), 1)
	assert.Empty(t, s.knownBy(Known{Entry: 4}, "issued", "2026-12-31"))
	k, err := chemicals.KindOf("issued")
	require.NoError(t, err)
	all, err := s.Standing(k, Known{})
	require.NoError(t, err)
	assert.Len(t, all, 1)
}

func TestHistoryShowsAllOfALine(t *testing.T) {
	s := fiveEntries(t)
	s.load("tank\nentry|tank\n1|B6", nickelBath[:len("bath")]+"\ntank|ingredient|concentration\nB6|nickel|50 g/L\nB6|boric acid|40 g/L")
	history := func(kind string, names ...string) []string {
		k, err := chemicals.KindOf(kind)
		require.NoError(t, err)
		entries, err := s.History(k, names...)
		require.NoError(t, err)
		var all []string
		for _, e := range entries {
			all = append(all, fmt.Sprintf("%d<%d>%d %s", e.Corrects, e.Number, e.CorrectedBy, e.Key))
		}
		return all
	}
	assert.Equal(t, []string{"0<1>6 b5", "0<3>4 b5", "3<4>0 b5", "1<6>0 b6"}, history("tank", "b5"), "also under the name that it has now")
	assert.Equal(t, []string{"0<1>6 b5", "1<6>0 b6"}, history("tank", "B6"), "also under the name that it had")
	assert.Equal(t, []string{"0<2>5 r1", "2<5>0 r1"}, history("tank", "R1"), "also what was withdrawn")
	assert.Len(t, history("tank"), 6)
	assert.Equal(t, []string{"0<7>0 b6\tnickel", "0<8>0 b6\tboric acid"}, history("bath", "B6"))
	assert.Equal(t, []string{"0<8>0 b6\tboric acid"}, history("bath", "B6", "Boric  Acid"))
	assert.Empty(t, history("bath", "B5"))
	k, err := chemicals.KindOf("stock")
	require.NoError(t, err)
	_, err = s.History(k, "P", "L", "much")
	assert.ErrorContains(t, err, `"much" does not start with a number`)
	_, err = s.History(k, "P", "L", "2 L", "more")
	assert.ErrorContains(t, err, "a stock has fewer names")

	e, err := s.Entry(4)
	require.NoError(t, err)
	assert.Equal(t, "Ada told so 2026-01-05 09:03:00 61 °C", fmt.Sprint(e.RecordedBy, " ", e.Reason, " ", e.RecordedAt.Format(time.DateTime), " ", e.Body["temperature"]))
	_, err = s.Entry(99)
	assert.ErrorContains(t, err, "the book has no entry 99")
	var numbers []int64
	require.NoError(t, s.Entries(7, func(e Entry) error { numbers = append(numbers, e.Number); return nil }))
	assert.Equal(t, []int64{7, 8}, numbers)
}

func TestWhoWritesAndWhy(t *testing.T) {
	s := newStory(t)
	at := Author{By: "  Ada \r\n", At: time.Date(2026, 7, 1, 23, 30, 0, 999, time.FixedZone("", -5*3600))}
	_, err := s.Apply(sheet(t, twoTanks), at, false)
	require.NoError(t, err)
	e, err := s.Entry(1)
	require.NoError(t, err)
	assert.Equal(t, "Ada", e.RecordedBy)
	assert.Empty(t, e.Reason, "what is new needs none")
	assert.Equal(t, time.Date(2026, 7, 2, 4, 30, 0, 0, time.UTC), e.RecordedAt)

	_, err = s.Apply(sheet(t, "tank\ntank|temperature\nR1|20 °C"), at, false)
	require.NoError(t, err)
	e, err = s.Entry(3)
	require.NoError(t, err)
	assert.Equal(t, "tank.csv line 2", e.Reason, "the place of the row stands in for a reason")

	for _, try := range []func() (Outcome, error){
		func() (Outcome, error) { return s.Correct(1, map[string]string{"temperature": "60 °C"}, at) },
		func() (Outcome, error) { return s.Withdraw(1, at) },
	} {
		_, err = try()
		assert.Equal(t, []string{"why: entry 1 would be replaced, and no reason is given"}, faults(t, err))
	}
	at.By, at.Why = "", "a bell \a rang"
	_, err = s.Withdraw(1, at)
	assert.Equal(t, []string{
		"why: the text holds a control character", "by: nobody is named who writes this entry", "why: entry 1 would be replaced, and no reason is given",
	}, faults(t, err))
	assert.EqualValues(t, 3, s.count())
}

func TestACorrection(t *testing.T) {
	s := fiveEntries(t)
	out, err := s.Correct(4, map[string]string{"temperature": "142 °F", "pH": "4.0"}, s.author())
	require.NoError(t, err)
	assert.Equal(t, []string{"corrected #6 for #4: tank B5 2026-03-01; temperature 61 °C > 142 °F; pH  > 4.0"}, tell(out))
	assert.Empty(t, out.Untouched)
	out, err = s.Correct(6, map[string]string{"pH": "4"}, s.author())
	require.NoError(t, err)
	assert.Equal(t, []string{"unchanged #6: tank B5 2026-03-01"}, tell(out))
	for n, want := range map[int64]string{
		4: "entry 4 was corrected by entry 6", 2: "entry 2 was withdrawn by entry 5", 5: "entry 5 withdraws entry 2", 7: "the book has no entry 7",
	} {
		_, err = s.Correct(n, map[string]string{"pH": "5"}, s.author())
		assert.Contains(t, faults(t, err)[0], want)
		_, err = s.Withdraw(n, s.author())
		assert.Contains(t, faults(t, err)[0], want)
	}
	_, err = s.Correct(6, map[string]string{"purpose": "", "ph": "4", "temperature": "1 L"}, s.author())
	assert.Equal(t, []string{`ph: tank has no column "ph"`, `temperature: "1 L" is a volume; wanted is a temperature`}, faults(t, err))
	_, err = s.Correct(6, map[string]string{"purpose": ""}, s.author())
	assert.Equal(t, []string{"purpose: no value is given for purpose"}, faults(t, err))
	assert.EqualValues(t, 6, s.count())
}

func TestEntriesAtTheirOwnDays(t *testing.T) {
	example := []string{
		`check
		date | item
		2026-02-02 | eyewash
		2025-06-01 | eyewash`,
		`tank
		tank | purpose | from
		B6 | plate | 2026-02-02
		B5 | plate | ~
		P1 | plate | 2019-04-01`,
		"shop\nname|first day\nFernhollow Finishing|2025-01-01",
	}
	made := func() (*story, []string) {
		s := newStory(t)
		_, err := s.Apply(sheet(t, example...), Author{By: "example", OwnDays: true}, false)
		require.NoError(t, err)
		var all []string
		require.NoError(t, s.Entries(1, func(e Entry) error {
			all = append(all, e.RecordedAt.Format(time.RFC3339)+" "+e.Kind.Name+" "+nameOf(e.Kind, e.Body))
			return nil
		}))
		return s, all
	}
	s, entries := made()
	assert.Equal(t, []string{
		"2019-04-01T12:00:00Z tank P1",
		"2025-01-01T12:00:00Z shop Fernhollow Finishing",
		"2025-01-01T12:00:00Z tank B5",
		"2025-06-01T12:00:00Z check eyewash",
		"2026-02-02T12:00:00Z tank B6",
		"2026-02-02T12:00:00Z check eyewash",
	}, entries)
	again, _ := made()
	assert.Equal(t, journalOf(s), journalOf(again), "hash for hash")

	s = newStory(t)
	_, err := s.Apply(sheet(t, example[:2]...), Author{By: "example", OwnDays: true}, false)
	require.NoError(t, err)
	e, err := s.Entry(1)
	require.NoError(t, err)
	assert.Equal(t, "B5 2019-04-01", nameOf(e.Kind, e.Body)+" "+e.RecordedAt.Format(time.DateOnly), "without a shop: the earliest of all days")
	e, err = s.Entry(2)
	require.NoError(t, err)
	assert.Equal(t, "P1 2019-04-01", nameOf(e.Kind, e.Body)+" "+e.RecordedAt.Format(time.DateOnly))
	_, err = newStory(t).Apply(sheet(t, twoTanks), Author{By: "example", OwnDays: true}, false)
	assert.Equal(t, []string{"no row has a day on which it could be recorded"}, faults(t, err))
}
