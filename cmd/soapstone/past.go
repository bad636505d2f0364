package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/record"
)

// openRecord opens the record of a job and gives the progress of the work that it holds, and what is to be told.
func openRecord(sh shell, name string) (*record.Record, *work.Progress, []string, error) {
	path, err := record.Beside(file.OS, name)
	if err != nil {
		return nil, nil, nil, err
	}
	past := work.NewProgress()
	opt := record.Options{Visit: func(e record.Entry) { past.Apply(e.ID, e.At, e.Payload) }}
	if cp := checkpointOf(sh, path); cp != "" {
		opt.Checkpoint = &record.Checkpoint{
			Path: cp,
			Resume: func(state []byte) bool {
				p, err := work.Restore(state)
				if err == nil {
					past = p
				}
				return err == nil
			},
			Save: func() []byte { return past.Archive() },
		}
	}
	r, notes, err := record.Open(file.OS, path, opt)
	var told []string
	for _, n := range notes {
		told = append(told, n.Text)
	}
	if err != nil {
		return nil, nil, told, err
	}
	if err := r.Writable(); err != nil {
		told = append(told, err.Error())
	}
	return r, past, told, nil
}

// openState opens the record of a job for a command that reads it, or writes into it, in one go, and gives what it says.
func openState(sh shell, name string, readOnly bool) (*record.Record, *work.State, error) {
	path, err := record.Beside(file.OS, name)
	if err != nil {
		return nil, nil, fail(exitFiles, err)
	}
	state := work.New()
	r, notes, err := record.Open(file.OS, path, record.Options{ReadOnly: readOnly, Visit: func(e record.Entry) { state.Apply(e.ID, e.At, e.Payload) }})
	for _, n := range notes {
		fmt.Fprintln(sh.err, n.Text)
	}
	if err == nil && !readOnly {
		if err = r.Writable(); err != nil {
			r.Close()
		}
	}
	if err != nil {
		return nil, nil, fail(exitFiles, err)
	}
	return r, state, nil
}

// doneSoFar reads what the record of a job says, without writing anything; nothing where there is no record.
func doneSoFar(sh shell, name string) (*work.State, error) {
	if _, err := os.Stat(name); err != nil {
		return nil, fail(exitFiles, &file.Fault{Path: name, Doing: "reading", Err: err})
	}
	path, err := record.Beside(file.OS, name)
	if err != nil {
		return nil, fail(exitFiles, err)
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return work.New(), nil
	}
	r, state, err := openState(sh, name, true)
	if err != nil {
		return nil, err
	}
	return state, r.Close()
}

// restFlag adds --rest to a command that plans.
func restFlag(cmd *cobra.Command, rest *bool) {
	cmd.Flags().BoolVar(rest, "rest", false, "only what is still to be done, by the record of work: what is cut stays cut, what was measured counts")
}

// whatFrom is what a plan starts from: nothing done, or with --rest the record of the job.
func whatFrom(sh shell, name string, rest bool) (in plan.Input, err error) {
	if rest {
		in.Work, err = doneSoFar(sh, name)
	}
	return in, err
}

// checkpointOf names the checkpoint of a record, in the user's own cache: what lies beside a job may come from anybody.
// "" where there is no such folder.
func checkpointOf(sh shell, path string) string {
	sum := sha256.Sum256([]byte(path))
	name := under(sh, "XDG_CACHE_HOME", ".cache", filepath.Join("records", hex.EncodeToString(sum[:12])))
	if name == "" || os.MkdirAll(filepath.Dir(name), 0o700) != nil {
		return ""
	}
	return name
}
