package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Fold returns a name without what makes no difference: case, spaces, dashes, and a decimal
// comma for a point.
func Fold(name string) string {
	name = strings.NewReplacer("–", "-", "−", "-", "\u00a0", " ", "+", " + ", "repeat", "stage").Replace(strings.ToLower(name))
	words := strings.Fields(name)
	for i, w := range words {
		if _, ok := Number(w); ok {
			words[i] = strings.Replace(w, ",", ".", 1)
		}
	}
	return strings.Join(words, " ")
}

// Number reads a number from 0.001 to 1000 with a decimal point or comma; a comma at
// its end is one of the sentence.
func Number(word string) (float64, bool) {
	v, err := strconv.ParseFloat(strings.Replace(word, ",", ".", 1), 64)
	return v, err == nil && v >= 0.001 && v <= 1000 && !strings.HasSuffix(word, ",")
}

// Quantity is a number above zero with its unit.
type Quantity struct {
	Value float64
	Unit  string
}

// Quantities reads numbers of "mmol/l" and "%", with a decimal point or comma.
func Quantities(s string) ([]Quantity, bool) {
	var words []string
	for _, w := range strings.Fields(strings.NewReplacer("mmol/l", " mmol/l ", "%", " % ", ";", " ", "+", " ").Replace(strings.ToLower(s))) {
		if w = strings.Trim(w, ","); w != "" {
			words = append(words, w)
		}
	}
	var all []Quantity
	for i := 0; i+1 < len(words); i += 2 {
		v, err := strconv.ParseFloat(strings.Replace(words[i], ",", ".", 1), 64)
		if err != nil || !(v > 0) {
			return nil, false
		}
		all = append(all, Quantity{v, words[i+1]})
	}
	return all, len(words) > 0 && len(words)%2 == 0
}

// Short prints a number in as few digits as it takes.
func Short(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// Apart prints two numbers in as many digits as tell them apart, three at least.
func Apart(a, b float64) (string, string) {
	s, t := "", ""
	for digits := 3; s == t && digits <= 17; digits++ {
		s, t = fmt.Sprintf("%.*g", digits, a), fmt.Sprintf("%.*g", digits, b)
	}
	return s, t
}

// Interval prints a value with an interval that may be open, "1.154 (1.151 to open)", to
// two digits of its half width.
func Interval(value, low, high float64) string {
	half := 0.0
	for _, end := range []float64{low, high} {
		if d := math.Abs(end - value); d <= math.MaxFloat64 {
			half = max(half, d)
		}
	}
	print := func(v float64) string {
		switch {
		case math.IsInf(v, 0):
			return "open"
		case half == 0:
			return strconv.FormatFloat(v, 'g', 4, 64)
		}
		decimals := min(max(1-int(math.Floor(math.Log10(half))), 0), 15)
		s := strconv.FormatFloat(v, 'f', decimals, 64)
		if strings.Trim(s, "-0.") == "" { // no -0.00
			s = strings.TrimPrefix(s, "-")
		}
		return s
	}
	return print(value) + " (" + print(low) + " to " + print(high) + ")"
}

// Known returns a number for JSON, without a minus zero; nil if it is not finite.
func Known(v float64) *float64 {
	if !(math.Abs(v) <= math.MaxFloat64) {
		return nil
	}
	v += 0
	return &v
}
