package exposure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/exposure"
)

const staff = `
person - | person=Ada
person - | person=Bert
person -..2026-01-31 | person=Carl
training 2025-04-01 | person=Ada | topic=first aid
training 2026-04-01 | person=ada | topic=First aid
training 2025-05-01 | person=Bert | topic=first aid
training 2026-05-01 | person=Ada | topic=waste
check 2026-05-04 | item=walk | place=yard
check 2026-05-11 | item=walk | place=Yard
check 2026-05-18 | item=walk | place=yard
check 2026-06-01 | item=walk | place=yard
check 2026-06-08 | item=walk | place=yard
check 2026-06-15 | item=walk | place=yard
check 2026-06-22 | item=walk | place=yard
check 2026-06-29 | item=walk | place=yard
check 2026-06-01 | item=alarm | place=yard
paper - | paper=permit | expires=2026-06-29
paper - | paper=plan | expires=2026-06-30
paper - | paper=licence | expires=2026-12-31
paper - | paper=letter
`

func TestDutyGaps(t *testing.T) {
	shop := shopOf(t, "2026-06-30", staff)
	trainings, rounds, papers := exposure.Trainings(shop), exposure.Rounds(shop), exposure.Papers(shop)
	require.Len(t, trainings, 4, "two people, two topics; who has left is not listed")
	require.Len(t, rounds, 2)
	require.Len(t, papers, 4)
	var got []string
	for _, g := range exposure.DutyGaps(shop, trainings, rounds, papers) {
		got = append(got, g.Where+": "+g.What)
	}
	assert.Equal(t, []string{
		"check walk: no record found from 2026-05-18 to 2026-06-01 at yard; the usual interval is 7 days",
		"paper permit: it ended on 2026-06-29",
		"paper plan: it ends on 2026-06-30, in 0 days",
		"person Bert: no record found of training in waste",
		"person Bert: the last training in first aid is of 2025-05-01",
	}, got)
}

func TestACheckThatStoppedShows(t *testing.T) {
	shop := shopOf(t, "2026-06-30", `
check 2026-05-04 | item=walk | place=yard
check 2026-05-11 | item=walk | place=yard
check 2026-05-18 | item=walk | place=yard`)
	r := exposure.Rounds(shop)[0]
	assert.True(t, r.Missed())
	assert.EqualValues(t, "2026-06-30", r.To)
	assert.Equal(t, 43, r.Longest)
}
