// Package table sets results of package lactate in tables, for a web page
// (HTML), a document (Markdown) or a terminal, so that a program or a notebook
// need not format them.
//
//   - [Stages]: a test, as it was done
//   - [Thresholds]: an analysis: LT1 and LT2, every definition, what to doubt
//   - [SideBySide]: a panel of many definitions on several curves
//   - [Influence]: what each threshold becomes without each stage
//   - [Change]: a comparison: the curve, the thresholds, lactate at equal intensities
//   - [Season]: the shifts of many tests, and their trend
//   - [Warnings]: what any of them says to doubt
//
// [Within], [Pace], [Clock], [Number], [Method] and [Wrap] put single
// numbers and sentences into the same words.
//
// Each returns a [Table] or several, whose cells are text: a cell is escaped where it is
// written, for the language that it is written in. A table whose answer is
// missing says why. The methods HTML and Markdown are those that notebooks of
// many kinds look for.
//
// Numbers are rounded for the reader; the results themselves hold them in full
// and write themselves as JSON. Intervals run from slow to fast. "open" is the
// end of an interval that the tested range ended before.
package table
