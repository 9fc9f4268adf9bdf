// Package drain reckons what comes out of a fuel filter, what it weighs, and what goes back in.
package drain
