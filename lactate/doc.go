// Package lactate finds thresholds in a step test.
package lactate
