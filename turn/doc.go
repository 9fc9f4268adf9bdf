// Package turn answers the most misread instruction of a filter change: gasket contact plus a
// fraction of a turn. Which way, how far, and which mark ends up at the index.
package turn
