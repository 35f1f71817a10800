package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/hazard"
	"bathwarden/chemicals/quantity"
	"bathwarden/chemicals/reference"
	"bathwarden/chemicals/working"
	"bathwarden/exposure"
	"bathwarden/exposure/discharge"
	"bathwarden/exposure/dragout"
	"bathwarden/exposure/fume"
	"bathwarden/exposure/plating"
	"bathwarden/exposure/rinse"
	"bathwarden/exposure/stock"
	"bathwarden/exposure/waste"
)

// methods are all calculations that run by name. The tables of substances are
// read when a metal is looked up, not before.
func methods() []working.Method {
	metals := func(symbol string) (plating.Metal, bool) {
		tables, err := reference.Tables()
		if err != nil {
			panic("bathwarden: " + err.Error()) // its tables are part of the program, and tested
		}
		return exposure.PlatingMetals(tables)(symbol)
	}
	return slices.Concat(working.Methods(), plating.Methods(metals), dragout.Methods(), rinse.Methods(), discharge.Methods(), waste.Methods(), fume.Methods(), stock.Methods(), hazard.Methods())
}

func newCalc(s *settings) *cobra.Command {
	var file string
	c := &cobra.Command{
		Use:   "calc [METHOD [NAME=VALUE ...]]",
		Short: "Work out one formula and show its working",
		Long:  "Work out one formula and show its working. Without a method, list them; with a\nmethod alone, list what it takes. Values are texts with their units; a list is\nparted by semicolons: volumes=\"55 gal; 30 gal\".\n\nWith --file, run the worked examples of a YAML file; where an example expects an\noutput, say whether it holds. Exit code 3 says that one did not.",
		RunE: func(cmd *cobra.Command, args []string) error {
			units := s.given.units
			switch {
			case file != "" && len(args) > 0:
				return usageError{&chemicals.Problem{Where: "--file", What: "a file names its methods and inputs itself", Mend: "leave the words after calc out"}}
			case file != "":
				return s.calcFile(cmd, file, units)
			case len(args) == 0:
				return listMethods(cmd.OutOrStdout())
			}
			m, err := working.Find(methods(), args[0])
			if err != nil {
				return usageError{err}
			}
			if len(args) == 1 {
				return listInputs(cmd.OutOrStdout(), m)
			}
			given, err := working.ParseArguments(args[1:])
			if err != nil {
				return usageError{errors.Join(err, m.Misnamed(given))}
			}
			outputs, err := m.Run(given)
			if err != nil {
				return err
			}
			if s.json {
				return printRaw(cmd.OutOrStdout(), m, outputs, units)
			}
			return printOutputs(cmd.OutOrStdout(), outputs, units)
		},
	}
	c.Flags().StringVar(&file, "file", "", "run the worked examples of this YAML `file`")
	return c
}

func listMethods(out io.Writer) error {
	t := newTable("METHOD", "WHAT IT WORKS OUT")
	for _, m := range methods() {
		t.row(m.Name, m.Help)
	}
	return t.print(out)
}

func listInputs(out io.Writer, m working.Method) error {
	fmt.Fprintf(out, "%s: %s\n\n", m.Name, m.Help)
	t := newTable("INPUT", "", "WHAT", "SUCH AS")
	for _, p := range m.Inputs {
		optional := ""
		if p.Optional {
			optional = "may be left out"
		}
		t.row(p.Name, optional, p.What, p.Example)
	}
	if err := t.print(out); err != nil {
		return err
	}
	fmt.Fprintln(out)
	t = newTable("OUTPUT", "WHAT")
	for _, r := range m.Outputs {
		t.row(r.Name, r.What)
	}
	return t.print(out)
}

func printRaw(out io.Writer, m working.Method, outputs working.Outputs, units quantity.System) error {
	text, err := m.JSON(outputs, units)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s\n", text)
	return err
}

// printOutputs prints the figures, then how they came about.
func printOutputs(out io.Writer, outputs working.Outputs, units quantity.System) error {
	t := newTable("OUTPUT", "FIGURE")
	for _, o := range outputs {
		figure := o.Value.Text(units)
		if !o.Value.Known() {
			figure = "not known: " + o.Value.Why()
		}
		t.row(o.Name, figure)
	}
	if err := t.print(out); err != nil {
		return err
	}
	for i, step := range outputs.Steps() {
		fmt.Fprintln(out)
		printLine(out, "%d. %s", i+1, step.Formula)
		for _, in := range step.Inputs {
			printLine(out, "   %s = %s%s [%s]", in.Symbol, in.Value, meaning(in.What), in.Known())
		}
		printLine(out, "   = %s", step.Result)
		if step.Ref.Known() {
			printLine(out, "   by %s", step.Ref)
		}
	}
	for i, c := range outputs.Caveats() {
		if i == 0 {
			fmt.Fprintln(out)
		}
		printLine(out, "caveat: %s", c)
	}
	return nil
}

// printLine prints one line, whatever is quoted in it.
func printLine(out io.Writer, format string, args ...any) {
	fmt.Fprintln(out, oneLine(fmt.Sprintf(format, args...)))
}

func meaning(what string) string {
	if what == "" {
		return ""
	}
	return ", " + what
}

// calcFile runs worked examples; one that does not hold ends the command with
// exit code 3 when all have run.
func (s *settings) calcFile(cmd *cobra.Command, path string, units quantity.System) error {
	file, err := openFile(path)
	if err != nil {
		return err
	}
	defer file.Close()
	examples, err := working.ReadExamples(file, filepath.Base(path))
	if err != nil {
		return err
	}
	out, all := cmd.OutOrStdout(), true
	var faults []error
	for _, x := range examples {
		holds, err := s.example(out, x, units)
		if err != nil {
			faults = append(faults, err)
		}
		all = all && holds
	}
	if err := errors.Join(faults...); err != nil {
		return err
	}
	if !all {
		return listedError{exitGaps}
	}
	return nil
}

func (s *settings) example(out io.Writer, x working.Example, units quantity.System) (holds bool, err error) {
	outputs, checks, err := x.Run(methods())
	if err != nil {
		return true, err
	}
	holds = true
	for _, c := range checks {
		holds = holds && c.Holds
	}
	if s.json {
		m, err := working.Find(methods(), x.Method)
		if err != nil {
			return holds, err
		}
		return holds, printRaw(out, m, outputs, units)
	}
	if title := strings.TrimSpace(x.ID + " " + x.Title); title != "" {
		printLine(out, "%s", title)
	}
	if len(checks) == 0 {
		return holds, printOutputs(out, outputs, units)
	}
	t := newTable("OUTPUT", "FIGURE", "EXPECTED", "")
	for _, c := range checks {
		t.row(c.Name, c.Got, c.Want, verdict(c))
	}
	return holds, t.print(out)
}

func verdict(c working.Check) string {
	switch {
	case c.Disputed != "" && c.Holds:
		return "disputed, and as we said: " + c.Disputed
	case c.Disputed != "":
		return "disputed, but not as we said (" + c.Ours + ")"
	case c.Holds:
		return "holds"
	}
	return "DOES NOT HOLD"
}
