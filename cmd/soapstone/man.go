package main

import (
	"fmt"
	"io"
	"sort"
	"strings"
	"time"

	"github.com/muesli/termenv"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"bench.example/soapstone/fab/sum"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
	"bench.example/soapstone/tui/way"
)

// manCommand prints the manual page, made from the commands and stations themselves.
func manCommand(sh shell) *cobra.Command {
	return &cobra.Command{
		Use: "man", Short: "Print the manual page, for man(1)", Args: cobra.NoArgs,
		Long: "Prints the manual page. To keep it where man finds it:\n\n  soapstone man > ~/.local/share/man/man1/soapstone.1",
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := io.WriteString(sh.out, manPage(cmd.Root()))
			return fail(exitFiles, err)
		},
	}
}

// roff is text for the man macros.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(s)
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = `\&` + l
		}
	}
	return strings.Join(lines, "\n")
}

type manual struct{ strings.Builder }

func (p *manual) head(s string)      { fmt.Fprintf(p, ".SH %s\n", strings.ToUpper(s)) }
func (p *manual) text(s string)      { fmt.Fprintf(p, "%s\n", roff(s)) }
func (p *manual) item(tag, s string) { fmt.Fprintf(p, ".TP\n.B %s\n%s\n", roff(tag), roff(s)) }

// manPage writes the whole page.
func manPage(root *cobra.Command) string {
	p := &manual{}
	fmt.Fprintf(p, ".TH SOAPSTONE 1 \"\" \"soapstone %s\" \"Shop tools\"\n", version)
	p.head("name")
	p.text("soapstone - from sticks of steel to a welded frame: nest, cut, mark, weld, lift, price")
	p.head("synopsis")
	for i, c := range commandsOf(root) {
		if i > 0 {
			p.WriteString(".br\n")
		}
		fmt.Fprintf(p, ".B %s\n", roff(c.UseLine()))
	}
	p.head("description")
	p.text(root.Long)
	p.text("The help topics guide, job and example hold the way through a job, every table and key of the job file, and the example's file: soapstone help TOPIC.")
	p.head("commands")
	for _, c := range commandsOf(root) {
		if c == root {
			continue
		}
		fmt.Fprintf(p, ".SS %s\n", roff(c.UseLine()))
		says := c.Short
		if c.Long != "" && c.Name() != "sum" && c.Name() != "completion" {
			says = c.Long
		}
		fmt.Fprintf(p, ".nf\n%s\n.fi\n", roff(wrapped(strings.TrimSpace(says), 72)))
		c.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) { p.flag(f) })
	}
	p.head("options of every command")
	root.PersistentFlags().VisitAll(func(f *pflag.Flag) { p.flag(f) })
	p.item("-h, --help", "what a command does and takes")
	p.item("-v, --version", "the version")
	p.head("the workbench")
	p.text("A number or tab goes to a station; the foot of each screen says what the keys do now; ? explains the station and the working of its figures; u takes the last step back and r does it again; b leaves only the next action, large; g chooses ground, colours, signs, bell and mouse; q leaves, and everything is kept.")
	d := &station.Desk{Look: look.New(termenv.Ascii, look.Dark, false), Work: work.New(), Now: time.Unix(0, 0)}
	for i, s := range way.Stations(sum.Tables{Steel: table.Steel()}, func(*station.Desk, work.What) string { return "" }, time.UTC) {
		fmt.Fprintf(p, ".SS %d %s\n", (i+1)%10, roff(s.Name()))
		p.text(s.Purpose())
		for _, k := range s.Keys(d) {
			shown := k.Shown
			if shown == "" {
				shown = strings.Join(k.Keys, " ")
			}
			p.item(shown, k.Does)
		}
	}
	p.head("files")
	p.item("JOB.toml", "the job: a plain text file; soapstone help job tells every key")
	p.item("JOB.record", "beside it: what has been done, append-only, each entry on the disk before the screen says so")
	p.item("$XDG_CONFIG_HOME/soapstone/config.toml", "how the workbench looks and sounds: ground = auto | dark | light, colour = auto | none | 16 | 256 | true, signs = auto | unicode | ascii, bell and mouse = true | false")
	p.item("$XDG_CONFIG_HOME/soapstone/shop.toml", "what is the same for every job: saw, welder, sections, labour; a job's own keys come first")
	p.item("$XDG_STATE_HOME/soapstone", "the example as it is worked on, that the tour was seen, the report of a fault")
	p.head("environment")
	p.item("NO_COLOR", "no colour, whatever it is set to")
	p.item("SOAPSTONE_THEME", "dark or light: stands above the config file")
	p.item("COLORTERM, TERM, COLORFGBG", "what the terminal can show; it is asked for its background too, where it answers")
	p.item("LC_ALL, LC_CTYPE, LANG", "without UTF-8 the screens are drawn in ASCII")
	p.item("VISUAL, EDITOR", "the editor that e opens")
	p.item("XDG_CONFIG_HOME, XDG_STATE_HOME, HOME", "where the files above lie; ~/.config and ~/.local/state where they are not set")
	p.head("exit status")
	for _, x := range []struct {
		status int
		says   string
	}{{exitDone, "done"}, {exitJob, "the job or the list cannot be built as written; the message says what and where"}, {exitUse, "wrong use of the command"}, {exitFiles, "a file could not be read or written"}} {
		p.item(fmt.Sprint(x.status), x.says)
	}
	p.head("cautions")
	p.text("Saw, arc, fumes, lifting and loads hurt people. The cautions on the screens do not replace the machine's manual, local codes or a licensed engineer; soapstone never calls a frame safe.")
	return p.String()
}

func (p *manual) flag(f *pflag.Flag) {
	if f.Name == "help" || f.Name == "version" || f.Hidden {
		return
	}
	word, says := pflag.UnquoteUsage(f)
	tag := "--" + f.Name
	if f.Shorthand != "" {
		tag = "-" + f.Shorthand + ", " + tag
	}
	if word != "" {
		tag += " " + word
	}
	p.item(tag, says)
}

// commandsOf lists the root and every command below it that runs something, by name.
func commandsOf(root *cobra.Command) []*cobra.Command {
	out := []*cobra.Command{root}
	var visit func(c *cobra.Command)
	visit = func(c *cobra.Command) {
		list := append([]*cobra.Command{}, c.Commands()...)
		sort.Slice(list, func(a, b int) bool { return list[a].Name() < list[b].Name() })
		for _, x := range list {
			if x.Hidden || x.Name() == "help" || x.Parent().Name() == "completion" || !x.Runnable() && !x.HasSubCommands() {
				continue
			}
			if x.Runnable() || x.Name() == "completion" {
				out = append(out, x)
			}
			visit(x)
		}
	}
	visit(root)
	return out
}

// wrapped breaks lines of prose at w cells; lines that begin with a blank stay.
func wrapped(s string, w int) string {
	var out []string
	for _, l := range strings.Split(s, "\n") {
		for len(l) > w && !strings.HasPrefix(l, " ") {
			i := strings.LastIndexByte(l[:w], ' ')
			if i <= 0 {
				break
			}
			out = append(out, l[:i])
			l = l[i+1:]
		}
		out = append(out, l)
	}
	return strings.Join(out, "\n")
}
