package layers

import (
	"cmp"
	"slices"
)

// sweeps is how often the rows are gone through, up and down in turn. Few graphs gain anything after ten.
const sweeps = 24

// untangle orders each row by the barycentres of its neighbours, swaps neighbours where that helps, and keeps the best order seen. It
// begins from the order given and from three others, since each beginning may end in a corner of its own.
func (g *grid) untangle() {
	given := g.copyRows()
	best, fewest := g.copyRows(), g.crossings()
	for _, begin := range []func(r int, row []int){
		func(int, []int) {},
		func(_ int, row []int) { slices.Reverse(row) },
		func(r int, row []int) { turn(row, r) },
		func(_ int, row []int) {
			slices.SortStableFunc(row, func(x, y int) int { return cmp.Compare(x%3, y%3) })
		},
	} {
		g.rows = given
		g.rows = g.copyRows()
		for r, row := range g.rows {
			begin(r, row)
		}
		for sweep := 0; sweep < sweeps && fewest > 0; sweep++ {
			g.sweep(sweep%2 == 0)
			if n := g.crossings(); n < fewest {
				best, fewest = g.copyRows(), n
			}
		}
	}
	g.rows = best
}

// turn moves the first places of a row to its end.
func turn(row []int, n int) {
	if len(row) > 0 {
		n %= len(row)
		copy(row, slices.Concat(row[n:], row[:n]))
	}
}

// sweep goes through the rows once, and then swaps until no swap helps.
func (g *grid) sweep(upward bool) {
	if upward {
		for r := 1; r < len(g.rows); r++ {
			g.byBarycentre(r, g.below)
		}
	} else {
		for r := len(g.rows) - 2; r >= 0; r-- {
			g.byBarycentre(r, g.above)
		}
	}
	for g.swapNeighbours() {
	}
}

func (g *grid) copyRows() [][]int {
	rows := make([][]int, len(g.rows))
	for i, r := range g.rows {
		rows[i] = slices.Clone(r)
	}
	return rows
}

// places is where each place stands in its row.
func (g *grid) places() []int {
	at := make([]int, len(g.row))
	for _, row := range g.rows {
		for i, place := range row {
			at[place] = i
		}
	}
	return at
}

// byBarycentre sorts a row by the mean place of the neighbours on one side; a place without any keeps its own.
func (g *grid) byBarycentre(r int, side [][]int) {
	at := g.places()
	mean := func(place int) float64 {
		if len(side[place]) == 0 {
			return float64(at[place])
		}
		sum := 0
		for _, n := range side[place] {
			sum += at[n]
		}
		return float64(sum) / float64(len(side[place]))
	}
	slices.SortStableFunc(g.rows[r], func(x, y int) int { return cmp.Compare(mean(x), mean(y)) })
}

// swapNeighbours exchanges two places side by side wherever fewer lines cross then, and reports whether it did.
func (g *grid) swapNeighbours() (swapped bool) {
	at := g.places()
	for _, row := range g.rows {
		for i := 1; i < len(row); i++ {
			left, right := row[i-1], row[i]
			now := pairCrossings(at, g.below[left], g.below[right]) + pairCrossings(at, g.above[left], g.above[right])
			then := pairCrossings(at, g.below[right], g.below[left]) + pairCrossings(at, g.above[right], g.above[left])
			if then < now {
				row[i-1], row[i] = right, left
				at[left], at[right] = i, i-1
				swapped = true
			}
		}
	}
	return swapped
}

// pairCrossings counts crossings between the lines of two places to the neighbours on one side, left being left of right.
func pairCrossings(at, left, right []int) int {
	n := 0
	for _, l := range left {
		for _, r := range right {
			if at[l] > at[r] {
				n++
			}
		}
	}
	return n
}

// crossings counts the pairs of lines that cross between rows.
func (g *grid) crossings() int {
	at, n := g.places(), 0
	for _, row := range g.rows {
		for i, right := range row {
			for _, left := range row[:i] {
				n += pairCrossings(at, g.above[left], g.above[right])
			}
		}
	}
	return n
}
