package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBadCalculations(t *testing.T) { refuseAll(t, badCalculations) }

var badCalculations = []badInput{
	{"method with a slip", "calc plating.depost", nil, 2,
		told(`"plating.depost" is not a method`, `did you mean "plating.deposit"?`)},
	{"word that names nothing", "calc plating.deposit Ni", nil, 2,
		told(`"Ni" does not name an input`, `write name=value, such as area="14 m²"`)},
	{"name missing", "calc plating.deposit =Ni", nil, 2,
		told(`"=Ni" does not name an input`, `write name=value, such as area="14 m²"`)},
	{"what is not given", "calc plating.deposit metal=Ni", nil, 1,
		told("valence: it is not given", `give valence="2"`) + told("efficiency: it is not given", `give efficiency="95 %"`)},
	{"unknown metal", "calc plating.deposit metal=Xx valence=2 charge=400Ah", []string{"efficiency=95 %"}, 1,
		told(`metal: no molar mass is known for it: "Xx" is not in the table`, "give a metal of the tables by its symbol, or its molar_mass")},
	{"formula for a metal", "calc plating.deposit metal==1+1 valence=2 charge=400Ah", []string{"efficiency=95 %"}, 1,
		told(`metal: no molar mass is known for it: "=1+1" is not in the table`, "give a metal of the tables by its symbol, or its molar_mass")},
	{"valence of nothing", "calc plating.deposit metal=Ni valence=0 charge=400Ah", []string{"efficiency=95 %"}, 1,
		told("valence: a valence of 0 deposits nothing", "give the electrons that deposit one atom, from 1 to 8: 2 for nickel(II)")},
	{"valence below nothing", "calc plating.deposit metal=Ni valence=-2 charge=400Ah", []string{"efficiency=95 %"}, 1,
		told(`valence: "-2" is not a whole number from zero up`, `write it in digits, without a unit: "2"`)},
	{"half a valence", "calc plating.deposit metal=Ni valence=2.5 charge=400Ah", []string{"efficiency=95 %"}, 1,
		told(`valence: "2.5" is not a whole number from zero up`, `write it in digits, without a unit: "2"`)},
	{"valence beyond any metal", "calc plating.deposit metal=Ni valence=99 charge=400Ah", []string{"efficiency=95 %"}, 1,
		told("valence: a valence of 99 deposits nothing", "give the electrons that deposit one atom, from 1 to 8: 2 for nickel(II)")},
	{"efficiency as a fraction", "calc plating.deposit metal=Ni valence=2 efficiency=0.95 charge=400Ah", nil, 1,
		told(`efficiency: "0.95" does not say that it is a share`, `write the share in percent; 0.95 of the whole is "95 %"`)},
	{"efficiency without its sign", "calc plating.deposit metal=Ni valence=2 efficiency=95 charge=400Ah", nil, 1,
		told(`efficiency: "95" does not say that it is a share`, `write the share in percent: "95 %"`)},
	{"negative efficiency", "calc plating.deposit metal=Ni valence=2 charge=400Ah", []string{"efficiency=-5 %"}, 1,
		told(`efficiency: "-5 %" is negative`, `a share is never below zero; write it as "95 %"`)},
	{"efficiency in words", "calc plating.deposit metal=Ni valence=2 charge=400Ah", []string{"efficiency=most"}, 1,
		told(`efficiency: "most" is not a share`, `write it in percent: "95 %"`)},
	{"charge without a unit", "calc plating.deposit metal=Ni valence=2 charge=400", []string{"efficiency=95 %"}, 1,
		told(`charge: "400" has no unit`, `write it as "400 A·h"`)},
	{"current for a charge", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %", "charge=400 A"}, 1,
		told(`charge: "400 A" is a current; wanted is a charge`, `write it as "400 A·h"`)},
	{"negative charge", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %", "charge=-400 A·h"}, 1,
		told(`charge: "-400 A·h" is negative`, `a charge is never below zero; write it as "400 A·h"`)},
	{"no number", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %", "charge=NaN A·h"}, 1,
		told(`charge: "NaN A·h" does not start with a number`, `write it as "400 A·h"`)},
	{"beyond any figure", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %", "charge=1e400 A·h"}, 1,
		told(`charge: "1e400 A·h" is beyond any figure`, "check the exponent of the number")},
	{"decimal comma", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %", "charge=4,5 A·h"}, 1,
		told(`charge: "4,5 A·h" has a comma in its number`, `write "4.5", with a point as the decimal mark`)},
	{"no charge", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %"}, 1,
		told("charge: it is not given", `give charge="400 A·h", or current="20 A" and time="1 h"`)},
	{"current without a time", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %", "current=20 A"}, 1,
		told("time: a current is given without a time", `give time="1 h"`)},
	{"charge twice over", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %", "current=20 A", "time=1 h", "charge=20 A·h"}, 1,
		told("charge: both a charge and a current or time are given", "give the charge, or current and time")},
	{"area of nothing", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %", "charge=20 A·h", "area=0 dm²"}, 1,
		told("area: an area of zero has no thickness", "give the area that was plated, or leave it out")},
	{"input twice", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %", "charge=20 A·h", "metal=Cu"}, 1,
		told("metal: it is given twice", "give it once")},
	{"input that is none", "calc plating.deposit metal=Ni valence=2", []string{"efficiency=95 %", "charge=20 A·h", "colour=red"}, 1,
		told(`colour: "colour" is not an input`, "known here: metal, valence, efficiency, molar_mass, density, charge, current, time, area")},
	{"input with a slip", "calc plating.deposit metal=Ni valence=2", []string{"efficency=95 %", "charge=20 A·h"}, 1,
		told("efficiency: it is not given", `give efficiency="95 %"`) + told(`efficency: "efficency" is not an input`, `did you mean "efficiency"?`)},
	{"list for one value", "calc plating.deposit valence=2 metal=[Ni]", []string{"efficiency=95 %", "charge=20 A·h"}, 1,
		told("metal: it takes one value, not a list", `give metal="Ni"`)},
	{"names for one value", "calc plating.deposit valence=2", []string{"metal={a: b}", "efficiency=95 %", "charge=20 A·h"}, 1,
		told("metal: it takes one value, not named values", `give metal="Ni"`)},
	{"list in a list", "calc stock.containment", []string{"volumes=[55 gal, [30 gal]]"}, 1,
		told("volumes 2: it is not one value", "write a value")},
	{"list of nothing", "calc stock.containment", []string{"volumes=;;"}, 1,
		told("volumes 1: it is not one value", "write a value") + told("volumes 2: it is not one value", "write a value")},
	{"no containers", "calc stock.containment", []string{"volumes=0 x 55 gal"}, 1,
		told("volumes 1: it counts 0 entries", "count from 1 to 10000")},
	{"volume without a unit in a list", "calc stock.containment", []string{"volumes=55 gal; 30"}, 1,
		told(`volumes 2: "30" has no unit`, `write it as "120 L"`)},
	{"thickness without an area", "calc plating.charge metal=Ni valence=2", []string{"efficiency=95 %", "thickness=10 µm"}, 1,
		told("area: a thickness is given without an area", `give area="14 dm²"`)},
	{"deposit without efficiency", "calc plating.charge metal=Ni valence=2", []string{"efficiency=0 %", "thickness=10 µm", "area=1 m²"}, 1,
		told("efficiency: at an efficiency of zero no charge deposits anything", `give the cathode efficiency of the bath: efficiency="95 %"`)},
	{"mass and thickness", "calc plating.charge metal=Ni valence=2", []string{"efficiency=95 %", "thickness=10 µm", "area=1 m²", "mass=1 g"}, 1,
		told("mass: both a mass and a thickness or area are given", "give thickness and area, or the mass")},
	{"no current", "calc plating.charge metal=Ni valence=2 current=0A", []string{"efficiency=95 %", "thickness=10 µm", "area=1 m²"}, 1,
		told("current: a current of zero takes for ever", "give the current, or leave it out")},
	{"current and time", "calc plating.charge metal=Ni valence=2 current=5A", []string{"efficiency=95 %", "thickness=10 µm", "area=1 m²", "time=5 min"}, 1,
		told("time: both a current and a time are given", "give the current to learn the time, or the time to learn the current")},
	{"units of neither system", "calc convert to=oz/gal --units imperial", []string{"value=5 g/L"}, 2,
		told(`--units: "imperial" is not a system of units`, "write metric or us")},
	{"file that is not there", "calc --file nowhere.yaml", nil, 1,
		told("nowhere.yaml: the file cannot be opened: no such file or directory", "check the path and its rights")},
	{"file and method", "calc plating.deposit --file example.yaml", nil, 2,
		told("--file: a file names its methods and inputs itself", "leave the words after calc out")},
}

const soundExample = `id: a
method: plating.deposit
inputs: {metal: Ni, valence: 2, charge: 20 A·h, efficiency: 95 %}
expect: {mass: {is: 20.8 g, digits: 3}}
`

// badExamples are files of worked examples, and all that the program prints of
// each.
var badExamples = []struct{ name, text, want string }{
	{"empty", "",
		told("case.yaml line 1: it holds no worked example", "write one with method: and inputs:")},
	{"blank", "\n\n---\n",
		told("case.yaml line 1: it holds no worked example", "write one with method: and inputs:")},
	{"words", "hello\n",
		told("case.yaml line 1: a worked example is one value", "write its parts by name: method:, inputs:")},
	{"list", "- a\n- b\n",
		told("case.yaml line 1: a worked example is a list", "write its parts by name: method:, inputs:")},
	{"tab", strings.Replace(soundExample, "inputs: ", "inputs:\n\t", 1),
		told("case.yaml near line 4: found character that cannot start any token", "write it as YAML: name: value, lists with - or in [ ]")},
	{"bracket that stays open", strings.TrimSuffix(soundExample, "}\n"),
		told("case.yaml near line 3: did not find expected ',' or '}'", "write it as YAML: name: value, lists with - or in [ ]")},
	{"no method", strings.Replace(soundExample, "method: plating.deposit\n", "", 1),
		told("case.yaml line 1: method is missing", "write method: followed by words")},
	{"method with a slip", strings.Replace(soundExample, "plating.deposit", "plating.depost", 1),
		told(`case.yaml line 1: "plating.depost" is not a method`, `did you mean "plating.deposit"?`)},
	{"unknown part", soundExample + "colour: red\n",
		told(`case.yaml line 5: "colour" is not a part of a worked example`, "known here: id, title, method, source, inputs, expect, note")},
	{"part twice", soundExample + "id: b\n",
		told(`case.yaml line 5: "id" stands twice`, "keep one of them")},
	{"no inputs", strings.Replace(soundExample, "inputs: {metal: Ni, valence: 2, charge: 20 A·h, efficiency: 95 %}\n", "", 1),
		told("case.yaml line 1: inputs is missing", "write inputs: and below it name: value")},
	{"inputs in words", strings.Replace(soundExample, "{metal: Ni, valence: 2, charge: 20 A·h, efficiency: 95 %}", "some", 1),
		told("case.yaml line 3: inputs is one value", "write name: value, one a line, below inputs:")},
	{"input twice", strings.Replace(soundExample, "valence: 2", "valence: 2, valence: 3", 1),
		told("case.yaml line 3, valence: it is given twice", "give it once")},
	{"input with a slip", strings.Replace(soundExample, "valence", "valance", 1),
		told("case.yaml line 3, valence: it is not given", `give valence="2"`) + told(`case.yaml line 3, valance: "valance" is not an input`, `did you mean "valence"?`)},
	{"no number", strings.Replace(soundExample, "20 A·h", ".nan", 1),
		told(`case.yaml line 3, charge: ".nan" does not start with a number`, `write it as "400 A·h"`)},
	{"negative", strings.Replace(soundExample, "20 A·h", "-20 A·h", 1),
		told(`case.yaml line 3, charge: "-20 A·h" is negative`, `a charge is never below zero; write it as "400 A·h"`)},
	{"no unit", strings.Replace(soundExample, "20 A·h", "20", 1),
		told(`case.yaml line 3, charge: "20" has no unit`, `write it as "400 A·h"`)},
	{"digits without end", strings.Replace(soundExample, "20 A·h", strings.Repeat("1", 400)+" A·h", 1),
		told(`case.yaml line 3, charge: "111111111111111111111111111111111111111111111111111111111111…" is too long for a quantity`, `write it as "400 A·h"`)},
	{"output that is none", strings.Replace(soundExample, "mass:", "weight:", 1),
		told(`case.yaml line 4: "weight" is not an output of plating.deposit`, "known here: mass, thickness, charge")},
	{"no digits", strings.Replace(soundExample, "digits: 3", "digits: 0", 1),
		told(`case.yaml line 4: digits is "0"`, "write how many significant digits count, from 1 to 15")},
	{"digits in words", strings.Replace(soundExample, "digits: 3", "digits: all", 1),
		told(`case.yaml line 4: digits is "all"`, "write how many significant digits count, from 1 to 15")},
	{"digits and within", strings.Replace(soundExample, "digits: 3", "digits: 3, within: 5 %", 1),
		told("case.yaml line 4: both digits and within are given", "keep one of them")},
	{"within below nothing", strings.Replace(soundExample, "digits: 3", "within: -5 %", 1),
		told(`case.yaml line 4: within is "-5 %"`, `write a share of the answer, "0.5 %", or a difference, "0.01 g/L"`)},
	{"within without a unit", strings.Replace(soundExample, "digits: 3", "within: 5", 1),
		told("case.yaml line 4: within is not in the unit of the answer", `write a share of the answer, "0.5 %", or a difference in its own unit`)},
	{"disputed in one word", strings.Replace(soundExample, "digits: 3", "digits: 3, disputed: yes", 1),
		told("case.yaml line 4: disputed is one value", "write disputed: {why: ..., ours: ...}")},
	{"expects a list", strings.Replace(soundExample, "{mass: {is: 20.8 g, digits: 3}}", "[mass]", 1),
		told("case.yaml line 4: expect is a list", "write name: value, one a line, below expect:")},
	{"tag", strings.Replace(soundExample, "valence: 2", "valence: !!int 2", 1),
		told(`case.yaml line 3: it has the tag "!!int"`, "leave the tag out; values are read as text")},
	{"merged", soundExample + "<<: {note: b}\n",
		told(`case.yaml line 5: "<<" is not a part of a worked example`, "known here: id, title, method, source, inputs, expect, note")},
	{"not UTF-8", strings.ReplaceAll(soundExample, "·", "\xb7"),
		told("case.yaml near line 1: invalid leading UTF-8 octet", "write it as YAML: name: value, lists with - or in [ ]")},
	{"zero byte", soundExample + "\x00",
		told("case.yaml near line 1: control characters are not allowed", "write it as YAML: name: value, lists with - or in [ ]")},
	{"standing that is none", soundExample + "source: {document: d, standing: gossip}\n",
		told(`case.yaml line 5: standing "gossip" is not one of: law in force; historical law; guidance; handbook; paper; shop's own record; common practice, no source; from memory`, "write one of them")},
	{"year in words", soundExample + "source: {document: d, year: soon, standing: paper}\n",
		told(`case.yaml line 5: the year is "soon"`, "write the year of the edition in four digits, or leave it out")},
	{"two at fault", strings.Replace(soundExample, "20 A·h", "20 L", 1) + "---\n" + strings.Replace(soundExample, "95 %", "95", 1),
		told(`case.yaml line 3, charge: "20 L" is a volume; wanted is a charge`, `write it as "400 A·h"`) + told(`case.yaml line 8, efficiency: "95" does not say that it is a share`, `write the share in percent: "95 %"`)},
}

func TestBadFilesOfExamples(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, c := range badExamples {
		t.Run(c.name, func(t *testing.T) {
			require.NoError(t, os.WriteFile("case.yaml", []byte(c.text), 0o600))
			assert.Equal(t, ran{code: exitFailed, err: c.want}, command(t, "calc", "--file", "case.yaml"))
		})
	}
}

// TestExamplesThatAreNotHeld lets everything be read and finds that the answer
// is another.
func TestExamplesThatAreNotHeld(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, c := range map[string]struct {
		text string
		code int
	}{
		"sound":                 {soundExample, exitDone},
		"wrong in the third":    {strings.Replace(soundExample, "20.8", "20.9", 1), exitGaps},
		"wrong by far":          {strings.Replace(soundExample, "20.8", "208", 1), exitGaps},
		"right within":          {strings.Replace(soundExample, "digits: 3", "within: 0.1 %", 1), exitDone},
		"not within":            {strings.Replace(strings.Replace(soundExample, "digits: 3", "within: 0.1 %", 1), "20.8", "20.9", 1), exitGaps},
		"one of two":            {soundExample + "---\n" + strings.Replace(soundExample, "20.8", "21.8", 1), exitGaps},
		"with the mark of text": {"\ufeff" + soundExample, exitDone},
		"with other line ends":  {strings.ReplaceAll(soundExample, "\n", "\r\n"), exitDone},
	} {
		require.NoError(t, os.WriteFile("case.yaml", []byte(c.text), 0o600))
		r := command(t, "calc", "--file", "case.yaml")
		assert.Equal(t, c.code, r.code, "%s: %s%s", name, r.out, r.err)
		assert.Equal(t, c.code == exitGaps, strings.Contains(r.out, "DOES NOT HOLD"), name)
		assert.Empty(t, r.err, name)
	}
}
