// Package table sets results of package lactate in tables, for a web page
// (HTML), a document (Markdown) or a terminal, so that a program or a notebook
// need not format them.
//
//   - [Stages]: what was swum and sampled
//   - [Thresholds]: LT1, LT2 and the other definitions of one analysis
//   - [SideBySide]: many definitions on several curves
//   - [Influence]: what each threshold becomes without each stage
//   - [Change]: whether the curve has moved between two tests
//   - [Levels]: lactate and heart rate at equal intensities, in two tests
//   - [Season]: the shifts of many tests
//
// Each returns a [Table], whose cells are text: a cell is escaped where it is
// written, for the language that it is written in. A table whose answer is
// missing says why. The methods HTML and Markdown are those that notebooks of
// many kinds look for.
//
// Numbers are rounded for the reader; the results themselves hold them in full
// and write themselves as JSON. Intervals run from slow to fast. "open" is the
// end of an interval that the tested range ended before.
package table
