// Package waste weighs what a fuel-filter service leaves behind and puts it on paper.
package waste
