package pdf

import (
	"bytes"
	"fmt"
	"regexp"
	"sync"
	"time"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/johnfercher/maroto/v2"
	"github.com/johnfercher/maroto/v2/pkg/components/col"
	"github.com/johnfercher/maroto/v2/pkg/components/image"
	ruled "github.com/johnfercher/maroto/v2/pkg/components/line"
	"github.com/johnfercher/maroto/v2/pkg/components/page"
	"github.com/johnfercher/maroto/v2/pkg/components/row"
	"github.com/johnfercher/maroto/v2/pkg/components/text"
	"github.com/johnfercher/maroto/v2/pkg/config"
	"github.com/johnfercher/maroto/v2/pkg/consts/align"
	"github.com/johnfercher/maroto/v2/pkg/consts/border"
	"github.com/johnfercher/maroto/v2/pkg/consts/extension"
	"github.com/johnfercher/maroto/v2/pkg/consts/fontstyle"
	"github.com/johnfercher/maroto/v2/pkg/consts/linestyle"
	"github.com/johnfercher/maroto/v2/pkg/consts/orientation"
	"github.com/johnfercher/maroto/v2/pkg/consts/pagesize"
	"github.com/johnfercher/maroto/v2/pkg/core"
	"github.com/johnfercher/maroto/v2/pkg/core/entity"
	"github.com/johnfercher/maroto/v2/pkg/fontrepository"
	"github.com/johnfercher/maroto/v2/pkg/props"
	"github.com/phpdave11/gofpdf"

	"bathwarden/reports/doc"
)

// Text, fills, rules and our own pictograms are handed over. The library prints
// its complaints about images into the document; ours are tested to be sound.

// titles are what the file says of itself.
type titles struct {
	title, author, subject, creator string
	day                             time.Time
}

func titlesOf(d *doc.Document, day time.Time) titles {
	return titles{
		title:   clean(d.Head.Title),
		author:  clean(d.Head.Shop),
		subject: clean(d.Head.Kind),
		creator: clean(d.Foot.Program),
		day:     day,
	}
}

// handOver gives finished pages to the PDF library and checks that the file has
// just these: the library would begin a page of its own for a strip that it
// finds too low on the sheet.
func handOver(paper sheet, pages [][]strip, t titles) ([]byte, error) {
	data, err := generate(paper, pages, t)
	if err != nil {
		return nil, err
	}
	blankRepeats(data)
	if n := countPages(data); n != len(pages) {
		return nil, fmt.Errorf("%d pages were planned and %d written; print it as text or as a workbook", len(pages), n)
	}
	return data, nil
}

// generate is the library's part.
func generate(paper sheet, pages [][]strip, t titles) ([]byte, error) {
	fonts, err := fontrepository.New().
		AddUTF8FontFromBytes("body", fontstyle.Normal, dejavusanscondensed.TTF).
		AddUTF8FontFromBytes("body", fontstyle.Bold, dejavusanscondensedbold.TTF).Load()
	if err != nil {
		return nil, err
	}
	size := pagesize.A4
	if paper.page == Letter {
		size = pagesize.Letter
	}
	m := newMaroto(config.NewBuilder().WithPageSize(size).WithMaxGridSize(paper.width).
		WithLeftMargin(paper.left).WithRightMargin(paper.right).
		WithTopMargin(paper.top).WithBottomMargin(paper.bottom).
		WithCustomFonts(fonts).WithDefaultFont(&props.Font{Family: "body", Size: bodyStyle.size}).
		WithTitle(t.title, true).WithAuthor(t.author, true).WithSubject(t.subject, true).
		WithCreator(t.creator, true).WithCreationDate(t.day).WithCompression(true).Build(), t.day)
	shades := newShades()
	for _, strips := range pages {
		p := page.New()
		for _, s := range strips {
			p.Add(shades.row(s, paper.width))
		}
		m.AddPages(p)
	}
	file, err := m.Generate()
	if err != nil {
		return nil, err
	}
	return file.GetBytes(), nil
}

// defaults guards the settings that the library below keeps for the whole
// process and reads when a file is begun.
var defaults sync.Mutex

func newMaroto(c *entity.Config, day time.Time) core.Maroto {
	defaults.Lock()
	defer defaults.Unlock()
	gofpdf.SetDefaultCatalogSort(true)
	gofpdf.SetDefaultCreationDate(day)
	gofpdf.SetDefaultModificationDate(day)
	return maroto.New(c)
}

// countPages counts the pages of a file as the library writes it.
func countPages(file []byte) int { return bytes.Count(file, []byte("<</Type /Page\n")) }

// imageName is a line of the file's list of images: name and object.
var imageName = regexp.MustCompile(`^/I[0-9a-f]{40} \d+ 0 R$`)

// blankRepeats blanks lines that name an image again. The library lists an image
// once for each place where it stands; a name that is listed twice is a fault
// of the file. Blanks keep every offset.
func blankRepeats(file []byte) {
	begins := []byte("\n/I")
	seen := map[string]bool{}
	for rest := file; ; {
		at := bytes.Index(rest, begins)
		if at < 0 {
			return
		}
		rest = rest[at+1:]
		line := rest[:max(0, bytes.IndexByte(rest, '\n'))]
		switch {
		case !imageName.Match(line):
		case seen[string(line)]:
			for i := range line {
				line[i] = ' '
			}
		default:
			seen[string(line)] = true
		}
	}
}

// shades are the greys of one file, by tone.
type shades [white + 1]*props.Color

func newShades() shades {
	var s shades
	for tone, grey := range map[tone]int{black: 0, dark: 70, hairline: 165, light: 232, white: 255} {
		s[tone] = &props.Color{Red: grey, Green: grey, Blue: grey}
	}
	return s
}

// row makes a strip a row, its boxes columns, the white between them too.
func (s shades) row(from strip, width int) core.Row {
	r := row.New(mm(from.height))
	at := 0
	for _, b := range from.boxes {
		if b.x > at {
			r.Add(col.New(b.x - at))
		}
		r.Add(s.col(b))
		at = b.x + b.width
	}
	if at < width {
		r.Add(col.New(width - at))
	}
	return r
}

func (s shades) col(b box) core.Col {
	c := col.New(b.width)
	if b.frame != (frame{}) {
		c.WithStyle(&props.Cell{
			BackgroundColor: s[b.frame.fill],
			BorderColor:     s[b.frame.tone],
			BorderType:      b.frame.sides.border(),
			BorderThickness: b.frame.thick,
		})
	}
	if b.picture != nil {
		c.Add(image.NewFromBytes(b.picture, extension.Png, props.Rect{Center: true, Percent: 100}))
	}
	if len(b.inks) > 0 {
		c.Add(drawing{ruled.New(), b.inks, s})
	}
	for _, w := range b.words {
		style := fontstyle.Normal
		if w.style.bold {
			style = fontstyle.Bold
		}
		// The library measures Top to one size above the baseline.
		c.Add(unbroken{text.New(w.text, props.Text{
			Left: w.x, Top: w.y - w.style.millimetres(),
			Size: w.style.size, Style: style, Color: s[w.style.tone],
		})})
	}
	return c
}

// drawing is ink on a page. What it is built on is not rendered; it answers the
// library's questions.
type drawing struct {
	core.Component
	inks   []ink
	shades shades
}

func (d drawing) Render(p core.Provider, cell *entity.Cell) {
	for _, i := range d.inks {
		place := entity.Cell{X: cell.X + i.x, Y: cell.Y + i.y, Width: i.width, Height: i.height}
		if i.sign == 0 {
			// A level line through the middle, as thick as the rectangle is high.
			p.AddLine(&place, &props.Line{Color: d.shades[i.tone], Style: linestyle.Solid, Thickness: i.height,
				Orientation: orientation.Horizontal, OffsetPercent: 50, SizePercent: 100})
			continue
		}
		x, baseline, points := i.set()
		size := points * 25.4 / 72
		place = entity.Cell{X: cell.X + x, Y: cell.Y + baseline - size, Width: 1000, Height: 1000}
		p.AddText(string(i.sign), &place, &props.Text{Family: "body", Size: points, Align: align.Left, Color: d.shades[i.tone]})
	}
}

// unbroken is text that the library does not break again, however its own sum
// of the widths is rounded: it is given more width than any text needs.
type unbroken struct{ core.Component }

func (u unbroken) Render(p core.Provider, cell *entity.Cell) {
	wide := *cell
	wide.Width += 1000
	u.Component.Render(p, &wide)
}

func (e edge) border() border.Type {
	b := border.None
	for side, is := range map[edge]border.Type{left: border.Left, top: border.Top, right: border.Right, bottom: border.Bottom} {
		if e&side != 0 {
			b |= is
		}
	}
	return b
}
