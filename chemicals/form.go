package chemicals

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// value is what the type of a column can do; every type reads and writes one
// text form.
type value interface {
	UnmarshalText(text []byte) error
	String() string
	Meaning() string
	Example() string
}

// worded is a string type with a closed list of words.
type worded interface{ words() []string }

// form reads and writes the values of one column type.
type form struct {
	example string
	words   []string
	units   []string
	set     func(field reflect.Value, text string) error
	read    func(text string) (tidy, meaning string, err error)
}

func (f form) tidy(text string) (string, error) {
	tidy, _, err := f.read(text)
	return tidy, err
}

func (f form) meaning(text string) (string, error) {
	_, meaning, err := f.read(text)
	return meaning, err
}

// formOf finds how a field is read. A type that is none of the known forms is
// a mistake in a kind and panics when the program starts.
func formOf(t reflect.Type) form {
	zero := reflect.New(t).Interface()
	switch v := zero.(type) {
	case value:
		return valueForm(t, v)
	case worded:
		return wordForm(t, v.words())
	}
	if t.Kind() == reflect.Slice {
		return listForm(formOf(t.Elem()))
	}
	panic("chemicals: no text form for " + t.String())
}

func valueForm(t reflect.Type, zero value) form {
	f := form{example: zero.Example()}
	if measured, ok := zero.(interface{ Units() []string }); ok {
		f.units = measured.Units()
	}
	f.set = func(field reflect.Value, text string) error {
		if text == "" {
			return nil
		}
		return field.Addr().Interface().(value).UnmarshalText([]byte(text))
	}
	f.read = func(text string) (string, string, error) {
		if strings.TrimSpace(text) == "" {
			return "", "", nil
		}
		v := reflect.New(t).Interface().(value)
		if err := v.UnmarshalText([]byte(text)); err != nil {
			return "", "", err
		}
		return v.String(), v.Meaning(), nil
	}
	return f
}

// Words lists the words of a closed list; semicolons part those that hold
// commas themselves.
func Words(words []string) string {
	if slices.ContainsFunc(words, func(w string) bool { return strings.Contains(w, ",") }) {
		return strings.Join(words, "; ")
	}
	return strings.Join(words, ", ")
}

func wordForm(t reflect.Type, words []string) form {
	read := func(text string) (string, string, error) {
		tidy := strings.ToLower(strings.Join(strings.Fields(text), " "))
		for _, w := range append([]string{""}, words...) {
			if w == tidy {
				return tidy, tidy, nil
			}
		}
		return "", "", &Problem{What: fmt.Sprintf("%q is none of its words", tidy), Mend: "write one of: " + Words(words)}
	}
	return form{
		example: words[0],
		words:   words,
		read:    read,
		set: func(field reflect.Value, text string) error {
			tidy, _, err := read(text)
			field.SetString(tidy)
			return err
		},
	}
}

// listForm reads several values of one form in one cell, parted by semicolons.
func listForm(one form) form {
	return form{
		example: one.example + "; " + one.example,
		words:   one.words,
		read: func(text string) (string, string, error) {
			var tidy, meaning []string
			for _, part := range strings.Split(text, ";") {
				t, m, err := one.read(part)
				if err != nil {
					return "", "", err
				}
				if t != "" {
					tidy, meaning = append(tidy, t), append(meaning, m)
				}
			}
			return strings.Join(tidy, "; "), strings.Join(meaning, "; "), nil
		},
		set: func(field reflect.Value, text string) error {
			if text == "" {
				return nil
			}
			for _, part := range strings.Split(text, "; ") {
				v := reflect.New(field.Type().Elem()).Elem()
				if err := one.set(v, part); err != nil {
					return err
				}
				field.Set(reflect.Append(field, v))
			}
			return nil
		},
	}
}
