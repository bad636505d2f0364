package table_test

import (
	"bench.example/soapstone/fab/figure/outside"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/stock/table"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

var _ = measure.In
var _ = outside.Check
var _ = math.Pi

func TestTmp(t *testing.T) {
	f, err := os.Open("testdata/aisc.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	col := map[string]int{}
	for i, n := range rows[0] {
		col[n] = i
	}
	worst := map[string][2]float64{}
	lab := map[string][2]string{}
	cat := table.Steel()
	for _, row := range rows[1:] {
		g := func(n string) float64 { v, _ := strconv.ParseFloat(row[col[n]], 64); return v }
		l := row[0]
		spec := steel.Spec{Grade: "A500-C"}
		switch {
		case strings.HasPrefix(l, "Pipe"):
			spec.Shape = steel.Pipe
			for _, k := range [][2]string{{"XXS", "xxs"}, {"XS", "sch80"}, {"STD", "sch40"}} {
				if n, ok := strings.CutSuffix(l[4:], k[0]); ok {
					spec.Size = n + " " + k[1]
					break
				}
			}
		case strings.HasPrefix(l, "HSS") && strings.Count(l, "X") == 1:
			spec.Shape = steel.RoundTube
			spec.Size = row[col["depth_in"]] + " x " + row[col["wall_nominal_in"]]
		case strings.HasPrefix(l, "HSS"):
			spec.Shape = steel.RectTube
			spec.Size = row[col["depth_in"]] + " x " + row[col["width_in"]] + " x " + row[col["wall_nominal_in"]]
		case strings.HasPrefix(l, "L"):
			spec.Shape = steel.Angle
			spec.Grade = ""
			spec.Size = row[col["depth_in"]] + " x " + row[col["width_in"]] + " x " + row[col["wall_nominal_in"]]
		default:
			spec.Shape, spec.Size, spec.Grade = steel.Channel, l, ""
		}
		s, err := steel.New(spec, cat)
		if err != nil {
			t.Errorf("%s: %v", l, err)
			continue
		}
		p := s.Properties(steel.Design)
		in := 25.4
		for k, v := range map[string][2]float64{
			"W": {p.MassKGM, g("weight_lb_ft") * .45359237 / .3048}, "A": {p.AreaMM2, g("area_in2") * in * in},
			"Ix": {p.IxMM4, g("Ix_in4") * in * in * in * in}, "Iy": {p.IyMM4, g("Iy_in4") * in * in * in * in},
			"Sx": {p.SxMM3, g("Sx_in3") * in * in * in}, "Sy": {p.SyMM3, g("Sy_in3") * in * in * in},
			"Zx": {p.ZxMM3, g("Zx_in3") * in * in * in}, "Zy": {p.ZyMM3, g("Zy_in3") * in * in * in},
			"rx": {p.RxMM, g("rx_in") * in}, "ry": {p.RyMM, g("ry_in") * in}, "J": {p.JMM4, g("J_in4") * in * in * in * in}} {
			if v[1] == 0 {
				continue
			}
			e := v[0]/v[1] - 1
			k = spec.Shape.String() + " " + k
			w := worst[k]
			b := lab[k]
			if e < w[0] {
				w[0] = e
				b[0] = l
			}
			if e > w[1] {
				w[1] = e
				b[1] = l
			}
			worst[k], lab[k] = w, b
		}
	}
	for _, sh := range []string{"rect-tube", "round-tube", "pipe", "angle", "channel"} {
		for _, k := range strings.Fields("W A Ix Sx Zx rx Iy Sy Zy ry J") {
			k = sh + " " + k
			fmt.Printf("%s %+.2f%% %s  %+.2f%% %s\n", k, 100*worst[k][0], lab[k][0], 100*worst[k][1], lab[k][1])
		}
	}
}
