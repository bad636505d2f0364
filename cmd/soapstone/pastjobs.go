package main

import (
	"context"
	"os"
	"path/filepath"
	"sort"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/record"
	"bench.example/soapstone/stock/table"
)

// Past jobs are the other job files of the same folder on which work was recorded: the last three of them, by when their
// record was written last, tell what work really takes. A shop keeps its jobs together; nothing is searched beyond the folder.
const (
	pastJobsMost  = 3
	pastJobsLook  = 200 // job files of the folder that are looked at
	pastJobsLimit = 3 * time.Second
)

// pastJobs gives what the last jobs took beside their plans. What cannot be read is left out: it is none of this job's
// troubles.
func pastJobs(ctx context.Context, cmd *cobra.Command, sh shell, name string) []price.Past {
	own, err := record.Beside(file.OS, name)
	if err != nil {
		return nil
	}
	entries, err := os.ReadDir(filepath.Dir(name))
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if filepath.Ext(e.Name()) == ".toml" && len(names) < pastJobsLook {
			names = append(names, filepath.Join(filepath.Dir(name), e.Name()))
		}
	}
	type done struct {
		job, record string
		at          time.Time
	}
	var found []done
	for _, n := range names {
		path, err := record.Beside(file.OS, n)
		if err != nil || path == own {
			continue
		}
		if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
			found = append(found, done{n, path, info.ModTime()})
		}
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].at.After(found[j].at) })
	ctx, cancel := context.WithTimeout(ctx, pastJobsLimit)
	defer cancel()
	var out []price.Past
	for _, d := range found {
		if len(out) == pastJobsMost || ctx.Err() != nil {
			break
		}
		if p, ok := pastJob(ctx, cmd, sh, d.job, d.record); ok {
			out = append(out, p)
		}
	}
	return out
}

func pastJob(ctx context.Context, cmd *cobra.Command, sh shell, name, path string) (price.Past, bool) {
	j, problems, err := readJob(cmd, sh, name)
	if err != nil || failed(problems) {
		return price.Past{}, false
	}
	s := work.New()
	r, _, err := record.Open(file.OS, path, record.Options{ReadOnly: true, Visit: func(e record.Entry) { s.Apply(e.ID, e.At, e.Payload) }})
	if err != nil {
		return price.Past{}, false
	}
	defer r.Close()
	j.Quote, j.Paint = job.Quote{}, job.Paint{} // its hours are asked for, not its price
	p := plan.Build(ctx, plan.Input{Job: j, Steel: table.Steel(), Effort: -1})
	if p.Failed() {
		return price.Past{}, false
	}
	past := price.Past{Job: filepath.Base(name), AtNS: s.LastAt(), Ratios: p.Took(s)}
	return past, len(past.Ratios) > 0
}

// withPast is plan.Build with the past jobs of the folder beside it, looked up once, when the first plan is made.
func withPast(cmd *cobra.Command, sh shell, name string) func(context.Context, plan.Input) *plan.Plan {
	var once sync.Once
	var past []price.Past
	return func(ctx context.Context, in plan.Input) *plan.Plan {
		if name != "" && (in.Job.Labour.Given || in.Job.Quote.Given) {
			once.Do(func() { past = pastJobs(ctx, cmd, sh, name) })
			in.Past = past
		}
		return plan.Build(ctx, in)
	}
}

// kept is the name of the job file, "" for the example that cannot be kept.
func (s *jobSource) kept() string {
	if s.fixed != nil {
		return ""
	}
	return s.name
}
