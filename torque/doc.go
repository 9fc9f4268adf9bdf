// Package torque goes from a printed torque limit to a dial setting that can be defended, and
// judges a reading without rounding its way into a pass.
package torque
