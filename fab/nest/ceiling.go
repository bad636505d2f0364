package nest

// ceiling tabulates the most that a filling can be worth by the effs alone, each rounded down to the grid: a bound that
// knows pieces are whole, where the fractional filling cuts the last one.
type ceiling struct {
	grid int64
	rows [][]int64 // by place in the order: from there on; by room in grids
}

// Sizes of a table in grids: where the effs have a common measure the table is exact up to exactGrids.
const (
	coarseGrids = 2048
	exactGrids  = 8192
)

// newCeiling tabulates the items in their order; room is the most that will be asked for.
func newCeiling(items []item, order []int, value []int64, most []int, room int64) *ceiling {
	unit := int64(0)
	for _, i := range order {
		unit = gcd(unit, items[i].eff)
	}
	c := &ceiling{grid: max(1, unit), rows: make([][]int64, len(order)+1)}
	if room/c.grid > exactGrids {
		c.grid = room/coarseGrids + 1
	}
	n := int(room/c.grid) + 1
	all := make([]int64, n*(len(order)+1))
	for k := range c.rows {
		c.rows[k], all = all[:n:n], all[n:]
	}
	for k := len(order) - 1; k >= 0; k-- {
		i := order[k]
		w, v, next, row := int(items[i].eff/c.grid), value[i], c.rows[k+1], c.rows[k]
		copy(row, next)
		switch {
		case v <= 0:
		case w == 0:
			for at := range row {
				row[at] += v * int64(most[i])
			}
		default:
			for j, off := 1, w; j <= most[i] && off < n; j, off = j+1, off+w {
				gain := v * int64(j)
				for at, before := range next[:n-off] {
					row[off+at] = max(row[off+at], before+gain)
				}
			}
		}
	}
	return c
}

// from bounds what items from place at on can add in so much room.
func (c *ceiling) from(at int, room int64) int64 { return c.rows[at][max(0, room)/c.grid] }
