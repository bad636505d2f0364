package sum

import (
	"strings"

	"bench.example/soapstone/fab/bolt"
	"bench.example/soapstone/fab/measure"
)

func boltSums() []Sum {
	return []Sum{
		{
			Name: "bolt", Purpose: "strength, clamp force, torque, hole and tap drill of a bolt",
			Takes: []Arg{
				{Name: "size", Takes: "thread", Example: "3/8-16"},
				{Name: "grade", Takes: "1 2 5 8 (SAE J429) for inch, 4.6 ... 8.8 10.9 12.9 (ISO 898-1) for metric", Example: "5"},
				{Name: "k", Takes: "nut factor: 0.20 dry, 0.15 oiled, 0.25 galvanised; 0.20", Example: "0.15", Optional: true},
				{Name: "fraction", Takes: "share of the proof load to tighten to; 0.75", Example: "75%", Optional: true},
			},
			Run: boltSum,
		},
		{
			Name: "boltlength", Purpose: "length of the bolt that a stack of plies, washers and nut needs",
			Takes: []Arg{
				{Name: "size", Takes: "thread", Example: "3/8-16"},
				{Name: "grip", Takes: "thickness of all that is clamped, washers not counted", Example: "2-1/4"},
				{Name: "flat", Takes: "number of flat washers; 0", Example: "2", Optional: true},
				{Name: "lock", Takes: "number of split lock washers; 0", Example: "1", Optional: true},
				{Name: "nut", Takes: "hex, nylon, none (tapped hole), or the nut's thickness; hex", Example: "hex", Optional: true},
				{Name: "washer", Takes: "sae, uss or fender: the kind of flat washer; sae", Example: "uss", Optional: true},
			},
			Run: boltLengthSum,
		},
	}
}

func boltSum(a *Args) (Result, error) {
	var r Result
	size, err := bolt.ParseSize(a.String("size"))
	if err != nil {
		return r, err
	}
	grade, err := bolt.ParseGrade(a.String("grade"), size)
	if err != nil {
		return r, err
	}
	k, fraction := bolt.DryK, bolt.UsualFraction
	if a.Has("k") {
		k = a.Positive("k", measure.ParseNumber)
	}
	if a.Has("fraction") {
		fraction = a.Positive("fraction", measure.ParseShare)
	}
	if a.Err() != nil {
		return r, a.Err()
	}
	t, err := bolt.Tighten(size, grade, k, fraction, "bolt.")
	if err != nil {
		return r, err
	}
	r.AddFigure("area_mm2", t.Area)
	r.AddFigure("proof_n", t.Proof)
	r.AddFigure("tensile_n", t.Rupture)
	r.AddFigure("clamp_n", t.Clamp)
	r.AddFigure("torque_nm", t.Torque)
	r.AddFigure("clear_mm", size.Clearance(bolt.Normal, "bolt."))
	r.AddFigure("tap_mm", size.TapDrill("bolt."))
	r.Notes = append(r.Notes, size.Name+" "+size.Series+", "+grade.Name+", head marked: "+grade.Mark)
	if grade.Note != "" {
		r.Notes = append(r.Notes, grade.Note)
	}
	r.Notes = append(r.Notes, "a dry torque on an oiled or waxed thread over-stretches the bolt: say which it is")
	return r, nil
}

func boltLengthSum(a *Args) (Result, error) {
	var r Result
	size, err := bolt.ParseSize(a.String("size"))
	if err != nil {
		return r, err
	}
	st := bolt.Stack{GripMM: a.PositiveMM("grip"), Flats: a.Count("flat", 0, 0), Locks: a.Count("lock", 0, 0)}
	switch a.OneOf("washer", "sae", "uss", "fender") {
	case "uss":
		st.Washer = bolt.USS
	case "fender":
		st.Washer = bolt.Fender
	}
	switch t := strings.ToLower(strings.TrimSpace(a.String("nut"))); t {
	case "", "hex", "1", "plain", "yes", "true":
	case "nylon", "lock":
		st.Nut = bolt.LockNut
	case "none", "0", "no", "false", "tapped":
		st.Nut = bolt.NoNut
	default:
		st.NutMM = a.PositiveMM("nut")
	}
	if a.Err() != nil {
		return r, a.Err()
	}
	b, err := st.Length(size, "boltlength.")
	if err != nil {
		return r, err
	}
	r.AddFigure("need_mm", b.Need)
	r.Add("stock_mm", b.StockMM)
	r.AddFigure("thread_mm", b.Thread)
	r.Add("out_mm", b.OutMM)
	r.Add("buy", b.Name)
	r.Notes = append(b.Notes, "next length up in the series that shops stock; lengths are under the head")
	return r, nil
}
