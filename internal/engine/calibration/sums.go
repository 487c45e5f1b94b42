package calibration

// tally counts forecasts.
type tally struct {
	n, true int
	chance  float64 // the sum
}

func (t *tally) take(f Forecast) {
	t.n++
	t.chance += f.Chance
	if f.True {
		t.true++
	}
}

func (t *tally) add(o tally) {
	t.n += o.n
	t.true += o.true
	t.chance += o.chance
}

// mean is the mean chance, 0 without forecasts.
func (t tally) mean() float64 { return t.chance / float64(max(t.n, 1)) }

// share is the part that came true, 0 without forecasts.
func (t tally) share() float64 { return float64(t.true) / float64(max(t.n, 1)) }

// sums are all that the scores of some forecasts need, so that children can be resampled without going over their forecasts again.
type sums struct {
	tally
	squares float64
	bands   []tally
}

func (s *sums) take(f Forecast, edges []float64) {
	s.tally.take(f)
	s.squares += squared(f)
	band := 0
	for band < len(edges) && f.Chance >= edges[band] {
		band++
	}
	s.bands[band].take(f)
}

func (s *sums) add(o sums) {
	s.tally.add(o.tally)
	s.squares += o.squares
	if s.bands == nil {
		s.bands = make([]tally, len(o.bands))
	}
	for i, b := range o.bands {
		s.bands[i].add(b)
	}
}

func (s sums) brier() float64 { return s.squares / float64(max(s.n, 1)) }

// skill is undefined where everything or nothing came true.
func (s sums) skill() (float64, bool) {
	reference := s.share() * (1 - s.share())
	if reference == 0 {
		return 0, false
	}
	return 1 - s.brier()/reference, true
}

func squared(f Forecast) float64 {
	d := f.Chance - outcome(f)
	return d * d
}

func outcome(f Forecast) float64 {
	if f.True {
		return 1
	}
	return 0
}

// byChild sums up the forecasts of each child, in the order in which the children come.
func byChild(forecasts []Forecast, edges []float64) []sums {
	var all []sums
	at := map[int]int{}
	for _, f := range forecasts {
		i, known := at[f.Child]
		if !known {
			i = len(all)
			at[f.Child] = i
			all = append(all, sums{bands: make([]tally, len(edges)+1)})
		}
		all[i].take(f, edges)
	}
	return all
}
