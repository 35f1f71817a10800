package exposure_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"bathwarden/chemicals"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
)

// line is a small line: a nickel bath, a still rinse, a counterflow of two, a
// treatment that takes out nine tenths, a point.
const line = `
shop - | name=Test Shop | first day=2026-01-01 | hours per day=8 h | days per year=250 | regime=us | currency=USD
tank - | tank=N | purpose=plate | working volume=1000 L | line=L | position=1 | drains to=haul
tank - | tank=S | purpose=rinse | working volume=200 L | line=L | position=2 | drains to=T
tank - | tank=R1 | purpose=rinse | working volume=200 L | line=L | position=3 | drains to=T
tank - | tank=R2 | purpose=rinse | working volume=200 L | line=L | position=4 | drains to=R1
tank - | tank=T | purpose=treat | working volume=500 L | line=W | position=1 | drains to=out
point - | point=out | body=sewer
bath - | tank=N | ingredient=Ni | concentration=80 g/L
rinse - | tank=S | arrangement=still
rinse - | tank=R1 | arrangement=running | fed from=R2 | wanted=37 mg/L Ni
rinse - | tank=R2 | arrangement=running | fed from=mains | flow=4 L/min
removal - | tank=T | pollutant=Ni | removal=90 %
cycle - | cycle=C | step=1 | tank=N
cycle - | cycle=C | step=2 | tank=S
cycle - | cycle=C | step=3 | tank=R1
cycle - | cycle=C | step=4 | tank=R2
film - | tank=N | drainage=vertical, well drained | per area=0.1 L/m² | how=weighed
`

const threeDays = `
work 2026-02-02 | cycle=C | area=20 m² | loads=40 | drainage=vertical, well drained
work 2026-02-03 | cycle=C | area=30 m² | loads=60 | drainage=vertical, well drained
`

func water(t *testing.T, rows string) *exposure.Water {
	t.Helper()
	return exposure.WaterOf(shopOf(t, "2026-03-31", rows), tables(t))
}

func account(w *exposure.Water, tank string) exposure.Account {
	for _, a := range w.Accounts {
		if a.Tank == chemicals.Name(tank) && a.Metal == "Ni" {
			return a
		}
	}
	return exposure.Account{}
}

// Worked by hand: 2 L and 3 L of bath with 80 g/L; the still rinse of 200 L
// keeps of each load, with a = 200/(200+0.05), what 1 − a^N says.
func TestALineByHand(t *testing.T) {
	w := water(t, line+threeDays)
	assert.Equal(t, []string{"Ni"}, w.Metals)
	assert.InDelta(t, 400, account(w, "N").Out[working.Likely], 1e-9, "5 L × 80 g/L")

	a := 200 / 200.05
	held := 80 * 200 * (1 - math.Pow(a, 100)) // g in the still rinse after 100 equal loads
	passed := 400 - held
	var still, running exposure.RinseUse
	for _, r := range w.Rinses {
		if r.Still != nil {
			still = r
		} else {
			running = r
		}
	}
	require.Len(t, still.Still.Metals, 1)
	assert.InDelta(t, held/200, still.Still.Metals[0].Concentration[working.Likely], 1e-9)
	assert.Equal(t, 100, still.Still.Loads)

	assert.Equal(t, []chemicals.Name{"R1", "R2"}, running.Tanks)
	assert.InDelta(t, passed, running.Metals[0].In[working.Likely], 1e-9)
	onFirst, onSecond := 1/ratio(1920/2.0, 2), 1/ratio(1920/3.0, 2) // 4 L/min over 8 h
	heldFirst := 80 * 200 * (1 - math.Pow(a, 40))
	on := (160-heldFirst)*onFirst + (passed-160+heldFirst)*onSecond
	assert.InDelta(t, on, running.Metals[0].On[working.Likely], 1e-9)

	require.Len(t, w.Points, 1)
	p := w.Points[0]
	assert.InDelta(t, (passed-on)/10, p.Whole.Grams[0][working.Likely], 1e-9, "treatment leaves a tenth")
	assert.InDelta(t, 3840, p.Whole.Water.Litres(), 1e-9)
	c, ok := p.Whole.MilligramsPerLitre(0)
	assert.True(t, ok)
	assert.InDelta(t, (passed-on)/10/3840*1000, c[working.Likely], 1e-9)
	assert.InDelta(t, (passed-on)*0.9, account(w, "T").Dumped[working.Likely], 1e-9, "what treatment took out")
}

// ratio is the geometric sum that the counterflow stands on, typed anew.
func ratio(q float64, stages int) float64 {
	sum, power := 1.0, 1.0
	for range stages {
		power *= q
		sum += power
	}
	return sum
}

func TestRowsOfDragOutAddUpToTheAccounts(t *testing.T) {
	rows := line + threeDays + `
work 2026-02-04 | cycle=C | area=10 m² | loads=10 | drainage=horizontal, well drained
analysis 2026-02-04 | tank=N | ingredient=Ni | concentration=72 g/L
work 2026-02-05 | cycle=C | area=10 m² | loads=10 | drainage=vertical, well drained
`
	rows = strings.Replace(rows, "per area=0.1 L/m²", "per area=0.1 L/m² | per load=50 mL", 1) +
		"work 2026-02-06 | cycle=C | loads=8 | drainage=vertical, well drained\n"
	w := water(t, rows)
	var sum exposure.Spread
	for _, d := range w.DragOuts {
		require.Len(t, d.Metals, 1)
		for i, c := range []working.Case{working.Likely, working.Low, working.High} {
			sum[i] += d.Metals[0].Mass.At(c).Grams()
		}
	}
	out := account(w, "N").Out
	assert.InDelta(t, out[working.Likely], sum[0], 1e-9)
	assert.InDelta(t, out[working.Low], sum[1], 1e-9)
	assert.InDelta(t, out[working.High], sum[2], 1e-9)
	require.Len(t, w.DragOuts, 4, "one row each for the film that was measured, the published one, the bath after its analysis, and work without an area")
	assert.Less(t, out[working.Low], out[working.High])
}

// What comes out of the baths is somewhere: in the still rinses, at the point,
// in the treatment, hauled, back in a bath, off with the work, or lost.
func TestNoMetalGoesMissing(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var rows strings.Builder
		rows.WriteString(line)
		for i := range rapid.IntRange(1, 6).Draw(r, "works") {
			fmt.Fprintf(&rows, "work 2026-02-%02d | cycle=C | area=%d m² | loads=%d | drainage=%s\n", i+1,
				rapid.IntRange(1, 200).Draw(r, "area"), rapid.IntRange(1, 80).Draw(r, "loads"),
				rapid.SampledFrom([]string{"vertical, well drained", "vertical, poorly drained", "horizontal, very poorly drained"}).Draw(r, "drainage"))
			if to := rapid.SampledFrom([]string{"", "N", "haul", "T", "out", "R1", "nowhere"}).Draw(r, "dump"); to != "" {
				fmt.Fprintf(&rows, "dump 2026-02-%02d | tank=S | volume=%d L | to=%s\n", i+1, rapid.IntRange(1, 200).Draw(r, "volume"), to)
			}
		}
		w := water(t, rows.String())
		for c := range 3 {
			went := w.Hauled["Ni"][c] + w.Lost["Ni"][c] + w.Off["Ni"][c] + account(w, "N").Returned[c] + account(w, "T").Dumped[c]
			for _, p := range w.Points {
				went += p.Whole.Grams[0][c]
			}
			for _, u := range w.Rinses {
				if u.Still != nil {
					for _, m := range u.Still.Metals {
						went += m.Concentration[c] * u.Still.Litres
					}
				}
			}
			out := account(w, "N").Out[c]
			require.InEpsilon(r, out, went, 1e-9, "case %d", c)
		}
	})
}

func TestADipBeforeAndAfterReturnsHalf(t *testing.T) {
	rows := strings.NewReplacer("step=1 | tank=N", "step=2 | tank=N", "step=2 | tank=S", "step=1 | tank=S").Replace(line) +
		"cycle - | cycle=C | step=5 | tank=S\n"
	rows = strings.NewReplacer("step=3 | tank=R1", "step=6 | tank=R1", "step=4 | tank=R2", "step=7 | tank=R2", "step=5 | tank=S", "step=3 | tank=S").Replace(rows)
	for day := range 20 {
		rows += fmt.Sprintf("work 2026-02-%02d | cycle=C | area=500 m² | loads=500 | drainage=vertical, well drained\n", day+1)
	}
	w := water(t, rows)
	n := account(w, "N")
	held := 40.0 * 200
	assert.InEpsilon(t, (n.Out[working.Likely]-held)/2, n.In[working.Likely], 0.01, "half of what does not stay in the dip tank")
	for _, u := range w.Rinses {
		if u.Still != nil {
			assert.InDelta(t, 40, u.Still.Metals[0].Concentration[working.Likely], 0.5, "half of the bath")
		}
	}
}

func TestTheFilmIsTakenInTheOrderOfTrust(t *testing.T) {
	bare := strings.Replace(line, "film - | tank=N | drainage=vertical, well drained | per area=0.1 L/m² | how=weighed\n", "", 1)
	lead := func(rows string) *exposure.Film {
		w := water(t, rows+threeDays)
		require.NotEmpty(t, w.DragOuts)
		return w.DragOuts[0].Film
	}
	assert.Equal(t, exposure.Measured, lead(line).Way)
	assert.Equal(t, exposure.ByTable, lead(bare).Way)

	withdrawn := strings.Replace(bare, "step=1 | tank=N", "step=1 | tank=N | withdrawal=10 cm/s", 1)
	withdrawn = strings.Replace(withdrawn, "tank=N | purpose=plate", "tank=N | purpose=plate | density=1.1 g/mL | viscosity=1 cP", 1)
	film := lead(withdrawn)
	assert.Equal(t, exposure.ByWithdrawal, film.Way)
	assert.InDelta(t, 0.0603, film.PerArea.Is().LitresPerSquareMetre(), 0.00005)

	risen := withdrawn + "dump 2026-01-31 | tank=S | volume=200 L\nanalysis 2026-02-03 | tank=S | ingredient=Ni | concentration=2 g/L\n"
	film = lead(risen)
	assert.Equal(t, exposure.ByRise, film.Way)
	// d = V × ((1 − 2/80)^(−1/100) − 1)
	assert.InDelta(t, 200*(math.Pow(1-2.0/80, -0.01)-1), film.PerLoad.Is().Litres(), 1e-9)

	added := strings.Replace(risen, "ingredient=Ni | concentration=80 g/L", "ingredient=Ni | concentration=80 g/L\nbath - | tank=N | ingredient=boric acid | concentration=40 g/L | leaves=by drag-out only\nproduct - | product=boric acid", 1) +
		"addition 2026-02-02 | tank=N | product=boric acid | amount=100 g\naddition 2026-02-20 | tank=N | product=boric acid | amount=60 g\n"
	film = lead(added)
	assert.Equal(t, exposure.ByAdditions, film.Way)
	assert.InDelta(t, 160/40.0/50, film.PerArea.Is().LitresPerSquareMetre(), 1e-9, "160 g over 40 g/L over 50 m²")
}

func TestNamedFaultsOfTheWaterSide(t *testing.T) {
	for name, c := range map[string]struct{ rows, where, what string }{
		"a rinse in no cycle":      {line + "tank - | tank=X | purpose=rinse\nrinse - | tank=X | arrangement=still\n", "rinse X", "stands in no cycle"},
		"a tank retired that day":  {strings.Replace(line, "tank - | tank=S ", "tank 2026-01-01..2026-02-02 | tank=S ", 1) + threeDays, "tank S", "does not stand on 2026-02-03"},
		"flow zero":                {strings.Replace(line, "flow=4 L/min", "flow=0 L/min", 1) + threeDays, "rinse R1", "its flow is zero"},
		"no flow":                  {strings.Replace(line, " | flow=4 L/min", "", 1) + threeDays, "rinse R1", "no flow of its water is recorded"},
		"a way in a circle":        {strings.Replace(line, "position=1 | drains to=out", "position=1 | drains to=R1", 1) + threeDays, "tank T", "runs in a circle"},
		"a way to nowhere":         {strings.Replace(line, "position=1 | drains to=out", "position=1 | drains to=pond", 1) + threeDays, "tank T", `goes to "pond"`},
		"no removal":               {strings.Replace(line, "removal - | tank=T | pollutant=Ni | removal=90 %\n", "", 1) + threeDays, "tank T", "does not say what it takes out"},
		"work without area":        {line + "work 2026-02-02 | cycle=C | loads=4 | drainage=vertical, well drained\n", "work through C", "no area"},
		"a barrel unmeasured":      {line + "work 2026-02-02 | cycle=C | area=3 m² | drainage=barrel\n", "work through C", "nothing is measured or published"},
		"a cycle without steps":    {line + "cycle 2026-03-01 | cycle=D | step=1 | tank=N\nwork 2026-02-02 | cycle=D | area=3 m²\n", "cycle D", "no steps on that day"},
		"a dump of more than held": {line + threeDays + "dump 2026-02-03 | tank=S | volume=300 L | to=haul\n", "tank S", "more than it holds"},
		"a bath dumped over":       {line + threeDays + "dump 2026-02-03 | tank=N | volume=3000 L | to=out\n", "tank N", "more than it holds"},
		"a bath without metal":     {strings.Replace(strings.Replace(line, "bath - | tank=N | ingredient=Ni | concentration=80 g/L\n", "", 1), "tank=N | purpose=plate", "tank=N | purpose=plate | plates=Ni", 1) + threeDays, "tank N", "nothing says how much Ni it holds"},
		"a rinse of no kind":       {strings.Replace(line, "rinse - | tank=S | arrangement=still\n", "", 1) + threeDays, "tank S", "does not say how the rinse is set up"},
	} {
		t.Run(name, func(t *testing.T) {
			var found []string
			for _, g := range water(t, c.rows).AllGaps() {
				if g.Where == c.where && strings.Contains(g.What, c.what) {
					assert.NotEmpty(t, g.Mend)
					return
				}
				found = append(found, g.Where+": "+g.What)
			}
			assert.Fail(t, "not named", "got %q", found)
		})
	}
}

func TestWorkThatIsNotCountedBringsNothingIntoTheNextRinse(t *testing.T) {
	rows := line + `tank - | tank=P | purpose=plate | working volume=100 L | line=L | position=9 | drains to=haul
cycle - | cycle=C | step=5 | tank=P
film - | tank=P | drainage=barrel | per load=1 L
work 2026-02-02 | cycle=C | loads=4 | drainage=barrel
`
	w := water(t, rows)
	assert.Empty(t, w.Rinses, "of the bath before them no drag-out in a barrel is known")
	assert.InDelta(t, 0, account(w, "N").Out[working.Likely], 0)
}

func TestAWishForAMetalThatDoesNotComeIn(t *testing.T) {
	w := water(t, strings.Replace(line, "rinse - | tank=R2 | arrangement=running", "rinse - | tank=R2 | arrangement=running | wanted=37 mg/L Cu", 1)+threeDays)
	for _, r := range w.Rinses {
		if r.Still == nil {
			assert.Equal(t, "Ni", r.Lead, "the first tank's own wish goes before")
		}
	}
	w = water(t, strings.NewReplacer(" | wanted=37 mg/L Ni", "", "rinse - | tank=R2 | arrangement=running", "rinse - | tank=R2 | arrangement=running | wanted=37 mg/L Cu").Replace(line)+threeDays)
	for _, r := range w.Rinses {
		if r.Still == nil {
			assert.False(t, r.Needed.Known())
			assert.Contains(t, r.Needed.Why(), "no metal is known to come into it")
		}
	}
}

func TestAMeterThatRunsBackwards(t *testing.T) {
	w := water(t, line+threeDays+`
meter - | meter=M | serves=shop | unit=10 L
water 2026-02-01 | meter=M | reading=100
water 2026-02-02 | meter=M | reading=290
water 2026-02-03 | meter=M | reading=90
water 2026-02-04 | meter=M | reading=492
`)
	meters := w.Meters()
	require.Len(t, meters, 1)
	assert.InDelta(t, 3920, meters[0].Metered.Is().Litres(), 1e-9, "the reading that runs backwards is passed over")
	assert.InDelta(t, 3840, meters[0].Rated.Is().Litres(), 1e-9)
	assert.InDelta(t, 3840/3920.0, meters[0].Share.Is(), 1e-9)
	var named bool
	for _, g := range w.AllGaps() {
		named = named || g.Where == "meter M" && strings.Contains(g.What, "runs backwards: 90 on 2026-02-03 after 290 on 2026-02-02")
	}
	assert.True(t, named)
}

func TestWaterOfAPointByItsMeter(t *testing.T) {
	w := water(t, line+threeDays+`
meter - | meter=M | serves=out | unit=1 L
water 2026-02-01 | meter=M | reading=0
water 2026-02-03 | meter=M | reading=7680
`)
	assert.InDelta(t, 7680, w.Points[0].Whole.Water.Litres(), 1e-9, "twice what flows and hours say")
	assert.Equal(t, chemicals.Name("M"), w.Points[0].Meter)
	assert.True(t, w.Points[0].Days[0].Metered)
}

func TestABalanceOfAMetal(t *testing.T) {
	rows := strings.Replace(line, "tank=N | purpose=plate", "tank=N | purpose=plate | plates=Ni | valence=2 | cathode efficiency=100 %", 1) + threeDays + `
product - | product=rounds
product-content - | product=rounds | substance=Ni | low=100 % w/w | high=100 % w/w
stock - | product=rounds | location= | container size=1 kg | containers=10
charge 2026-02-03 | tank=N | charge=1000 A·h
stream - | stream=sludge
waste 2026-02-10 | stream=sludge | event=shipped | amount=50 kg | container=7
waste 2026-02-11 | stream=sludge | event=shipped | amount=50 kg | container=7
assay 2026-02-01 | stream=sludge | metal=Ni | content=2 % w/w
`
	rows = strings.Replace(rows, "stock - | product=rounds | location= | container size=1 kg | containers=10\n", "location - | location=shelf\nstock - | product=rounds | location=shelf | container size=1 kg | containers=10\n", 1)
	shop := shopOf(t, "2026-03-31", rows)
	w := exposure.WaterOf(shop, tables(t))
	balances := w.Balances(exposure.Holdings(shop, tables(t)))
	require.Len(t, balances, 1)
	b := balances[0]
	lines := map[string]exposure.BalanceLine{}
	for _, l := range b.Lines {
		lines[l.What] = l
	}
	assert.InDelta(t, 1000*1.095, lines["plated in N"].Grams[working.Likely], 0.5, "1.095 g/A·h as published for nickel")
	assert.Contains(t, lines["plated in N"].How, "by ampere-hours")
	assert.InDelta(t, 1000, b.Shipped[working.Likely], 1e-9, "the container that was shipped twice counts once")
	var twice bool
	for _, g := range w.AllGaps() {
		twice = twice || strings.Contains(g.What, "container 7 was shipped on 2026-02-10 and again on 2026-02-11")
	}
	assert.True(t, twice)
	came, went := 0.0, 0.0
	for _, l := range b.Lines {
		if l.Comes {
			came += l.Grams[working.Likely]
		} else {
			went += l.Grams[working.Likely]
		}
	}
	assert.InDelta(t, came-went, b.Unexplained[working.Likely], 1e-9)
}

func TestEvaporationIsARange(t *testing.T) {
	w := water(t, line+threeDays+"tank - | tank=H | purpose=plate | length=1 m | width=1 m | temperature=180 °F | heated hours=8 h\n")
	all := w.Evaporations()
	require.Len(t, all, 1)
	// still, 180 °F: 0.253 and 0.30 gal/h·ft² as printed, times 40.746
	assert.InDelta(t, 0.253*40.746, all[0].Low.Is().LitresPerHour(), 0.05)
	assert.InDelta(t, 0.30*40.746, all[0].High.Is().LitresPerHour(), 0.05)
	assert.InDelta(t, 8*(all[0].Low.Is().LitresPerHour()+all[0].High.Is().LitresPerHour())/2, all[0].Day.Is().Litres(), 1e-9)
}

func BenchmarkYear(b *testing.B) {
	rows := line
	day := chemicals.Day("2025-04-01")
	for i := range 250 {
		rows += fmt.Sprintf("work %s | cycle=C | area=%d m² | loads=40 | drainage=vertical, poorly drained\n", day.Add(i), 10+i%20)
	}
	shop := shopOf(b, "2026-03-31", rows)
	set := tables(b)
	for b.Loop() {
		exposure.WaterOf(shop, set)
	}
}

// TestATankThatDrainsNowhereIsNamed: what it drains to is free text, so a slip of
// the pen shows only here; once, and only for a tank that stands.
func TestATankThatDrainsNowhereIsNamed(t *testing.T) {
	const mend = "record drains to for the tank: a tank, a point, or haul"
	gaps := func(rows string) (named []exposure.Gap) {
		for _, g := range water(t, rows).AllGaps() {
			if g.Mend == mend && g.Where == "tank X" {
				named = append(named, g)
			}
		}
		return named
	}
	tank := func(days, to string) string {
		return line + threeDays + "tank " + days + " | tank=X | purpose=clean | drains to=" + to + "\n"
	}
	nowhere := exposure.Gap{Where: "tank X", What: `it drains to "nowhere", which is no tank, no point and not haul`, Mend: mend, Entry: 20}
	assert.Equal(t, []exposure.Gap{nowhere}, gaps(tank("-", "nowhere")))
	assert.Equal(t, []exposure.Gap{nowhere}, gaps(tank("2026-03-31", "nowhere")))
	for what, rows := range map[string]string{
		"a tank": tank("-", "T"), "a point": tank("-", "OUT"), "haul": tank("-", "Haul"),
		"no longer there": tank("2026-01-01..2026-03-30", "nowhere"),
		"mended since":    tank("2026-01-01..2026-02-28", "nowhere") + "tank 2026-03-01 | tank=X | purpose=clean | drains to=out\n",
		"a point of other days": tank("-", "late") +
			"point 2026-02-01..2026-02-28 | point=late | body=sewer\n",
	} {
		assert.Empty(t, gaps(rows), what)
	}
	filled := strings.Replace(tank("-", "nowhere"), "purpose=clean", "purpose=plate | working volume=10 L", 1) +
		"bath - | tank=X | ingredient=Ni | concentration=80 g/L\ndump 2026-02-04 | tank=X | volume=1 L\n"
	told := gaps(filled)
	require.Len(t, told, 1, "its water is named, and the tank not once more")
	assert.Equal(t, `its water goes to "nowhere", which is no tank, no point and not haul`, told[0].What)
}
