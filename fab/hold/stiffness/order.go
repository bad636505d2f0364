package stiffness

import "sort"

// minimumDegree orders the vertices of a graph so that elimination fills in little: approximate minimum degree on the
// quotient graph with element absorption and merging of indistinguishable vertices (Amestoy, Davis, Duff 1996).  adj
// holds each vertex's neighbours, without itself and without doubles.  Ties go to the vertex touched last, so that the
// order depends on nothing but adj.
func minimumDegree(adj [][]int32) []int32 {
	n := len(adj)
	q := &quotient{
		vars: make([][]int32, n), elems: make([][]int32, n), member: make([][]int32, n),
		weight: make([]int32, n), degree: make([]int32, n), size: make([]int32, n), deadElem: make([]bool, n),
		head: make([]int32, n+1), next: make([]int32, n), prev: make([]int32, n),
		mark: make([]int32, n), left: make([]int32, n), leftAt: make([]int32, n), merged: make([][]int32, n),
	}
	for i := range q.head {
		q.head[i] = -1
	}
	for i := n - 1; i >= 0; i-- {
		q.vars[i] = append([]int32(nil), adj[i]...)
		q.weight[i] = 1
		q.degree[i] = int32(len(adj[i]))
		q.link(int32(i))
	}
	order := make([]int32, 0, n)
	low := int32(0)
	for len(order) < n {
		for q.head[low] < 0 {
			low++
		}
		p := q.head[low]
		order = q.eliminate(p, order, &low)
	}
	return order
}

type quotient struct {
	vars, elems  [][]int32 // a vertex's neighbours that are vertices, and that are elements
	member       [][]int32 // an element's vertices
	merged       [][]int32 // vertices that go with this one
	weight       []int32   // number of vertices merged here; 0: gone or merged away
	degree       []int32
	size         []int32 // weight of an element's vertices
	deadElem     []bool
	head         []int32 // by degree
	next, prev   []int32
	mark         []int32
	stamp        int32
	left, leftAt []int32 // weight of an element outside the pivot's, and the stamp it was taken at
}

func (q *quotient) link(i int32) {
	d := q.degree[i]
	q.next[i], q.prev[i] = q.head[d], -1
	if q.head[d] >= 0 {
		q.prev[q.head[d]] = i
	}
	q.head[d] = i
}

func (q *quotient) unlink(i int32) {
	if q.prev[i] >= 0 {
		q.next[q.prev[i]] = q.next[i]
	} else {
		q.head[q.degree[i]] = q.next[i]
	}
	if q.next[i] >= 0 {
		q.prev[q.next[i]] = q.prev[i]
	}
}

func (q *quotient) eliminate(p int32, order []int32, low *int32) []int32 {
	q.unlink(p)
	q.stamp++
	st := q.stamp
	q.mark[p] = st
	var lp []int32
	take := func(list []int32) {
		for _, v := range list {
			if q.weight[v] > 0 && q.mark[v] != st {
				q.mark[v] = st
				lp = append(lp, v)
			}
		}
	}
	take(q.vars[p])
	for _, e := range q.elems[p] {
		if !q.deadElem[e] {
			take(q.member[e])
			q.deadElem[e] = true
			q.member[e] = nil
		}
	}
	order = append(order, p)
	order = append(order, q.merged[p]...)
	q.weight[p] = 0
	q.vars[p], q.elems[p] = nil, nil
	wp := int32(0)
	for _, i := range lp {
		wp += q.weight[i]
		q.unlink(i)
		for _, e := range q.elems[i] {
			if q.deadElem[e] {
				continue
			}
			if q.leftAt[e] != st {
				q.leftAt[e], q.left[e] = st, q.size[e]
			}
			q.left[e] -= q.weight[i]
		}
	}
	left := int32(len(q.weight) - len(order))
	buckets := map[int64][]int32{}
	var keys []int64
	for _, i := range lp {
		d, h := int32(0), int64(0)
		k := 0
		for _, e := range q.elems[i] {
			if q.deadElem[e] || q.left[e] == 0 { // an element inside the pivot's adds nothing
				continue
			}
			d += q.left[e]
			h += int64(e)
			q.elems[i][k] = e
			k++
		}
		q.elems[i] = append(q.elems[i][:k], p)
		h += int64(p)
		k = 0
		for _, v := range q.vars[i] {
			if q.weight[v] > 0 && q.mark[v] != st {
				d += q.weight[v]
				h += int64(v)
				q.vars[i][k] = v
				k++
			}
		}
		q.vars[i] = q.vars[i][:k]
		outside := wp - q.weight[i]
		q.degree[i] = max(0, min(left-q.weight[i], q.degree[i]+outside, d+outside))
		if len(buckets[h]) == 0 {
			keys = append(keys, h)
		}
		buckets[h] = append(buckets[h], i)
	}
	for _, h := range keys {
		q.mergeAlike(buckets[h])
	}
	alive := lp[:0]
	for _, i := range lp {
		if q.weight[i] > 0 {
			alive = append(alive, i)
			q.link(i)
			*low = min(*low, q.degree[i])
		}
	}
	q.member[p], q.size[p] = alive, wp
	return order
}

// mergeAlike joins vertices that have the same neighbours: they can be eliminated together.
func (q *quotient) mergeAlike(list []int32) {
	for a := 0; a < len(list); a++ {
		i := list[a]
		if q.weight[i] == 0 {
			continue
		}
		for _, j := range list[a+1:] {
			if q.weight[j] == 0 || len(q.vars[i]) != len(q.vars[j]) || len(q.elems[i]) != len(q.elems[j]) {
				continue
			}
			if !sameSet(q.vars[i], q.vars[j]) || !sameSet(q.elems[i], q.elems[j]) {
				continue
			}
			q.degree[i] = max(0, q.degree[i]-q.weight[j])
			q.weight[i] += q.weight[j]
			q.weight[j] = 0
			q.merged[i] = append(append(q.merged[i], j), q.merged[j]...)
			q.vars[j], q.elems[j], q.merged[j] = nil, nil, nil
		}
	}
}

func sameSet(a, b []int32) bool {
	less := func(s []int32) func(i, j int) bool { return func(i, j int) bool { return s[i] < s[j] } }
	sort.Slice(a, less(a))
	sort.Slice(b, less(b))
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// super is a run of vertices, consecutive in the order, that are eliminated as one dense block.
type super struct {
	first, last int32   // vertices [first, last), by place in the order
	below       []int32 // later vertices that the block reaches, ascending
	children    []int32 // blocks whose leftover goes here
}

// plan is the symbolic factorisation: order, blocks and their tree.
type plan struct {
	order  []int32 // vertex at each place
	place  []int32 // place of each vertex
	blocks []super
}

// newPlan finds the elimination tree, puts it into postorder, and gathers runs into blocks.  width gives the number of
// unknowns of a vertex.
func newPlan(adj [][]int32, width []int32) *plan {
	n := len(adj)
	order := minimumDegree(adj)
	parent, _ := eliminationTree(adj, order)
	// Postorder, so that a block's children lie on top of the stack of leftovers.
	kids := make([][]int32, n)
	var roots []int32
	for k := 0; k < n; k++ {
		if parent[k] >= 0 {
			kids[parent[k]] = append(kids[parent[k]], int32(k))
		} else {
			roots = append(roots, int32(k))
		}
	}
	post := make([]int32, 0, n)
	type step struct{ v, k int32 }
	for _, r := range roots {
		stack := []step{{r, 0}}
		for len(stack) > 0 {
			top := &stack[len(stack)-1]
			if int(top.k) < len(kids[top.v]) {
				top.k++
				stack = append(stack, step{kids[top.v][top.k-1], 0})
				continue
			}
			post = append(post, order[top.v])
			stack = stack[:len(stack)-1]
		}
	}
	parent, reach := eliminationTree(adj, post)
	p := &plan{order: post, place: make([]int32, n)}
	for k, v := range post {
		p.place[v] = int32(k)
	}
	blockOf := make([]int32, n)
	zeros, cols := 0, 0
	for k := 0; k < n; k++ {
		w := int(width[post[k]])
		join := false
		if k > 0 && parent[k-1] == int32(k) {
			// The run's columns grow by the rows that only k has.
			extra := (len(reach[k]) + 1 - len(reach[k-1])) * 6 * cols
			total := (cols + w) * (cols + w + 6*len(reach[k]))
			if extra == 0 || (zeros+extra)*8 < total || cols+w <= 12 {
				join = true
				zeros += extra
			}
		}
		if join {
			b := &p.blocks[len(p.blocks)-1]
			b.last, b.below = int32(k+1), reach[k]
			cols += w
		} else {
			p.blocks = append(p.blocks, super{first: int32(k), last: int32(k + 1), below: reach[k]})
			zeros, cols = 0, w
		}
		blockOf[k] = int32(len(p.blocks) - 1)
	}
	for i := range p.blocks {
		if b := p.blocks[i].below; len(b) > 0 {
			up := blockOf[b[0]]
			p.blocks[up].children = append(p.blocks[up].children, int32(i))
		}
	}
	return p
}

// eliminationTree gives for each place in the order its parent (-1 for a root) and the later places that it reaches.
func eliminationTree(adj [][]int32, order []int32) (parent []int32, reach [][]int32) {
	n := len(order)
	place := make([]int32, n)
	for k, v := range order {
		place[v] = int32(k)
	}
	parent = make([]int32, n)
	reach = make([][]int32, n)
	mark := make([]int32, n)
	kids := make([][]int32, n)
	for k := 0; k < n; k++ {
		var s []int32
		add := func(j int32) {
			if j > int32(k) && mark[j] != int32(k+1) {
				mark[j] = int32(k + 1)
				s = append(s, j)
			}
		}
		for _, v := range adj[order[k]] {
			add(place[v])
		}
		for _, c := range kids[k] {
			for _, j := range reach[c] {
				add(j)
			}
		}
		sort.Slice(s, func(a, b int) bool { return s[a] < s[b] })
		reach[k], parent[k] = s, -1
		if len(s) > 0 {
			parent[k] = s[0]
			kids[s[0]] = append(kids[s[0]], int32(k))
		}
	}
	return parent, reach
}
