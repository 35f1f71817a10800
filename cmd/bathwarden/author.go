package main

import (
	"errors"
	"fmt"
	"os/user"
	"time"

	"github.com/spf13/cobra"

	"bathwarden/chemicals"
	"bathwarden/chemicals/recordbook"
)

// authorship are the flags of every command that writes.
type authorship struct{ by, why string }

func (a *authorship) flags(c *cobra.Command, why string) {
	c.Flags().StringVar(&a.by, "by", "", "who makes the entry (default: the system's user)")
	c.Flags().StringVar(&a.why, "why", "", why)
}

// author is who writes into the book now.
func author(by, why string) (recordbook.Author, error) {
	if by == "" {
		u, err := user.Current()
		if err != nil {
			return recordbook.Author{}, &chemicals.Problem{Where: "--by", What: "the system does not say who you are", Mend: "name yourself with --by"}
		}
		by = u.Username
	}
	var who, reason chemicals.Text
	faults := []error{chemicals.At("--by", who.UnmarshalText([]byte(by))), chemicals.At("--why", reason.UnmarshalText([]byte(why)))}
	if faults[0] == nil && !who.Known() {
		faults[0] = &chemicals.Problem{Where: "--by", What: fmt.Sprintf("%q names nobody", by), Mend: "say who you are"}
	}
	return recordbook.Author{By: by, Why: why, At: time.Now()}, errors.Join(faults...)
}

// whyFlag names the flag that gives the reason which the book asks for. No kind
// of record has a column of that name.
func whyFlag(err error) error {
	return restated(err, func(p chemicals.Problem) chemicals.Problem {
		if p.Where == "why" {
			p.Where, p.Mend = "--why", "say why with --why"
		}
		return p
	})
}

// restated gives every problem that err joins in other words; what else it is,
// such as a damaged book, stays as it is.
func restated(err error, words func(chemicals.Problem) chemicals.Problem) error {
	switch e := err.(type) {
	case *chemicals.Problem:
		p := words(*e)
		return &p
	case interface{ Unwrap() []error }:
		var all []error
		for _, one := range e.Unwrap() {
			all = append(all, restated(one, words))
		}
		return errors.Join(all...)
	}
	return err
}
