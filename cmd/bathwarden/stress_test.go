package main

import (
	"bytes"
	"database/sql"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"bathwarden/chemicals/recordbook"
	"bathwarden/chemicals/sheet"
)

// ran is what one run of the program gave.
type ran struct {
	code     int
	out, err string
}

// command runs the program in this process and has a panic fail the test with
// the words that led to it.
func command(t testing.TB, args ...string) (r ran) {
	t.Helper()
	var out, errs bytes.Buffer
	defer func() {
		if p := recover(); p != nil {
			t.Errorf("bathwarden %q panics: %v\n%s", args, p, debug.Stack())
			r = ran{code: -1}
		}
	}()
	code := run(args, &out, &errs)
	return ran{code, out.String(), errs.String()}
}

// done runs the program and wants it to succeed.
func done(t testing.TB, args ...string) string {
	t.Helper()
	r := command(t, args...)
	require.Equal(t, exitDone, r.code, "bathwarden %q: %s", args, r.err)
	return r.out
}

// smallSheets are a shop with a row or more of most kinds, so that a book of it
// is read through in a few milliseconds.
var smallSheets = fstest.MapFS{
	"shop.csv":            {Data: []byte("name,first day,time zone,regime,address\nBrook Lane Plating (invented),2026-01-01,UTC,us,1 Brook Lane\n")},
	"location.csv":        {Data: []byte("location,containment volume,ventilated\nshelf,60 gal,yes\nline 1,,no\n")},
	"product.csv":         {Data: []byte("product,form,density,supplier\nMuriatic,liquid,22 °Bé,Mill Chemical (invented)\nBoric acid,solid,,\nBrightener B-2,liquid,1.05 g/mL,\n")},
	"product-content.csv": {Data: []byte("product,substance,low,high\nBoric acid,10043-35-3,99 % w/w,100 % w/w\nMuriatic,hydrogen chloride,31 % w/w,36 % w/w\n")},
	"product-hazard.csv":  {Data: []byte("product,class,category\nMuriatic,Skin Corr.,1B\nMuriatic,STOT SE,3\nBoric acid,Repr.,1B\n")},
	"stock.csv":           {Data: []byte("product,location,container size,containers,from\nMuriatic,shelf,15 gal,2,2026-03-01\nBoric acid,shelf,25 kg,4,2026-03-01\n")},
	"receipt.csv":         {Data: []byte("date,product,container size,containers,lot\n2026-03-10,Muriatic,15 gal,3,L-77\n2026-04-02,Boric acid,25 kg,1,=B2\n")},
	"tank.csv":            {Data: []byte("tank,purpose,working volume,temperature,pH,location\nN1,plate,300 gal,130 °F,4.2,line 1\nR1,rinse,90 gal,,,line 1\nA1,activate,60 gal,,,line 1\n")},
	"bath.csv":            {Data: []byte("tank,ingredient,concentration\nN1,nickel-sulfate-hexahydrate,40 oz/gal\nN1,Boric acid,6 oz/gal\nA1,Muriatic,20 % v/v\n")},
	"analysis.csv":        {Data: []byte("date,tank,ingredient,concentration\n2026-03-04,N1,Ni,76.4 g/L\n2026-03-11,N1,Ni,75.0 g/L\n2026-04-08,N1,boric acid,41 g/L\n2026-04-08,R1,Ni,120 mg/L\n")},
	"addition.csv":        {Data: []byte("date,tank,product,amount\n2026-03-12,N1,Boric acid,5 kg\n2026-03-19,A1,Muriatic,3 gal\n")},
	"person.csv":          {Data: []byte("person,job,role,since\nWren Tallow,plater,signs; emergency coordinator,2019-05-01\n")},
	"training.csv":        {Data: []byte("date,person,topic,trainer\n2026-02-03,Wren Tallow,hazard communication,Plover Training (invented)\n")},
	"check.csv":           {Data: []byte("date,item,place,result,note\n2026-02-01,eyewash,line 1,flows clear,\n2026-02-08,eyewash,line 1,flows clear,\n2026-02-15,sump alarm,pit,rings,second try\n")},
	"paper.csv":           {Data: []byte("paper,sort,issued,expires\nsewer permit,permit,2024-07-01,2029-06-30\n")},
}

// smallBook makes a book of smallSheets with a change, a correction and a
// withdrawal, the same to the byte in every run.
func smallBook(t testing.TB, path string) {
	t.Helper()
	by := recordbook.Author{By: "plater", Why: "measured again", At: time.Date(2026, 5, 4, 12, 30, 0, 0, time.UTC)}
	rows, err := sheet.LoadFS(smallSheets)
	require.NoError(t, err)
	change, err := sheet.LoadFS(fstest.MapFS{"bath.csv": {Data: []byte("tank,ingredient,concentration,from\nN1,Boric acid,5.5 oz/gal,2026-04-01\n")}})
	require.NoError(t, err)
	book, err := recordbook.Create(path)
	require.NoError(t, err)
	_, err = book.Apply(rows, by, false)
	require.NoError(t, err)
	_, err = book.Apply(change, by, false)
	require.NoError(t, err)
	var tank, check int64
	require.NoError(t, book.Entries(1, func(e recordbook.Entry) error {
		switch e.Body[e.Kind.Columns[0].Name] {
		case "A1":
			if e.Kind.Name == "tank" {
				tank = e.Number
			}
		case "2026-02-08":
			check = e.Number
		}
		return nil
	}))
	_, err = book.Correct(tank, map[string]string{"working volume": "65 gal"}, by)
	require.NoError(t, err)
	_, err = book.Withdraw(check, by)
	require.NoError(t, err)
	require.NoError(t, book.Close())
}

// contents are the files below a folder, by their path in it.
func contents(t testing.TB, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(dir, path)
		switch {
		case err != nil || name == ".":
			return err
		case d.IsDir():
			found[name+"/"] = ""
			return nil
		}
		text, err := os.ReadFile(path)
		found[name] = string(text)
		return err
	}))
	return found
}

// names are those of the files that contents found.
func names(found map[string]string) []string { return slices.Sorted(maps.Keys(found)) }

// unchanged wants the files below a folder to be what they were.
func unchanged(t testing.TB, before map[string]string, dir string) {
	t.Helper()
	now := contents(t, dir)
	for _, name := range names(before) {
		_, there := now[name]
		assert.True(t, there, "%s is gone", name)
		assert.True(t, !there || now[name] == before[name], "%s was changed", name)
		delete(now, name)
	}
	assert.Empty(t, names(now), "left behind")
}

// told is what the program prints for one fault.
func told(what, mend string) string {
	if mend == "" {
		return fmt.Sprintf("error: %s\n", what)
	}
	return fmt.Sprintf("error: %s\nhint: %s\n", what, mend)
}

// firstLines keeps the beginning of a long text for a message.
func firstLines(text string, n int) string {
	lines := strings.SplitAfter(text, "\n")
	return strings.Join(lines[:min(n, len(lines))], "")
}

// holdBook begins to write into a book as another program would, and gives what
// ends that.
func holdBook(t testing.TB, path string) func() {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	db.SetMaxOpenConns(1)
	_, err = db.Exec("BEGIN IMMEDIATE")
	require.NoError(t, err)
	return func() {
		_, err := db.Exec("ROLLBACK")
		require.NoError(t, err)
		require.NoError(t, db.Close())
	}
}

// exampleFile is the file of the example shop's book, and the number of entries
// in it.
func exampleFile(t testing.TB) (file []byte, entries int) {
	t.Helper()
	path := filepath.Join(t.TempDir(), defaultBook)
	entries, err := exampleBook(path)
	require.NoError(t, err)
	file, err = os.ReadFile(path)
	require.NoError(t, err)
	return file, entries
}
