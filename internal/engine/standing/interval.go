package standing

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// z95 is the 97.5% quantile of the normal distribution.
const z95 = 1.959963984540054

// Wilson is the 95% score interval of x successes in n tries; with no tries it is 0 to 1.
// Source: Wilson 1927, as in Newcombe 1998, Statistics in Medicine 17:857-872, without continuity correction.
func Wilson(x, n int) (low, high float64, err error) {
	if err := checkTries(x, n); err != nil {
		return 0, 0, err
	}
	low, high = wilson(x, n)
	return low, high, nil
}

func wilson(x, n int) (low, high float64) {
	if n == 0 {
		return 0, 1
	}
	size, rate := float64(n), float64(x)/float64(n)
	z2 := z95 * z95
	middle := rate + z2/(2*size)
	reach := z95 * math.Sqrt(rate*(1-rate)/size+z2/(4*size*size))
	low, high = (middle-reach)/(1+z2/size), (middle+reach)/(1+z2/size)
	if x == 0 {
		low = 0
	}
	if x == n {
		high = 1
	}
	return low, high
}

// Jeffreys is the 95% equal-tailed interval of x successes in n tries from Beta(x+1/2, n-x+1/2); the lower end is 0 when
// x is 0 and the upper end 1 when x is n. Source: Brown, Cai and DasGupta 2001, Statistical Science 16:101-133.
func Jeffreys(x, n int) (low, high float64, err error) {
	if err := checkTries(x, n); err != nil {
		return 0, 0, err
	}
	beta := distuv.Beta{Alpha: float64(x) + 0.5, Beta: float64(n-x) + 0.5}
	low, high = 0, 1
	if x > 0 {
		low = beta.Quantile(0.025)
	}
	if x < n {
		high = beta.Quantile(0.975)
	}
	return low, high, nil
}

func checkTries(x, n int) error {
	if n < 0 || x < 0 || x > n {
		return fmt.Errorf("standing: %d successes in %d tries, want 0 <= successes <= tries", x, n)
	}
	return nil
}
