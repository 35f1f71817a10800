package hazard

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"bathwarden/chemicals/working"
)

var (
	statementCode = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)\b(EUH ?\d{3}[A-Z]?|H ?\d{3}[A-Z]{0,2})\b`) })
	category      = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)(?:\bcat(?:egory|\.)? ?)?\b([1-5][A-C]?)\b`) })
)

const classExample = `write the abbreviation of Annex VI, as in "Skin Corr. 1B" or "Acute Tox. 4 (oral)"`

// ParseClass reads a class: the abbreviation of Annex VI, with or without dots,
// route and statement code ("Skin Corr. 1B", "acute tox 4 oral", "Acute Tox. 4,
// H302"); the name of the class with its category ("Carcinogenicity 1B"); or a
// statement code alone where only one class bears it. An Acute Tox. without
// route gives one class for each route. Errors are *working.Fault.
func ParseClass(text string) ([]Class, error) {
	codes := statementCode().FindAllString(text, -1)
	for i, code := range codes {
		codes[i] = tidyCode(code)
		if _, ok := texts().Statement(codes[i]); !ok {
			return nil, &working.Fault{What: strconv.Quote(text) + " has the code " + codes[i] + ", which is not known here", Mend: classExample}
		}
	}
	rest := statementCode().ReplaceAllString(text, " ")
	if letters(rest) == "" && len(codes) > 0 {
		return classesOfCodes(text, codes)
	}
	classes := namedClasses(rest)
	if len(classes) == 0 {
		return nil, &working.Fault{What: strconv.Quote(text) + " is no hazard class known here", Mend: classExample}
	}
	return withCodes(text, classes, codes)
}

// tidyCode is a code as the tables write it: "EUH032", "H360Df".
func tidyCode(code string) string {
	code = strings.ReplaceAll(code, " ", "")
	if strings.HasPrefix(strings.ToUpper(code), "EUH") {
		return strings.ToUpper(code)
	}
	return strings.ToUpper(code[:1]) + code[1:]
}

// supplementOf is the EUH code that a text is, if it is one.
func supplementOf(text string) (string, bool) {
	text = strings.TrimSpace(text)
	if text == "" || statementCode().FindString(text) != text {
		return "", false
	}
	code := tidyCode(text)
	return code, strings.HasPrefix(code, "EUH")
}

// base is a code without the letters that say more: H360 of H360FD.
func base(code string) string {
	if strings.HasPrefix(code, "EUH") {
		return code
	}
	return code[:min(len(code), len("H000"))]
}

// namedClasses are the classes that a text without codes names.
func namedClasses(text string) []Class {
	at, number := "", ""
	if found := category().FindStringSubmatch(text); found != nil {
		at, number = found[0], strings.ToUpper(found[1])
	}
	words := letters(strings.Replace(text, at, " ", 1))
	var best []Class
	longest := 0
	for _, row := range published().names {
		for _, name := range append(row.words(), row.of) {
			rest, found := strings.CutPrefix(words, letters(name))
			if !found || len(letters(name)) < longest {
				continue
			}
			if classes := qualified(row.of, number, rest); classes != nil {
				best, longest = classes, len(letters(name))
			}
		}
	}
	return best
}

// qualified is a kind with its category and what is said of route or effect.
func qualified(kind, number, rest string) []Class {
	name := strings.TrimSpace(kind + " " + number)
	organ := name == "STOT SE 1" || name == "STOT SE 2" || kind == "STOT RE" // may be named behind the class
	if rest != "" && kind != "Acute Tox." && name != "STOT SE 3" && !organ {
		return nil
	}
	switch {
	case kind == "Acute Tox." && rest == "":
		return known(Class{Name: name, Route: Oral}, Class{Name: name, Route: Dermal}, Class{Name: name, Route: Inhaled})
	case kind == "Acute Tox.":
		return known(Class{Name: name, Route: Route(qualifier(kind, rest))})
	case name == "STOT SE 3" && rest != "":
		return known(Class{Name: name, Code: qualifier(kind, rest)})
	case name == "STOT SE 3":
		return known(Class{Name: name, Code: "H335"})
	}
	return known(Class{Name: name})
}

// qualifier is what the words behind a kind mean; "none" where they mean nothing.
func qualifier(kind, words string) string {
	for _, row := range published().of[kind] {
		if row.figure != namesOfClass && slices.ContainsFunc(row.words(), func(w string) bool { return letters(w) == words }) {
			return row.figure
		}
	}
	return "none"
}

// known gives the classes their codes, or nothing where one is not known.
func known(classes ...Class) []Class {
	for i, c := range classes {
		l, ok := published().byClass[c.key()]
		if !ok {
			return nil
		}
		classes[i].Code = l.class.Code
	}
	return classes
}

// letters makes spellings alike: without case, blanks and signs, and in one
// spelling of -ise.
func letters(text string) string {
	only := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, strings.ToLower(text))
	return strings.NewReplacer("isation", "ization", "isiser", "itizer", "itiser", "itizer", "oxidis", "oxidiz").Replace(only)
}

// withCodes checks classes against the codes written beside them.
func withCodes(text string, classes []Class, codes []string) ([]Class, error) {
	if len(codes) == 0 {
		return classes, nil
	}
	var fit []Class
	for _, c := range classes {
		for _, code := range codes {
			if c.Name == "STOT SE 3" && (code == "H335" || code == "H336") {
				c.Code = code
			}
			if base(code) == c.Code {
				c.Code = code
				fit = append(fit, c)
			}
		}
	}
	if len(fit) == 0 {
		return nil, &working.Fault{
			What: strconv.Quote(text) + " names a class and the code of another",
			Mend: classes[0].String() + " has " + classes[0].Code + "; mend the one or the other",
		}
	}
	return fit, nil
}

// classesOfCodes are the classes of codes that stand alone.
func classesOfCodes(text string, codes []string) ([]Class, error) {
	var all []Class
	for _, code := range codes {
		var bear []Class
		for _, l := range published().labels {
			if l.class.Code == base(code) {
				c := l.class
				c.Code = code
				bear = append(bear, c)
			}
		}
		chosen, ok := plainest(bear)
		if !ok {
			return nil, ambiguous(text, code, bear)
		}
		all = append(all, chosen)
	}
	return all, nil
}

// plainest is the class of a code: the only one, or the category without a
// letter where the others are its letters.
func plainest(bear []Class) (Class, bool) {
	if len(bear) == 0 {
		return Class{}, false
	}
	plain := bear[0]
	for _, c := range bear {
		if len(c.Category()) < len(plain.Category()) {
			plain = c
		}
	}
	for _, c := range bear {
		if c.Kind() != plain.Kind() || !strings.HasPrefix(c.Category(), plain.Category()) {
			return Class{}, false
		}
	}
	return plain, true
}

func ambiguous(text, code string, bear []Class) error {
	if len(bear) == 0 {
		return &working.Fault{What: strconv.Quote(text) + " has a code that no class here bears", Mend: classExample}
	}
	names := make([]string, len(bear))
	for i, c := range bear {
		names[i] = c.String()
	}
	return &working.Fault{What: code + " stands for several classes", Mend: "write which one: " + strings.Join(names, ", ")}
}
