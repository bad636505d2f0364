package main

import (
	"context"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sum"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/table"
)

// withCompletion tells the shell's completion what belongs where a command takes words: job files, sums and their arguments,
// figures. `soapstone completion bash|zsh|fish` prints the script for a shell.
func withCompletion(root *cobra.Command, sh shell) *cobra.Command {
	files := func(ends ...string) cobra.CompletionFunc {
		return func(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return ends, cobra.ShellCompDirectiveFilterFileExt
		}
	}
	var visit func(c *cobra.Command)
	visit = func(c *cobra.Command) {
		_, takes, _ := strings.Cut(c.Use, " ")
		first, _, _ := strings.Cut(takes, " ")
		switch {
		case !c.HasParent():
			c.ValidArgsFunction = completeFirst
		case c.Name() == "sum":
			c.ValidArgsFunction = completeSum
		case c.Name() == "explain":
			c.ValidArgsFunction = completeFigure(sh)
		case strings.Trim(first, "[]") == "JOB", c.Name() == "new":
			c.ValidArgsFunction = files("toml")
		case takes == "", first == "-o":
			c.ValidArgsFunction = cobra.NoFileCompletions
		}
		for flag, ends := range map[string][]string{"shop": {"toml"}, "prices": {"toml"}} {
			if c.PersistentFlags().Lookup(flag) != nil {
				_ = c.MarkPersistentFlagFilename(flag, ends...)
			}
		}
		for _, x := range c.Commands() {
			visit(x)
		}
	}
	visit(root)
	root.InitDefaultHelpCmd()
	for _, c := range root.Commands() {
		if c.Name() == "help" {
			c.ValidArgsFunction = completeHelp
		}
	}
	return root
}

// completeFirst completes the first word: the shells take a filter of files for the whole answer and would not show the commands beside
// it, so the jobs of the folder are listed here. A path into another folder is the shell's to complete.
func completeFirst(_ *cobra.Command, args []string, word string) (out []cobra.Completion, _ cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	if strings.ContainsAny(word, `/\~`) {
		return []cobra.Completion{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	}
	entries, _ := os.ReadDir(".") // a folder that cannot be read offers no jobs
	for _, e := range entries {
		name := e.Name()
		if strings.HasPrefix(name, word) && strings.HasSuffix(name, ".toml") && !e.IsDir() && text.Clean(name) == name {
			out = append(out, cobra.CompletionWithDesc(name, "a job file"))
		}
	}
	return out, cobra.ShellCompDirectiveDefault
}

// completeHelp completes commands and topics.
func completeHelp(cmd *cobra.Command, args []string, _ string) (out []cobra.Completion, _ cobra.ShellCompDirective) {
	at, _, err := cmd.Root().Find(args)
	if err == nil {
		for _, c := range at.Commands() {
			if !c.Hidden && c.Name() != "help" {
				out = append(out, cobra.CompletionWithDesc(c.Name(), c.Short))
			}
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

// completeSum completes the name of a sum, then its arguments that were not written yet.
func completeSum(_ *cobra.Command, args []string, _ string) (out []cobra.Completion, _ cobra.ShellCompDirective) {
	if len(args) == 0 {
		for _, s := range sum.List() {
			out = append(out, cobra.CompletionWithDesc(s.Name, s.Purpose))
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
	s, err := sum.Find(args[0])
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	if s.File {
		return []cobra.Completion{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	}
	given := map[string]bool{}
	for _, w := range args[1:] {
		key, _, _ := strings.Cut(w, "=")
		given[key] = true
	}
	for _, a := range s.Takes {
		if !given[a.Name] {
			out = append(out, cobra.CompletionWithDesc(a.Name+"=", a.Takes))
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
}

// completeFigure completes the job, then the figures of its plan.
func completeFigure(sh shell) cobra.CompletionFunc {
	return func(cmd *cobra.Command, args []string, _ string) (out []cobra.Completion, _ cobra.ShellCompDirective) {
		switch len(args) {
		case 0:
			return []cobra.Completion{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		case 1:
			j, problems, err := readJob(cmd, sh, args[0])
			if err != nil || text.HasErrors(problems) {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			over, cancel := context.WithCancel(cmd.Context()) // no search: a key must not wait for it
			cancel()
			p := plan.Build(over, plan.Input{Job: j, Steel: table.Steel(), Effort: -1})
			for _, f := range p.Figures() {
				out = append(out, cobra.CompletionWithDesc(f.ID, f.Name))
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
}
