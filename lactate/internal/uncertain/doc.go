// Package uncertain holds every statistical decision of the library once: how
// large the noise is, which distribution an interval comes from, how large a
// shift two tests can detect, and what a percentile is.
package uncertain
