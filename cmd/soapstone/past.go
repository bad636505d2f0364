package main

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"

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
