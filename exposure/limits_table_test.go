package exposure

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"bathwarden/chemicals/working"
)

func TestFaultsInTheTableOfLimits(t *testing.T) {
	const head = "of,figure,value,document,place,year,standing\n"
	for row, want := range map[string]string{
		"Ni,433 PSES: hourly maximum,1 mg/L,40 CFR 433,433.15(a),2015,law in force":                                  `limits.csv line 2: "hourly maximum" is not a rule of a limit`,
		"Ni,BREF STM: range,1 mg/L,BREF,Table 5.2,2006,from memory":                                                  `limits.csv line 2: "1 mg/L" is not a range`,
		"Ni,weight,1 mg/L,40 CFR 433,433.15(a),2015,law in force":                                                    `limits.csv line 2: "weight" of "Ni" is no figure that is known here`,
		"notice of a violation,time from becoming aware,24,40 CFR 403,403.12(g)(2),2015,law in force":                `limits.csv line 2: `,
		"new source,construction begun after,August 1982,Wis. Adm. Code NR 260,NR 260.03(5),,guidance":               `limits.csv line 2: `,
		"significant noncompliance,months that are looked at,six months,40 CFR 403.8,(f)(2)(viii),2015,law in force": `limits.csv line 2: `,
	} {
		_, err := readLimits(working.Table{Name: "limits.csv", File: head + row + "\n"})
		assert.ErrorContains(t, err, want, row)
	}
}
