package look

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
)

// palettesTable is the table of colours and contrast ratios as DEVELOPERS.md holds it.
func palettesTable(t *testing.T) string {
	grounds := [...]string{Dark: "#101418", Light: "#F4F1EA"}
	var b strings.Builder
	b.WriteString("| role | on slate (#101418) | ratio | on chalk (#F4F1EA) | ratio | least |\n|---|---|---|---|---|---|\n")
	row := func(role string, of func(Theme) lipgloss.CompleteColor, least string) {
		fmt.Fprintf(&b, "| %s |", role)
		for _, th := range []Theme{Dark, Light} {
			c := of(th).TrueColor
			fmt.Fprintf(&b, " %s | %.1f |", c, ratio(t, c, grounds[th]))
		}
		fmt.Fprintf(&b, " %s |\n", least)
	}
	row("chalk: what is to be read", func(th Theme) lipgloss.CompleteColor { return palettes[th].chalk }, "7")
	row("dim: what stands back", func(th Theme) lipgloss.CompleteColor { return palettes[th].dim }, "4.5")
	row("straw: keys, warnings", func(th Theme) lipgloss.CompleteColor { return palettes[th].key }, "4.5")
	row("orange: due, hot", func(th Theme) lipgloss.CompleteColor { return palettes[th].hot }, "4.5")
	row("cherry: wrong, spoiled", func(th Theme) lipgloss.CompleteColor { return palettes[th].bad }, "4.5")
	row("temper blue: done, at rest", func(th Theme) lipgloss.CompleteColor { return palettes[th].cool }, "4.5")
	row("rule: lines between parts", func(th Theme) lipgloss.CompleteColor { return palettes[th].rule }, "3")
	for i, name := range []string{"temper blue", "grey", "straw", "orange", "cherry"} {
		row(fmt.Sprintf("heat %d: %s", i, name), func(th Theme) lipgloss.CompleteColor { return heat[th][i] }, "4.5")
	}
	return b.String()
}

// TestWrittenDown holds that DEVELOPERS.md tells the palette and its ratios as they are.
func TestWrittenDown(t *testing.T) {
	data, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	if want := palettesTable(t); !strings.Contains(string(data), want) {
		t.Errorf("DEVELOPERS.md, the look: the table of colours should read\n%s", want)
	}
}
