package working

import (
	"bytes"
	"encoding/json"

	"bathwarden/chemicals/quantity"
)

// object is a JSON object whose members keep their order.
type object []member

type member struct {
	name  string
	value any
}

// MarshalJSON writes the members in order. Figures keep all their digits.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		name, err := plainJSON(m.name)
		if err != nil {
			return nil, err
		}
		value, err := plainJSON(m.value)
		if err != nil {
			return nil, err
		}
		b.Write(name)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// plainJSON leaves <, > and & as they are: the output is no web page.
func plainJSON(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSpace(b.Bytes()), err
}

// json is null where there is no value.
func (v Value) json(units quantity.System) any {
	if v.body == nil {
		return nil
	}
	return v.body.json(units)
}

// JSON writes what the method gave:
//
//	{"method": ..., "outputs": {"ratio": {"value": 100, "unit": ""}}, "caveats": []}
//
// A figure between bounds has "low" and "high" beside its value. Lists are
// arrays, words strings, answers booleans. An output without a value is left
// out and stands with its reason in "absent", which is there only then.
func (m Method) JSON(out Outputs, units quantity.System) ([]byte, error) {
	outputs, absent := object{}, object{}
	for _, one := range out {
		if one.Value.Known() {
			outputs = append(outputs, member{one.Name, one.Value.json(units)})
			continue
		}
		absent = append(absent, member{one.Name, one.Value.why})
	}
	caveats := out.Caveats()
	if caveats == nil {
		caveats = []Caveat{}
	}
	all := object{{"method", m.Name}, {"outputs", outputs}, {"caveats", caveats}}
	if len(absent) > 0 {
		all = append(all, member{"absent", absent})
	}
	compact, err := plainJSON(all)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = json.Indent(&b, compact, "", "  ")
	return b.Bytes(), err
}
