package standing

import (
	"errors"
	"fmt"
)

// ErrNoChance says that agreement beyond chance is undefined: by chance alone the markers could not disagree.
var ErrNoChance = errors.New("standing: every mark falls in one category, so agreement beyond chance is undefined")

// Plain are disagreement weights for k categories that count every difference alike.
func Plain(k int) [][]float64 { return weights(k, func(d int) float64 { return float64(min(d, 1)) }) }

// Linear are disagreement weights that grow with the distance of the categories.
func Linear(k int) [][]float64 { return weights(k, func(d int) float64 { return float64(d) }) }

// Quadratic are disagreement weights that grow with the squared distance of the categories.
func Quadratic(k int) [][]float64 { return weights(k, func(d int) float64 { return float64(d * d) }) }

func weights(k int, of func(distance int) float64) [][]float64 {
	w := make([][]float64, k)
	for i := range w {
		w[i] = make([]float64, k)
		for j := range w[i] {
			w[i][j] = of(max(i-j, j-i))
		}
	}
	return w
}

// CohenKappa is the weighted agreement of two markers beyond chance: 1 - (seen disagreement)/(disagreement by chance).
// table[i][j] counts (or is the share of) turns that the first put in category i and the second in j; disagreement has the
// same size. Source: Cohen 1968, Psychological Bulletin 70:213-220. It fails with ErrNoChance when undefined.
func CohenKappa(table, disagreement [][]float64) (float64, error) {
	if err := checkSquare("table", table, len(table)); err != nil {
		return 0, err
	}
	if err := checkSquare("weights", disagreement, len(table)); err != nil {
		return 0, err
	}
	rows, columns, sum := margins(table)
	if sum == 0 {
		return 0, errors.New("standing: no turns were marked by both")
	}
	var seen, chance float64
	for i := range table {
		for j := range table {
			seen += disagreement[i][j] * table[i][j] / sum
			chance += disagreement[i][j] * rows[i] * columns[j] / (sum * sum)
		}
	}
	if chance == 0 {
		return 0, ErrNoChance
	}
	return 1 - seen/chance, nil
}

func checkSquare(name string, m [][]float64, size int) error {
	if len(m) != size || size == 0 {
		return fmt.Errorf("standing: %s has %d rows, want %d and at least 1", name, len(m), size)
	}
	for i, row := range m {
		if len(row) != size {
			return fmt.Errorf("standing: row %d of %s has %d numbers, want %d", i+1, name, len(row), size)
		}
		for _, v := range row {
			if !(v >= 0) {
				return fmt.Errorf("standing: row %d of %s holds %g, want 0 or more", i+1, name, v)
			}
		}
	}
	return nil
}

func margins(table [][]float64) (rows, columns []float64, sum float64) {
	rows, columns = make([]float64, len(table)), make([]float64, len(table))
	for i, row := range table {
		for j, v := range row {
			rows[i] += v
			columns[j] += v
			sum += v
		}
	}
	return rows, columns, sum
}

// FleissKappa is the agreement of many markers beyond chance. counts[i][j] is how many put turn i in category j; every row
// has the same sum, at least 2. Source: Fleiss 1971, Psychological Bulletin 76:378-382. ErrNoChance when undefined.
func FleissKappa(counts [][]int) (float64, error) {
	if len(counts) == 0 {
		return 0, errors.New("standing: no turns were marked")
	}
	markers := 0
	for _, c := range counts[0] {
		markers += c
	}
	if markers < 2 {
		return 0, fmt.Errorf("standing: %d markers, want at least 2", markers)
	}
	shares := make([]float64, len(counts[0]))
	var seen float64
	for i, row := range counts {
		agree, err := agreeing(i, row, len(shares), markers)
		if err != nil {
			return 0, err
		}
		seen += agree / float64(len(counts))
		for j, c := range row {
			shares[j] += float64(c) / float64(len(counts)*markers)
		}
	}
	var chance float64
	for _, s := range shares {
		chance += s * s
	}
	if chance >= 1-1e-12 {
		return 0, ErrNoChance
	}
	return (seen - chance) / (1 - chance), nil
}

// agreeing is the share of pairs of markers that agree on one turn.
func agreeing(i int, row []int, categories, markers int) (float64, error) {
	sum, pairs := 0, 0
	for _, c := range row {
		if c < 0 {
			return 0, fmt.Errorf("standing: turn %d holds the count %d, want 0 or more", i+1, c)
		}
		sum += c
		pairs += c * (c - 1)
	}
	if sum != markers || len(row) != categories {
		return 0, fmt.Errorf("standing: turn %d has %d marks in %d categories, want %d in %d", i+1, sum, len(row), markers, categories)
	}
	return float64(pairs) / float64(markers*(markers-1)), nil
}
