package drain

import "math/big"

// Fixed-point numbers for the fuel equations: whole multiples of 2^-160, so that every machine
// writes the same bytes. A product or a quotient is cut to the multiple below it or nearer zero;
// the equations lose fewer than twenty bits by that, which leaves 40 decimal places.

const fractionBits = 160

// fixed is n·2^-160. The integer is never changed once it is made.
type fixed struct{ n *big.Int }

var one = fixedInt(1)

func fixedInt(i int64) fixed { return fixed{new(big.Int).Lsh(big.NewInt(i), fractionBits)} }

// fixedRat is the multiple nearest zero of what x is.
func fixedRat(x *big.Rat) fixed {
	n := new(big.Int).Lsh(x.Num(), fractionBits)
	return fixed{n.Quo(n, x.Denom())}
}

// fixedText is for the constants of the standards, written as they print them.
func fixedText(text string) fixed {
	x, ok := new(big.Rat).SetString(text)
	if !ok {
		panic("drain: the constant " + text + " is no number")
	}
	return fixedRat(x)
}

func (a fixed) add(b fixed) fixed { return fixed{new(big.Int).Add(a.n, b.n)} }
func (a fixed) sub(b fixed) fixed { return fixed{new(big.Int).Sub(a.n, b.n)} }
func (a fixed) neg() fixed        { return fixed{new(big.Int).Neg(a.n)} }

func (a fixed) mul(b fixed) fixed {
	n := new(big.Int).Mul(a.n, b.n)
	return fixed{n.Rsh(n, fractionBits)}
}

func (a fixed) div(b fixed) fixed {
	n := new(big.Int).Lsh(a.n, fractionBits)
	return fixed{n.Quo(n, b.n)}
}

func (a fixed) cmp(b fixed) int { return a.n.Cmp(b.n) }

// rat is the number as an exact fraction.
func (a fixed) rat() *big.Rat {
	return new(big.Rat).SetFrac(a.n, new(big.Int).Lsh(big.NewInt(1), fractionBits))
}

// exp is e^x for |x| < 1, to 2^-144: Taylor's series of x/2^8, squared eight times. Each squaring
// doubles the error of the twenty terms before it.
func (a fixed) exp() fixed {
	const halvings = 8
	x := new(big.Int).Rsh(a.n, halvings)
	sum, term := new(big.Int).Set(one.n), new(big.Int).Set(one.n)
	wide, i := new(big.Int), new(big.Int)
	for n := int64(1); ; n++ {
		wide.Rsh(wide.Mul(term, x), fractionBits)
		if term.Quo(wide, i.SetInt64(n)).Sign() == 0 {
			break
		}
		sum.Add(sum, term)
	}
	for range halvings {
		sum.Rsh(wide.Mul(sum, sum), fractionBits)
	}
	return fixed{sum}
}

// polynomial is c[0] + c[1]·x + c[2]·x² + …
func polynomial(x fixed, c ...fixed) fixed {
	sum, wide := new(big.Int), new(big.Int)
	for i := len(c) - 1; i >= 0; i-- {
		sum.Rsh(wide.Mul(sum, x.n), fractionBits)
		sum.Add(sum, c[i].n)
	}
	return fixed{sum}
}
