package table

import (
	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
)

// Outside diameters and walls are those of ASME B36.10M: up to 10 in sch40 is the standard weight (STD), up to 8 in sch80
// the extra strong (XS). The AISC table confirms sizes from 1/2 to 3-1/2; the others stand from memory and say so.
var (
	pipeSource = figure.Source{Kind: figure.Standard, Text: "ASME B36.10M, welded and seamless wrought steel pipe (AISC Shapes Database v16.0 agrees)"}
	pipeMemory = figure.Source{Kind: figure.Standard, Text: "ASME B36.10M, welded and seamless wrought steel pipe (from memory)"}
)

// pipes in thousandths of an inch; a wall of 0 is not made.
func pipes() []steel.PipeSize {
	rows := []struct {
		nominal, dn                  string
		outside, sch40, sch80, extra int64
	}{
		{"1/8", "6", 405, 68, 95, 0},
		{"1/4", "8", 540, 88, 119, 0},
		{"3/8", "10", 675, 91, 126, 0},
		{"1/2", "15", 840, 109, 147, 294},
		{"3/4", "20", 1050, 113, 154, 308},
		{"1", "25", 1315, 133, 179, 358},
		{"1-1/4", "32", 1660, 140, 191, 382},
		{"1-1/2", "40", 1900, 145, 200, 400},
		{"2", "50", 2375, 154, 218, 436},
		{"2-1/2", "65", 2875, 203, 276, 552},
		{"3", "80", 3500, 216, 300, 600},
		{"3-1/2", "90", 4000, 226, 318, 0},
		{"4", "100", 4500, 237, 337, 674},
		{"5", "125", 5563, 258, 375, 750},
		{"6", "150", 6625, 280, 432, 864},
		{"8", "200", 8625, 322, 500, 875},
	}
	sizes := make([]steel.PipeSize, len(rows))
	for i, r := range rows {
		p := steel.PipeSize{Nominal: r.nominal, DN: r.dn, Outside: measure.Length(r.outside) * measure.Mil, Source: pipeSource,
			Schedules: map[string]measure.Length{}}
		if r.outside < 840 || r.outside > 4000 {
			p.Source = pipeMemory
		}
		for name, wall := range map[string]int64{"sch40": r.sch40, "sch80": r.sch80, "xxs": r.extra} {
			if wall > 0 {
				p.Schedules[name] = measure.Length(wall) * measure.Mil
			}
		}
		sizes[i] = p
	}
	return sizes
}

var aisc = figure.Source{Kind: figure.Catalogue, Text: "AISC Shapes Database v16.0 (2023)"}

// designWalls are the design walls as the AISC table rounds them, in thousandths of an inch, the nominal ones in tenths
// of that. Every one is within 1.3 thousandths of 0.93 times the nominal wall.
func designWalls() []steel.DesignWall {
	rows := []struct {
		pipe            bool
		nominal, design int64
	}{
		{false, 1200, 111}, {false, 1250, 116}, {false, 1340, 124}, {false, 1400, 130}, {false, 1450, 135}, {false, 1540, 143},
		{false, 1875, 174}, {false, 2030, 189}, {false, 2160, 201}, {false, 2180, 203}, {false, 2370, 220}, {false, 2500, 233},
		{false, 3000, 279}, {false, 3125, 291}, {false, 3750, 349}, {false, 5000, 465}, {false, 6250, 581},
		{true, 1090, 101}, {true, 1130, 105}, {true, 1330, 124}, {true, 1450, 135}, {true, 1540, 143}, {true, 1790, 166}, {true, 1910, 178},
		{true, 2160, 201}, {true, 2180, 204}, {true, 2760, 257}, {true, 3000, 280}, {true, 3180, 296}, {true, 4360, 406}, {true, 6000, 559},
	}
	walls := make([]steel.DesignWall, len(rows))
	for i, r := range rows {
		walls[i] = steel.DesignWall{Pipe: r.pipe, Nominal: measure.Length(r.nominal) * mil10, Design: measure.Length(r.design) * measure.Mil, Source: aisc}
	}
	return walls
}
