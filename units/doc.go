// Package units holds the quantities of a fuel-filter service as exact numbers with the units
// somebody wrote them in.
package units
