package reference

import (
	"fmt"
	"strconv"

	"bathwarden/chemicals/source"
)

type sourceRow struct {
	row  row
	ref  source.Ref
	used bool
}

func (l *loader) loadSources() {
	known := map[source.Ref]string{}
	for _, r := range l.table("sources", "*key", "document", "place", "year", "standing") {
		ref := source.Ref{Document: r.text("document"), Place: r.text("place"), Year: r.year()}
		standing, err := source.ParseStanding(r.text("standing"))
		if err != nil {
			r.fault(err.Error(), "mend the standing")
		}
		ref.Standing = standing
		if err == nil && ref.Document == "" && standing != source.FromMemory && standing != source.CommonPractice {
			r.fault("document is empty", "name the document; only what was recalled has none")
		}
		key := r.must("key")
		if twin, ok := known[ref]; ok {
			r.fault(fmt.Sprintf("source %q is the same as %q", key, twin), "keep one key for one source")
		}
		known[ref] = key
		l.sources[key] = &sourceRow{row: r, ref: ref}
	}
}

func (r row) year() int {
	text := r.text("year")
	if text == "" {
		return 0
	}
	year, err := strconv.Atoi(text)
	if err != nil || year < 1850 || year > 2100 {
		r.fault(fmt.Sprintf("year %q is not a year", text), "write four digits, or nothing where the document bears none")
	}
	return year
}

// unusedSources finds documents that no value rests on.
func (l *loader) unusedSources() {
	for key, s := range l.sources {
		if !s.used {
			s.row.fault(fmt.Sprintf("source %q is not used", key), "take it out, or name it where it belongs")
		}
	}
}
