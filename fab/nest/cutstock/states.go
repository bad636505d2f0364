package cutstock

// states is a bounded knapsack over a list of the fillings that no other dominates, by rising length and value (Nemhauser
// and Ullmann, Manage. Sci. 15, 1969), cut down to those that can still pass the best value by the fractional bound. It
// serves lengths that no table is wide enough for, where a depth-first search comes back to the same lengths over and
// over.
type states struct {
	w, v  []int64
	from  []int32 // the filling it was made of
	kind  []int32 // by what
	count []int32
	cur   []int32 // fillings alive, by rising w and v
	next  []int32
}

// statesMost bounds the steps of one search, statesHeld the fillings in memory (28 bytes each).
const (
	statesMost = 4_000_000
	statesHeld = 2_000_000
)

// most finds the greatest value above floor of the kinds (sorted by falling value per size; eff[i] bounds that of the
// kinds i.., least[i] is their smallest size) within room. ok is false where the lists grew too long; takes is nil where
// nothing passes floor.
func (q *states) most(sz, val []int64, cnt []int32, kind []int32, eff []float64, least []int64, room, floor int64, limit int) (top int64, takes []take, ok bool) {
	q.w, q.v, q.from, q.kind, q.count = append(q.w[:0], 0), append(q.v[:0], 0), append(q.from[:0], -1), append(q.kind[:0], 0), append(q.count[:0], 0)
	q.cur = append(q.cur[:0], 0)
	top = floor
	best := int32(-1)
	work := 0
	for i := range sz {
		// Copies in bundles of 1, 2, 4, ... make up every number of them.
		for left, n := min(int64(cnt[i]), room/sz[i]), int64(1); left > 0; n *= 2 {
			n = min(n, left)
			left -= n
			rest, small := eff[i+1], least[i+1]
			if left > 0 {
				rest, small = eff[i], min(small, sz[i])
			}
			q.next = q.next[:0]
			high := int64(-1) // value of the last filling kept
			alive := func(w, v int64) bool {
				if v <= high {
					return false // dominated
				}
				if v > top {
					return true
				}
				return room-w >= small && v+int64(float64(room-w)*rest)+1 > top
			}
			bw, bv := n*sz[i], n*val[i]
			a, b := 0, 0
			for a < len(q.cur) || b < len(q.cur) {
				if work++; work > limit || len(q.w) > statesHeld {
					return 0, nil, false
				}
				if b == len(q.cur) || a < len(q.cur) && !(q.w[q.cur[b]]+bw < q.w[q.cur[a]] || q.w[q.cur[b]]+bw == q.w[q.cur[a]] && q.v[q.cur[b]]+bv > q.v[q.cur[a]]) {
					x := q.cur[a]
					a++
					if alive(q.w[x], q.v[x]) {
						q.next = append(q.next, x)
						high = q.v[x]
					}
					continue
				}
				x := q.cur[b]
				b++
				w, v := q.w[x]+bw, q.v[x]+bv
				if w > room {
					b = len(q.cur)
					continue
				}
				if !alive(w, v) {
					continue
				}
				at := int32(len(q.w))
				q.w, q.v, q.from, q.kind, q.count = append(q.w, w), append(q.v, v), append(q.from, x), append(q.kind, kind[i]), append(q.count, int32(n))
				q.next = append(q.next, at)
				high = v
				if v > top {
					top, best = v, at
				}
			}
			q.cur, q.next = q.next, q.cur
		}
	}
	if best < 0 {
		return top, nil, true
	}
	var out []take
	for at := best; at > 0; at = q.from[at] {
		out = append(out, take{q.kind[at], q.count[at]})
	}
	return top, mergeParts(out, nil), true
}
