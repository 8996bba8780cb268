// Package chart draws step tests: the curve with its thresholds and how sure
// they are, many definitions side by side, two tests over one another, a
// season, a plan, and strokes against speed.
//
// # Pictures
//
//   - [OneTest]: stages, curve, LT1 and LT2 with their intervals, heart rate
//   - [Methods]: what other definitions say, on the same curve
//   - [SideBySide]: what they say on several curves
//   - [TwoTests]: two curves, the shift between them and what could be seen
//   - [Season]: the shifts of many tests, and their trend
//   - [Between]: where the curve is between tests, by readings from training
//   - [Plan]: the repeats to swim, on the curve that is expected
//   - [Technique]: stroke rate and stroke length against speed
//
// Each takes results of package lactate, draws them, and fits nothing. The
// answer is a [Picture], which writes itself as SVG or PNG: the same
// picture gives the same bytes. Sizes are lengths on paper. Files, pages and
// notebooks are the caller's matter; the method SVG is the one that notebooks
// of many kinds look for.
//
// # Reading them
//
// Intensity runs to the right, slow to fast, on one axis for all panels; if
// a pool is given, its paces per 100 stand along the top, at the same places.
// No panel has two scales. The two thresholds, and little else, are coloured:
// LT1 is blue with a dashed line and a diamond, LT2 vermillion with a solid line
// and a square. A shaded strip is the interval of the threshold: a narrow strip
// is a sure one. A strip that ends in an arrow is open, since the tested range
// ended before the interval did. Lines and bands end where the test did: nothing
// is extrapolated.
//
// Colours are those of Okabe & Ito (2008). What differs in colour differs in
// shape, dash or words too: the pictures can be read in greyscale. With the sizes
// as they come, the smallest text is 8.5 pt, which is 9 pixels if the picture is
// shown 360 pixels wide.
//
// # Text
//
// Words are set in Liberation Sans, whose widths are those of Arial and
// Helvetica. SVG files name the fonts
// and leave the letters to the reader. Scripts that Liberation Sans does not
// have, such as Chinese, come out as boxes in PNG.
//
// # Not here
//
// Interactive pictures, and a choice of colours or fonts: values are public, and
// a program with a look of its own draws them itself.
//
// # References
//
//   - Okabe M, Ito K (2008) Color universal design: how to make figures and
//     presentations that are friendly to colorblind people (from memory).
package chart
