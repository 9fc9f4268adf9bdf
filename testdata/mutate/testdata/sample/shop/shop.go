// Package shop has a place for every kind of mutant; its tests see some and miss some.
package shop

import "errors"

const teeth = 48

type wrench struct{ low, high int }

var table = []wrench{{10, 20}, {low: 30, high: 40}}

func inside(w wrench, set int) bool { return set >= w.low && set <= w.high }

func tooFar(set, limit int) bool {
	if set > limit {
		return true
	}
	return false
}

func unseen(set, limit int) bool {
	if !tooFar(set, limit) {
		return set > limit
	}
	return true
}

func steps(n int) (out []string, err error) {
	for range n {
		out = append(out, "click")
	}
	if len(out) > teeth {
		return nil, errors.New("more than a turn")
	}
	return out, nil
}

func least() int { return table[0].low - 1 }
