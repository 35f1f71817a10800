package recalc_test

import (
	"bytes"
	"fmt"
	"os/exec"
	"testing"
	"time"

	"bathwarden/chemicals/workbook"
	"bathwarden/reports/xlsx/recalc"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// recorder takes down what a check says, so that a failing check can be tested.
type recorder struct {
	testing.TB
	said []string
}

func (r *recorder) Errorf(format string, args ...any) {
	r.said = append(r.said, fmt.Sprintf(format, args...))
}

func book(t *testing.T, figures ...workbook.Value) []byte {
	t.Helper()
	b, err := workbook.New(workbook.Props{Day: time.Date(2026, 3, 31, 0, 0, 0, 0, time.UTC)})
	require.NoError(t, err)
	defer b.Close()
	s, err := b.Sheet("Stock")
	require.NoError(t, err)
	for _, v := range figures {
		require.NoError(t, s.Row(workbook.Number(2), workbook.Number(5), v))
	}
	var out bytes.Buffer
	require.NoError(t, b.Write(&out))
	return out.Bytes()
}

func TestRightFiguresPass(t *testing.T) {
	data := book(t, workbook.Live("A1*B1", 10), workbook.Live("A2/B2", 0.4), workbook.Live("SUM(A1:A3)/3", 2), workbook.Number(7),
		workbook.Live("1/3", 1.0/3))
	assert.Equal(t, 4, recalc.Check(t, data))
}

func TestWrongFiguresFail(t *testing.T) {
	if _, err := exec.LookPath("soffice"); err != nil {
		recalc.Check(t, book(t)) // skips or fails as it sees fit
	}
	r := &recorder{TB: t}
	n := recalc.Check(r, book(t,
		workbook.Live("A1*B1", 999), workbook.Live("A2*B2", 10.0000001), workbook.Live("A3*B3", 10),
		workbook.Live("nosuchname+1", 1), workbook.Live("A5/0", 1), workbook.Live(`A6&"x"`, 2)))
	assert.Equal(t, 6, n)
	assert.ElementsMatch(t, []string{
		`Stock!C1: =A1*B1: we stored number "999", recalculation gives number "10"`,
		`Stock!C2: =A2*B2: we stored number "10.0000001", recalculation gives number "10"`,
		`Stock!C4: =nosuchname+1: we stored number "1", recalculation gives error "#NAME?"`,
		`Stock!C5: =A5/0: we stored number "1", recalculation gives error "#DIV/0!"`,
		`Stock!C6: =A6&"x": we stored number "2", recalculation gives text "2x"`,
	}, r.said)
}
