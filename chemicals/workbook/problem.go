package workbook

// Problem is a fault in a workbook that its owner can mend: where it is, what
// it is, and what to do about it.
type Problem struct {
	Where string // file, or sheet and cell as Stock!B7; empty where the caller knows it better
	What  string
	Mend  string // empty where nothing more can be said
}

func (p *Problem) Error() string {
	text := p.What
	if p.Where != "" {
		text = p.Where + ": " + text
	}
	if p.Mend != "" {
		text += "; " + p.Mend
	}
	return text
}
