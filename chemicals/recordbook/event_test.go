package recordbook

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func itoa(n int64) string { return strconv.FormatInt(n, 10) }

const twoWalks = `check
	date | item | result
	2026-02-02 | eyewash | runs
	2026-02-02 | eyewash | runs
	2026-02-03 | eyewash | runs`

func TestEventsAddUp(t *testing.T) {
	s := newStory(t)
	assert.Equal(t, []string{
		"added #1: check eyewash 2026-02-02", "added #2: check eyewash 2026-02-02", "added #3: check eyewash 2026-02-03",
	}, s.load(twoWalks), "two equal rows are two events")
	assert.Equal(t, []string{
		"unchanged #1: check eyewash 2026-02-02", "unchanged #2: check eyewash 2026-02-02", "unchanged #3: check eyewash 2026-02-03",
	}, s.load(twoWalks))
	assert.Equal(t, []string{"unchanged #1: check eyewash 2026-02-02"}, s.load("check\ndate|item|result\n2026-02-02|eyewash|runs"))
	third := twoWalks + "\n2026-02-02 | eyewash | runs"
	assert.Equal(t, "added #4: check eyewash 2026-02-02", s.load(third)[3], "the file holds one more than the book")
	assert.Equal(t, []string{"added #5: check eyewash 2026-02-02"}, s.load("check\ndate|item|result|note\n2026-02-02|eyewash|runs|weak"),
		"what differs in any column is another event")
}

func TestEventsWithANumber(t *testing.T) {
	tests := map[string]struct{ sheet, want []string }{
		"equal: nothing": {
			[]string{"check\nentry|date|item|result\n1|2026-02-02|eyewash|runs"}, []string{"unchanged #1: check eyewash 2026-02-02"},
		},
		"another column: corrected": {
			[]string{"check\nentry|date|item|result\n1|2026-02-02|eyewash|weak"},
			[]string{"corrected #4 for #1: check eyewash 2026-02-02; result runs > weak"},
		},
		"another day: corrected": {
			[]string{"check\nentry|date\n1|2026-02-05"}, []string{"corrected #4 for #1: check eyewash 2026-02-05; date 2026-02-02 > 2026-02-05"},
		},
		"another day without the former column set": {
			[]string{"check\nentry|date|result\n1|2026-02-05|"}, []string{"corrected #4 for #1: check eyewash 2026-02-05; date 2026-02-02 > 2026-02-05; result runs > "},
		},
		"one with a number and one without are two, whichever comes first": {
			[]string{"check\nentry|date|item|result\n~|2026-02-03|eyewash|runs\n3|2026-02-03|eyewash|runs"},
			[]string{"added #4: check eyewash 2026-02-03", "unchanged #3: check eyewash 2026-02-03"},
		},
		"a row without a number does not match the one that a numbered row corrects": {
			[]string{"check\nentry|date|item|result\n3|2026-02-03|eyewash|weak\n~|2026-02-03|eyewash|runs\n~|2026-02-03|eyewash|weak"},
			[]string{
				"corrected #4 for #3: check eyewash 2026-02-03; result runs > weak", "added #5: check eyewash 2026-02-03", "added #6: check eyewash 2026-02-03",
			},
		},
		"twice the same file with a correction that moved the day": {
			[]string{"check\nentry|date\n1|2026-02-05", "check\nentry|date\n1|2026-02-05"}, []string{"unchanged #4: check eyewash 2026-02-05"},
		},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := newStory(t)
			s.load(twoWalks)
			var last []string
			for _, text := range test.sheet {
				last = s.load(text)
			}
			assert.Equal(t, test.want, last)
		})
	}
}

func TestRowsThatTheSheetLacksAreLeftAloneAndCounted(t *testing.T) {
	s := newStory(t)
	s.load(twoWalks, twoTanks)
	_, err := s.Withdraw(5, s.author())
	require.NoError(t, err)
	out, err := s.Apply(sheet(t, "check\nentry|date|item|result\n~|2026-02-02|eyewash|runs\n5|2026-02-03|eyewash|weak", "tank\ntank|density\nB5|1.1 kg/L"), s.author(), false)
	require.Error(t, err)
	assert.Empty(t, out)
	out, err = s.Apply(sheet(t, "check\nentry|date|item|result\n~|2026-02-02|eyewash|runs", "tank\ntank|density\nB5|1.1 kg/L"), s.author(), false)
	require.NoError(t, err)
	tank, check := out.Untouched[0], out.Untouched[1]
	assert.Equal(t, "tank 1, check 1", tank.Kind.Name+" "+itoa(int64(tank.Rows))+", "+check.Kind.Name+" "+itoa(int64(check.Rows)))
	assert.EqualValues(t, 7, s.count(), "nothing is withdrawn by absence")
}

func TestNamesMustBeInTheBook(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks)
	assert.Equal(t, []string{
		`bath.csv line 2, tank: there is no tank "B55" in the book`,
		`analysis.csv line 2, tank: there is no tank "Z" in the book`,
	}, s.refused("analysis\ndate|tank|ingredient|concentration\n2026-02-02|Z|nickel|50 g/L", "bath\ntank|ingredient|concentration\nB55|nickel sulfate|300 g/L"))
	assert.Equal(t, []string{"added #3: tank Z", "added #4: analysis Z, nickel, 50 g/L 2026-02-02"},
		s.load("analysis\ndate|tank|ingredient|concentration\n2026-02-02|z|nickel|50 g/L", "tank\ntank|purpose\nZ|plate"),
		"the same load may bring it, and its first spelling is kept")
	s.load("tank\ntank|until\nZ|2026-01-31")
	s.load("analysis\ndate|tank|ingredient|concentration\n2026-03-02|Z|nickel|50 g/L")
	assert.Equal(t, []string{`tank.csv line 2: no value is given for purpose`},
		s.refused("tank\ntank\nQ", "analysis\ndate|tank|ingredient|concentration\n2026-02-02|Q|nickel|50 g/L"),
		"a row is not at fault for naming one that is")
}

func TestANameThatIsReferredToStaysInTheBook(t *testing.T) {
	s := newStory(t)
	s.load(twoTanks, "analysis\ndate|tank|ingredient|concentration\n2026-02-02|R1|nickel|50 mg/L")
	want := []string{`entry 2: no tank "R1" would be left, but entry 3 (analysis R1, nickel, 50 mg/L) names it`}
	_, err := s.Withdraw(2, s.author())
	assert.Equal(t, want, faults(t, err))
	_, err = s.Correct(2, map[string]string{"tank": "R2"}, s.author())
	assert.Equal(t, want, faults(t, err))
	assert.Equal(t, []string{"corrected #4 for #2: tank R2; tank R1 > R2", "corrected #5 for #3: analysis R2, nickel, 50 mg/L 2026-02-02; tank R1 > R2"},
		s.load("tank\nentry|tank\n2|R2", "analysis\nentry|tank\n3|R2"), "a name may change together with all that bear it")
	_, err = s.Withdraw(5, s.author())
	require.NoError(t, err)
	_, err = s.Withdraw(4, s.author())
	require.NoError(t, err)
	assert.Equal(t, []string{"#1 B5 [..]"}, s.on("tank", "2026-12-31"))
}
