package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"bathwarden/chemicals"
)

// wantArgs wants n words behind a command.
func wantArgs(n int, what string) cobra.PositionalArgs {
	if n == 0 {
		return between(0, 0, what)
	}
	return between(n, n, what+", and nothing more")
}

// atMostOne allows one word behind a command.
func atMostOne(what string) cobra.PositionalArgs { return between(0, 1, what+" at most") }

// atLeastOne wants a word or more behind a command.
func atLeastOne(what string) cobra.PositionalArgs { return between(1, 1<<16, what) }

// between wants so many words behind a command, and none of them empty, which is
// what a shell leaves of a name that it does not know.
func between(least, most int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) < least || len(args) > most:
			return fmt.Errorf("%s takes %s", cmd.Name(), what)
		case slices.Contains(args, ""):
			return fmt.Errorf(`%s takes %s; "" is none`, cmd.Name(), what)
		}
		return nil
	}
}

// seeHelp is a fault in how a command was given that its help answers.
func seeHelp(cmd *cobra.Command, where, what string) error {
	return usageError{&chemicals.Problem{Where: where, What: what, Mend: "see " + cmd.CommandPath() + " --help"}}
}

// refuseStrayWords makes complaints about arguments usage errors.
func refuseStrayWords(c *cobra.Command) {
	if args := c.Args; args != nil {
		c.Args = func(cmd *cobra.Command, given []string) error {
			if err := args(cmd, given); err != nil {
				return seeHelp(cmd, "", err.Error())
			}
			return nil
		}
	}
	for _, sub := range c.Commands() {
		refuseStrayWords(sub)
	}
}

// flagFault says in three parts what is wrong with a flag.
func flagFault(cmd *cobra.Command, err error) error {
	if words := cmd.Flags().Args(); onlyNames(cmd) && len(words) > 0 {
		return cmd.RunE(cmd, words) // the flags of what it does not know were read as its own
	}
	var unknown *pflag.NotExistError
	var lacking *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		return unknownFlag(cmd, err.Error(), unknown.GetSpecifiedName())
	case errors.As(err, &lacking):
		dashed := dashes(lacking.GetSpecifiedName())
		what, _ := pflag.UnquoteUsage(lacking.GetFlag())
		return usageError{&chemicals.Problem{Where: dashed, What: "no value stands behind it", Mend: fmt.Sprintf("write %s %s", dashed, strings.ToUpper(what))}}
	case errors.As(err, &invalid) && invalid.GetFlag().Value.Type() == "bool":
		dashed := dashes(invalid.GetFlag().Name)
		return usageError{&chemicals.Problem{Where: dashed, What: fmt.Sprintf("%q is neither true nor false", invalid.GetValue()), Mend: "write " + dashed + " alone, or leave it out"}}
	case errors.As(err, &invalid):
		return seeHelp(cmd, dashes(invalid.GetFlag().Name), fmt.Sprintf("%q cannot be read", invalid.GetValue()))
	}
	return seeHelp(cmd, "", err.Error())
}

// onlyNames holds for the commands that do nothing but say what they do not know
// among the commands below them; they let flags pass that those might have.
func onlyNames(c *cobra.Command) bool {
	return c.HasSubCommands() && (!c.HasParent() || c.FParseErrWhitelist.UnknownFlags)
}

// dashes writes a flag as it is typed.
func dashes(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}

func unknownFlag(cmd *cobra.Command, what, name string) error {
	var known []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			known = append(known, f.Name)
		}
	})
	near := chemicals.Closest(name, known)
	if len(near) == 0 || len(name) == 1 {
		return seeHelp(cmd, "", what)
	}
	return usageError{&chemicals.Problem{What: what, Mend: "did you mean --" + strings.Join(near, " or --") + "?"}}
}

// emptyFlags refuses flags that are given without a text. Under record an empty
// column is one to be cleared.
func emptyFlags(cmd *cobra.Command) error {
	var faults []error
	cmd.Flags().Visit(func(f *pflag.Flag) {
		column := cmd.HasParent() && cmd.Parent().Name() == recordName && !slices.Contains(ownFlags, f.Name)
		if empty := f.Value.String() == "" || f.Value.String() == "[]"; empty && !column {
			faults = append(faults, &chemicals.Problem{Where: dashes(f.Name), What: "the text behind it is empty", Mend: "give one, or leave the flag out"})
		}
	})
	if len(faults) > 0 {
		return usageError{errors.Join(faults...)}
	}
	return nil
}

// unknownCommand names the nearest of the commands below another.
func unknownCommand(parent *cobra.Command, word string) error {
	var names []string
	for _, c := range parent.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	p := &chemicals.Problem{What: fmt.Sprintf("there is no command %q", word), Mend: "see " + parent.CommandPath() + " --help"}
	if near := chemicals.Closest(word, names); len(near) > 0 {
		p.Mend = "did you mean " + strings.Join(near, " or ") + "?"
	}
	return p
}

// newHelp is help, which refuses words that are no command.
func newHelp(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Show the help of a command",
		RunE: func(_ *cobra.Command, args []string) error {
			c, rest, err := root.Find(args)
			switch {
			case err != nil || c == root && len(rest) > 0:
				return usageError{unknownCommand(root, args[0])}
			case len(rest) > 0 && onlyNames(c):
				return c.RunE(c, rest)
			}
			c.InitDefaultHelpFlag()
			return c.Help()
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, begun string) (names []string, _ cobra.ShellCompDirective) {
			if c, rest, err := root.Find(args); err == nil && len(rest) == 0 {
				for _, sub := range c.Commands() {
					if sub.IsAvailableCommand() && strings.HasPrefix(sub.Name(), begun) {
						names = append(names, sub.Name())
					}
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
	}
}
