package layers

import "math"

// draw gives each place its coordinates: rows evenly, and within a row as near to the mean of the neighbours as order and width allow.
func (g *grid) draw(s Sizes) Layout {
	x := g.spread(s)
	out := Layout{Crossings: g.crossings(), Height: float64(len(g.rows))*s.Height + float64(max(len(g.rows)-1, 0))*s.Rise}
	y := func(place int) float64 { return out.Height - s.Height/2 - float64(g.row[place])*(s.Height+s.Rise) }
	for r, row := range g.rows {
		for _, place := range row {
			if place < len(g.ids) {
				out.Nodes = append(out.Nodes, Placed{ID: g.ids[place], Row: r, X: x[place], Y: y(place)})
				out.Width = max(out.Width, x[place]+s.Width/2)
			}
		}
	}
	for _, chain := range g.chains {
		last := len(chain) - 1
		line := Line{From: g.ids[chain[0]], To: g.ids[chain[last]], Points: []Point{{x[chain[0]], y(chain[0]) - s.Height/2}}}
		for _, place := range chain[1:last] {
			line.Points = append(line.Points, Point{x[place], y(place) + s.Height/2}, Point{x[place], y(place) - s.Height/2})
			out.Width = max(out.Width, x[place]+s.Width*pass/2)
		}
		line.Points = append(line.Points, Point{x[chain[last]], y(chain[last]) + s.Height/2})
		out.Lines = append(out.Lines, line)
	}
	return out
}

// spread goes up and down the rows, each time moving the places of a row towards their neighbours on both sides.
func (g *grid) spread(s Sizes) []float64 {
	x := make([]float64, len(g.row))
	for _, row := range g.rows {
		for i, off := range g.offsets(row, s) {
			x[row[i]] = off
		}
	}
	for sweep := range sweeps {
		for i := range g.rows {
			if sweep%2 == 1 {
				i = len(g.rows) - 1 - i
			}
			g.settle(g.rows[i], x, s)
		}
	}
	left := math.Inf(1)
	for place := range x {
		left = min(left, x[place]-g.width(place, s)/2)
	}
	for place := range x {
		x[place] -= left
	}
	return x
}

func (g *grid) width(place int, s Sizes) float64 {
	if place < len(g.ids) {
		return s.Width
	}
	return s.Width * pass
}

// offsets are the places of a row that stands as close together as it may.
func (g *grid) offsets(row []int, s Sizes) []float64 {
	off := make([]float64, len(row))
	for i := 1; i < len(row); i++ {
		off[i] = off[i-1] + g.width(row[i-1], s)/2 + s.Gap + g.width(row[i], s)/2
	}
	return off
}

// settle puts the places of a row where the sum of squares from what each wants is least, in order and without overlap: a regression
// that rises, by pooling neighbours that would fall.
func (g *grid) settle(row []int, x []float64, s Sizes) {
	type block struct {
		sum float64
		n   int
	}
	var blocks []block
	off := g.offsets(row, s)
	for i, place := range row {
		blocks = append(blocks, block{g.wanted(place, x) - off[i], 1})
		for k := len(blocks) - 1; k > 0 && blocks[k-1].sum*float64(blocks[k].n) > blocks[k].sum*float64(blocks[k-1].n); k-- {
			blocks[k-1] = block{blocks[k-1].sum + blocks[k].sum, blocks[k-1].n + blocks[k].n}
			blocks = blocks[:k]
		}
	}
	i := 0
	for _, b := range blocks {
		for range b.n {
			x[row[i]] = b.sum/float64(b.n) + off[i]
			i++
		}
	}
}

// wanted is the mean of the neighbours, or the place itself where there are none.
func (g *grid) wanted(place int, x []float64) float64 {
	sum, n := 0.0, 0
	for _, side := range [][]int{g.below[place], g.above[place]} {
		for _, other := range side {
			sum += x[other]
			n++
		}
	}
	if n == 0 {
		return x[place]
	}
	return sum / float64(n)
}
