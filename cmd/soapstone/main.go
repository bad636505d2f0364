// Command soapstone plans welded frames from one job file and stands beside the worker while they are cut and welded.
//
// This package is the edge of the program: flags, exit status, files, the clock and the terminal meet the core here.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/file"
)

// version is the program's version; release builds may set it by -ldflags.
var version = "0.1.0"

// Exit statuses of the contract.
const (
	exitDone  = 0
	exitJob   = 1 // the job or the list cannot be built as written
	exitUse   = 2 // wrong use of the command
	exitFiles = 3 // a file could not be read or written
)

// failure is an error with its exit status.
type failure struct {
	status int
	err    error
}

func (f failure) Error() string { return f.err.Error() }
func (f failure) Unwrap() error { return f.err }

func fail(status int, err error) error {
	if err == nil {
		return nil
	}
	return failure{status, err}
}

func failf(status int, format string, args ...any) error {
	return failure{status, fmt.Errorf(format, args...)}
}

// shell is what a command sees of the outside.
type shell struct {
	in       io.Reader
	out, err io.Writer
	env      func(string) string
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := run(ctx, os.Args[1:], shell{os.Stdin, os.Stdout, os.Stderr, os.Getenv})
	stop()
	os.Exit(status)
}

// run carries out one call and gives its exit status.
func run(ctx context.Context, args []string, sh shell) int {
	root := newRoot(sh)
	root.SetArgs(args)
	root.SetIn(sh.in)
	root.SetOut(sh.out)
	root.SetErr(sh.err)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return exitDone
	}
	var f failure
	if !errors.As(err, &f) {
		f = failure{exitUse, err} // what cobra itself refuses: flags, counts of arguments
	}
	if told := strings.TrimRight(f.Error(), "\n"); told != "" {
		fmt.Fprintf(sh.err, "soapstone: %s\n", cleanLines(told))
	}
	return f.status
}

// cleanLines is text.Clean that keeps line ends and tabs, which are our own: a message may quote what somebody else wrote.
func cleanLines(s string) string {
	var b strings.Builder
	for len(s) > 0 {
		i := strings.IndexAny(s, "\n\t")
		if i < 0 {
			i = len(s)
		}
		b.WriteString(text.Clean(s[:i]))
		if i < len(s) {
			b.WriteByte(s[i])
			i++
		}
		s = s[i:]
	}
	return b.String()
}

func newRoot(sh shell) *cobra.Command {
	root := &cobra.Command{
		Use:           "soapstone [JOB]",
		Short:         "From sticks of steel to a welded frame: nest, cut, mark, weld, lift, price",
		Long:          "soapstone works out a welded frame from one plain job file and stands beside the worker at the saw and the welder.\nWithout a job it opens the built-in example.",
		Version:       version,
		Args:          cobra.ArbitraryArgs,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE:          func(cmd *cobra.Command, args []string) error { return openBench(cmd, args, sh) },
	}
	root.SetVersionTemplate("soapstone {{.Version}}\n")
	root.PersistentFlags().String("shop", "", "the shop `FILE` in place of the one in the configuration folder")
	root.PersistentFlags().String("prices", "", "the price book `FILE` in place of the one in the configuration folder")
	root.AddCommand(pricesCommand(sh), fitCommand(sh), receiveCommand(sh), roughCommand(sh), siteCommand(sh))
	root.AddCommand(nestCommand(sh), sumCommand(sh), dropsCommand(sh), explainCommand(sh), newCommand(sh), sheetCommand(sh))
	root.AddCommand(topics()...)
	for _, c := range jobCommands(sh) {
		root.AddCommand(c)
	}
	root.AddCommand(manCommand(sh))
	return withCompletion(root, sh)
}

func asFault(err error, f **file.Fault) bool { return errors.As(err, f) }
