package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"bathwarden/chemicals"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/recordbook"
	"bathwarden/exposure"
	"bathwarden/reports/doc"
	"bathwarden/reports/inspection"
	"bathwarden/reports/inventory"
	"bathwarden/reports/letterhead"
	"bathwarden/reports/pdf"
	"bathwarden/reports/rinsewater"
	"bathwarden/reports/sewer"
	"bathwarden/reports/text"
	"bathwarden/reports/xlsx"
	"bathwarden/templates"
)

// paper is one report: how its document comes from the shop, and the gaps that
// it lists.
type paper struct {
	name string
	help string
	make maker
	// readers are those that the paper can be made for, with what it then adds;
	// none for most papers.
	readers map[string]maker
}

type maker = func(*chemicals.Shop, published, quantity.System) (*doc.Document, []exposure.Gap)

// forSewer is the inspector of the sewer.
const forSewer = "sewer"

func papers() []paper {
	return []paper{
		{name: inventory.Kind, help: "what the shop holds and where, what is in each tank, what is missing", make: makeInventory},
		{
			name: inspection.Kind, help: "what an inspector asks: chemicals, tanks, stock, people, checks, papers", make: makeInspection,
			readers: map[string]maker{forSewer: makeSewerInspection},
		},
		{name: rinsewater.Kind, help: "where the water goes: the plan, discharge beside limits and samples, rinses", make: makeRinseWater},
	}
}

func makeInventory(shop *chemicals.Shop, tables published, units quantity.System) (*doc.Document, []exposure.Gap) {
	found := inventory.Findings{Holdings: exposure.Holdings(shop, tables.Set), Tanks: exposure.Tanks(shop, tables.Set)}
	found.Gaps = exposure.Gaps(shop, found.Holdings, found.Tanks)
	return inventory.Build(shop, found, setting(shop, tables, units)), found.Gaps
}

func makeInspection(shop *chemicals.Shop, tables published, units quantity.System) (*doc.Document, []exposure.Gap) {
	found := inspectionOf(shop, tables)
	return inspection.Build(shop, found, setting(shop, tables, units)), found.Gaps
}

// makeSewerInspection is the packet with what an inspector of the sewer asks.
func makeSewerInspection(shop *chemicals.Shop, tables published, units quantity.System) (*doc.Document, []exposure.Gap) {
	found, w := inspectionOf(shop, tables), waterSideOf(shop, tables, units)
	found.Sewer = &sewer.Findings{Water: w.water, Results: w.results, Combined: w.combined, Treatments: w.water.Treatments(), Holds: w.plan.Holds}
	found.Gaps = append(found.Gaps, w.gaps()...)
	return inspection.Build(shop, found, setting(shop, tables, units)), found.Gaps
}

func inspectionOf(shop *chemicals.Shop, tables published) inspection.Findings {
	found := inspection.Findings{
		Holdings: exposure.Holdings(shop, tables.Set), Tanks: exposure.Tanks(shop, tables.Set),
		Trainings: exposure.Trainings(shop), Rounds: exposure.Rounds(shop), Papers: exposure.Papers(shop),
	}
	found.Meetings = exposure.Meetings(found.Holdings)
	found.Gaps = append(exposure.Gaps(shop, found.Holdings, found.Tanks), exposure.DutyGaps(shop, found.Trainings, found.Rounds, found.Papers)...)
	return found
}

func makeRinseWater(shop *chemicals.Shop, tables published, units quantity.System) (*doc.Document, []exposure.Gap) {
	w := waterSideOf(shop, tables, units)
	found := rinsewater.Findings{
		Water: w.water, Plan: w.plan, Results: w.results, Combined: w.combined, Balances: w.water.Balances(w.holdings),
		Meters: w.water.Meters(), Evaporations: w.water.Evaporations(), Treatments: w.water.Treatments(),
	}
	found.Gaps = w.gaps()
	return rinsewater.Build(shop, found, setting(shop, tables, units)), found.Gaps
}

func setting(shop *chemicals.Shop, tables published, units quantity.System) letterhead.Setting {
	firm, _ := shop.Firm()
	return letterhead.Setting{Program: program, Tables: tables.hash(), Units: units, Example: firm.Is.Name == templates.ExampleShop}
}

// outlet is where a report goes and in which form.
type outlet struct {
	file  string
	page  string
	force bool
	issue bool
	to    string
	by    string
	// reader is whom the paper is made for, empty for anybody
	reader string
}

func newReport(s *settings) *cobra.Command {
	c := &cobra.Command{
		Use: "report PAPER", Short: "Make a paper as workbook, PDF or text",
		FParseErrWhitelist: cobra.FParseErrWhitelist{UnknownFlags: true}, // of the paper that it does not know
	}
	for _, p := range papers() {
		c.AddCommand(newPaper(s, p))
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		var names []string
		for _, p := range papers() {
			names = append(names, p.name)
		}
		fault := &chemicals.Problem{What: "report wants a paper", Mend: "known are: " + strings.Join(names, ", ")}
		if len(args) > 0 {
			fault.What = fmt.Sprintf("there is no paper %q", args[0])
			if near := chemicals.Closest(args[0], names); len(near) > 0 {
				fault.Mend = "did you mean " + strings.Join(near, " or ") + "?"
			}
		}
		return usageError{fault}
	}
	return c
}

func newPaper(s *settings, p paper) *cobra.Command {
	var o outlet
	c := &cobra.Command{
		Use:   p.name,
		Short: p.help,
		Args:  wantArgs(0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := errors.Join(s.noJSON(), o.check()); err != nil {
				return usageError{err}
			}
			if o.reader != "" {
				made, ok := p.readers[o.reader]
				if !ok {
					return usageError{unknownReader(p, o.reader)}
				}
				p.make = made
			}
			mode := recordbook.ForReading
			if o.issue {
				mode = recordbook.ForWriting
			}
			return s.withBook(mode, func(book *recordbook.Book) error { return s.report(cmd, book, p, o) })
		},
	}
	c.Flags().StringVarP(&o.file, "output", "o", "", "write to this `file`, a workbook (.xlsx), PDF (.pdf) or text (.txt) by its ending; without it, text goes to the terminal")
	c.Flags().StringVar(&o.page, "page", "", "a4 or letter, for PDF (default: letter under us rules, else a4)")
	c.Flags().BoolVar(&o.force, "force", false, "replace the file if it exists")
	c.Flags().BoolVar(&o.issue, "issue", false, "record in the book that the paper was handed out")
	if len(p.readers) > 0 {
		c.Flags().StringVar(&o.reader, "for", "", "add what this `reader` asks: "+strings.Join(p.readerNames(), ", "))
	} else {
		c.SetFlagErrorFunc(forNobody)
	}
	c.Flags().StringVar(&o.to, "to", "", "with --issue, who receives it")
	c.Flags().StringVar(&o.by, "by", "", "with --issue, who makes the entry (default: the system's user)")
	return c
}

func (p paper) readerNames() []string { return slices.Sorted(maps.Keys(p.readers)) }

// forNobody says of a paper without readers which has them.
func forNobody(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) || unknown.GetSpecifiedName() != "for" {
		return flagFault(cmd, err)
	}
	var with, commands []string
	for _, p := range papers() {
		for _, reader := range p.readerNames() {
			with, commands = append(with, p.name), append(commands, fmt.Sprintf("bathwarden report %s --for %s", p.name, reader))
		}
	}
	return usageError{&chemicals.Problem{
		Where: "--for", What: fmt.Sprintf("only %s takes it, %s does not", strings.Join(slices.Compact(with), " or "), cmd.Name()),
		Mend: "leave it out, or write " + strings.Join(commands, " or "),
	}}
}

// noJSON refuses --json for a paper.
func (s *settings) noJSON() error {
	if !s.json {
		return nil
	}
	return &chemicals.Problem{Where: "--json", What: "a paper has no JSON", Mend: "leave it out; discharge --json, rinse --json, list --json and hazards --json give the figures"}
}

func unknownReader(p paper, reader string) error {
	fault := &chemicals.Problem{Where: "--for", What: fmt.Sprintf("%q is no reader of this paper", reader), Mend: "known are: " + strings.Join(p.readerNames(), ", ")}
	if near := chemicals.Closest(reader, p.readerNames()); len(near) > 0 {
		fault.Mend = "did you mean " + strings.Join(near, " or ") + "?"
	}
	return fault
}

const (
	pdfEnding  = ".pdf"
	xlsxEnding = ".xlsx"
	textEnding = ".txt"
)

// check refuses what cannot go together before anything is read.
func (o outlet) check() error {
	var faults []error
	if o.file == "" && o.issue {
		faults = append(faults, &chemicals.Problem{Where: "--issue", What: "only a file can be issued", Mend: "name one with -o"})
	}
	if o.to != "" && !o.issue {
		faults = append(faults, &chemicals.Problem{Where: "--to", What: "a receiver is recorded only with --issue", Mend: "add --issue, or leave --to out"})
	}
	if o.page != "" {
		if _, err := pdf.ParsePage(o.page); err != nil {
			faults = append(faults, chemicals.At("--page", err))
		}
	}
	return errors.Join(append(faults, o.checkFile())...)
}

// checkFile names one fault of the file at most: a folder needs no ending, and
// what stands under a name with a wrong ending does not matter.
func (o outlet) checkFile() error {
	if o.file == "" {
		return nil
	}
	switch strings.ToLower(filepath.Ext(o.file)) {
	case pdfEnding, xlsxEnding, textEnding:
		return free(o.file, o.force)
	}
	if info, err := os.Lstat(o.file); err == nil && info.IsDir() {
		return free(o.file, o.force)
	}
	return &chemicals.Problem{Where: "-o", What: fmt.Sprintf("%q has no ending that says what to write", o.file), Mend: "end it in .xlsx, .pdf or .txt"}
}

func (s *settings) report(cmd *cobra.Command, book *recordbook.Book, p paper, o outlet) error {
	shop, err := s.shop(book, readWater)
	if err != nil {
		return err
	}
	all, err := tables()
	if err != nil {
		return err
	}
	d, gaps := p.make(shop, all, s.given.units)
	page, err := o.pageOf(shop)
	if err != nil {
		return err
	}
	if o.file == "" {
		if err := text.Write(cmd.OutOrStdout(), d, screenWidth(cmd.OutOrStdout())); err != nil {
			return err
		}
		return s.listGaps(cmd, gaps)
	}
	written, err := render(d, o.file, page)
	if err != nil {
		return err
	}
	if err := writeFile(o.file, written, o.force); err != nil {
		return err
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%s: %s as of %s\n", o.file, d.Head.Title, d.Head.AsOf)
	if o.issue {
		if err := s.issue(cmd, book, p, o, shop, page, written); err != nil {
			return err
		}
	}
	return s.listGaps(cmd, gaps)
}

func (o outlet) pageOf(shop *chemicals.Shop) (pdf.Page, error) {
	if o.page != "" {
		return pdf.ParsePage(o.page)
	}
	if firm, ok := shop.Firm(); ok && firm.Is.Regime == chemicals.UnitedStates {
		return pdf.Letter, nil
	}
	return pdf.A4, nil
}

// render makes the whole file in memory, so that a failure leaves none behind.
func render(d *doc.Document, file string, page pdf.Page) ([]byte, error) {
	var b bytes.Buffer
	const plainWidth = 100
	var err error
	switch strings.ToLower(filepath.Ext(file)) {
	case pdfEnding:
		err = pdf.Write(&b, d, page)
	case xlsxEnding:
		err = xlsx.Write(&b, d)
	default:
		err = text.Write(&b, d, plainWidth)
	}
	return b.Bytes(), err
}

// issue records that a paper was handed out.
func (s *settings) issue(cmd *cobra.Command, book *recordbook.Book, p paper, o outlet, shop *chemicals.Shop, page pdf.Page, written []byte) error {
	kind, err := chemicals.KindOf("issued")
	if err != nil {
		return err
	}
	by, err := author(o.by, "")
	if err != nil {
		return err
	}
	zone, err := zoneOf(book)
	if err != nil {
		return err
	}
	sum := sha256.Sum256(written)
	values := map[string]string{
		chemicals.DateColumn: string(chemicals.DayOf(time.Now().In(zone))),
		"report":             p.name, "as of": shop.AsOf.String(), "period": shop.Period.First.String() + ".." + shop.Period.Last.String(),
		"known by": strconv.FormatInt(shop.Last.Entry, 10), "language": "en", "file hash": hex.EncodeToString(sum[:]), "to": o.to,
	}
	if strings.EqualFold(filepath.Ext(o.file), pdfEnding) {
		values["page size"] = page.String()
	}
	row := chemicals.Row{Kind: kind, Where: "issue", Given: map[string]chemicals.Cell{}}
	for column, value := range values {
		if value != "" {
			row.Given[column] = chemicals.Cell{Text: value, Where: "issue, " + column}
		}
	}
	outcome, err := book.Apply([]chemicals.Row{row}, by, false)
	if err != nil {
		return err
	}
	return s.printOutcome(cmd, outcome, false)
}

// listGaps says on standard error what a paper leaves open.
func (s *settings) listGaps(cmd *cobra.Command, gaps []exposure.Gap) error {
	if len(gaps) == 0 {
		return nil
	}
	printGaps(cmd.ErrOrStderr(), gaps)
	if s.strict {
		return listedError{exitGaps}
	}
	return nil
}

func printGaps(w io.Writer, gaps []exposure.Gap) {
	for _, g := range gaps {
		fmt.Fprintf(w, "gap: %s: %s\n", g.Where, oneLine(g.What))
	}
}
