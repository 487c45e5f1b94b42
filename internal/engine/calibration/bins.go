package calibration

import "rungbook/internal/engine/standing"

// heap is a bin while it is filled: beside the tally, what the variance and covariance within it need.
type heap struct {
	tally
	squares float64 // of the chances
	both    float64 // sum of chance times outcome
}

// sort fills the bins, and what is worked out over them.
func (r *Result) sort(forecasts []Forecast, bins int) {
	heaps := make([]heap, bins)
	for _, f := range forecasts {
		h := &heaps[binOf(f.Chance, bins)]
		h.take(f)
		h.squares += f.Chance * f.Chance
		h.both += f.Chance * outcome(f)
	}
	for i, h := range heaps {
		if h.n > 0 {
			r.put(h, float64(i)/float64(bins), float64(i+1)/float64(bins))
		}
	}
}

// put appends a bin and adds its part of the components.
func (r *Result) put(h heap, from, to float64) {
	b := Bin{From: from, To: to, N: h.n, True: h.true, Mean: h.mean(), Share: h.share()}
	b.Low, b.High, _ = standing.Wilson(h.true, h.n) // counts cannot be out of range
	weight := float64(h.n) / float64(r.N)
	gap := b.Mean - b.Share
	r.Reliability += weight * gap * gap
	r.Resolution += weight * (b.Share - r.Rate) * (b.Share - r.Rate)
	r.Off += weight * max(gap, -gap)
	variance := h.squares/float64(h.n) - b.Mean*b.Mean
	covariance := h.both/float64(h.n) - b.Mean*b.Share
	r.Within += weight * (variance - 2*covariance)
	r.Bins = append(r.Bins, b)
}

// binOf is the bin of a chance: each takes its lower edge, the last one also 1.
func binOf(chance float64, bins int) int {
	i := min(int(chance*float64(bins)), bins-1)
	switch { // where the product was rounded over an edge
	case chance < float64(i)/float64(bins):
		i--
	case i+1 < bins && chance >= float64(i+1)/float64(bins):
		i++
	}
	return i
}
