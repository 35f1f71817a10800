package chemicals

// Row is a row that somebody gives to the book, from a sheet or a command. A
// column that is not in Given changes nothing; one that is there with an empty
// text is cleared.
type Row struct {
	Kind  *Kind
	Where string // "bath.csv line 14", "bath!A7"
	Entry int64  // the entry it corrects, 0 for none
	Given map[string]Cell
}

// Cell is one value of a Row and where it stands.
type Cell struct {
	Text  string
	Where string // "bath.csv line 14, concentration", "bath!D7"
}

// Stands gives the place of a column's cell, or of the row where it has none.
func (r Row) Stands(column string) string {
	if c, ok := r.Given[column]; ok && c.Where != "" {
		return c.Where
	}
	return r.Where
}
