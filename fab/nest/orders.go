package nest

// orders gives the least room that pieces of given classes take in any order: the dynamic programme over how many of
// each class are placed and the plane of the last right end. The lengths themselves do not matter to it, as they add up
// the same in every order. Values are tip to tip: the stick's first tip to the last piece's right tip, less the sum of
// the lengths.
type orders struct {
	m     *model
	start []int64 // by the first piece's left plane
	memo  map[key]*rooms
	full  bool // the memo's bound was reached: values are of some order, not always of the best
}

// rooms is an entry of the memo.
type rooms struct {
	last []int64 // by right plane: the least room with that plane last
	next []int64 // by left plane: the least room in front of one more piece
}

// key is a sum of class words, one for each piece, in two independent halves: equal counts have equal keys.
type key struct{ a, b uint64 }

// maxOrders bounds the memo of one orders (entries).
const maxOrders = 400_000

func newOrders(m *model, start []int64) *orders {
	return &orders{m: m, start: start, memo: map[key]*rooms{}}
}

// word is the fixed pseudo-random word of a class (splitmix64).
func word(class int) key {
	mix := func(z uint64) uint64 {
		z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
		z = (z ^ z>>27) * 0x94d049bb133111eb
		return z ^ z>>31
	}
	c := uint64(class) + 1
	return key{mix(c * 0x9e3779b97f4a7c15), mix(c*0xd1342543de82ef95 + 77)}
}

func (k key) plus(w key, n int) key { return key{k.a + w.a*uint64(n), k.b + w.b*uint64(n)} }

// rooms gives the entry for the pieces counted in n (by class). It must not be written to.
func (o *orders) rooms(n []int, k key, total int) *rooms {
	if v, ok := o.memo[k]; ok {
		return v
	}
	m := o.m
	both := make([]int64, 2*len(m.planes))
	v := &rooms{both[:len(m.planes)], both[len(m.planes):]}
	for i := range both {
		both[i] = infinite
	}
	if len(o.memo) >= maxOrders {
		o.full = true
		m.unsure = true
	}
	for c := range n {
		if n[c] == 0 {
			continue
		}
		arrive := o.arrive(n, k, total, c)
		for _, l := range m.classes[c] {
			v.last[l.right] = min(v.last[l.right], arrive[l.left])
		}
		if o.full {
			break // any order will do: the first class is taken last
		}
	}
	for p, at := range v.last {
		if at >= infinite {
			continue
		}
		for q, j := range m.joint[p] {
			v.next[q] = min(v.next[q], at+j)
		}
	}
	if !o.full {
		o.memo[k] = v
	}
	return v
}

// last gives, by right plane, the least room of the pieces with that plane last.
func (o *orders) last(n []int, k key, total int) []int64 { return o.rooms(n, k, total).last }

// arrive gives, by left plane, the least room in front of a piece of class c that is the last of the pieces counted in n.
func (o *orders) arrive(n []int, k key, total, c int) []int64 {
	if total == 1 {
		return o.start
	}
	n[c]--
	next := o.rooms(n, k.plus(o.m.words[c], -1), total-1).next
	n[c]++
	return next
}
