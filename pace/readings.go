package pace

import (
	"errors"
	"strconv"
	"strings"
	"time"
)

// TimeReadings returns what a text may mean as a swim time, for a caller who
// knows the distance and so which of them makes a swim. None means that it is no
// time. Besides what [ParseTime] reads, it knows
//
//   - a time that a spreadsheet took for one of the day: 05:46:00, 5:46:00 AM and
//     5:46:00 PM (17:46) may be minutes and seconds,
//   - the part of a day that it keeps of one, to six decimals or more:
//     0.240277778 is 5:46 h, or minutes and seconds,
//   - other signs between the numbers: 5.46.7, 5'46.7, 5'46"7, 5:46,7,
//   - a unit: 18.0 s.
//
// A number that ParseTime calls ambiguous ([ErrAmbiguous]) is read as seconds
// alone: 5.32 may be 5:32, and may be decimals of a minute.
func TimeReadings(s string) []time.Duration {
	s, clock := timeOfDay(s)
	s = otherSigns(s)
	if clock != "" && strings.Count(s, ":") == 1 {
		s += ":00"
	}
	t, err := ParseTime(s)
	if errors.Is(err, ErrAmbiguous) {
		t, err = seconds(s), nil
	}
	if err != nil {
		return nil
	}
	if part, ok := partOfDay(s); ok {
		return append([]time.Duration{t}, part...)
	}
	hours := strings.Count(s, ":") == 2
	switch {
	case clock == "am" && t >= 12*time.Hour && t < 13*time.Hour:
		t -= 12 * time.Hour
	case clock == "pm" && t < 12*time.Hour:
		t += 12 * time.Hour
	case clock != "" && !(t >= time.Hour && t < 13*time.Hour):
		return nil // no time of a day of two halves
	}
	out := []time.Duration{t}
	if (hours || clock != "") && t >= time.Minute && t%time.Minute == 0 {
		out = append(out, t/60)
	}
	return out
}

// timeOfDay parts AM or PM from the time before it.
func timeOfDay(s string) (rest, half string) {
	s = strings.ToLower(strings.TrimSpace(s))
	for _, half := range []string{"am", "pm"} {
		if rest, ok := strings.CutSuffix(strings.ReplaceAll(s, ".m.", "m"), half); ok && strings.Contains(rest, ":") {
			return strings.TrimSpace(rest), half
		}
	}
	return s, ""
}

// otherSigns writes a time with a colon and a point, and without its unit.
func otherSigns(s string) string {
	for _, unit := range []string{"seconds", "sec", "s"} {
		if rest, ok := strings.CutSuffix(s, unit); ok {
			return strings.TrimSpace(rest)
		}
	}
	s = strings.NewReplacer("′", "'", "’", "'", "″", `"`, "”", `"`, "''", `"`).Replace(s)
	if minutes, rest, ok := strings.Cut(s, "'"); ok && !strings.Contains(s, ":") {
		whole, decimals, _ := strings.Cut(rest, `"`)
		if decimals != "" {
			whole += "."
		}
		return minutes + ":" + whole + decimals
	}
	if strings.Count(s, ",") == 1 && strings.ContainsAny(s, ":.") {
		s = strings.ReplaceAll(s, ",", ".")
	}
	if parts := strings.Split(s, "."); len(parts) == 3 && len(parts[1]) == 2 && parts[2] != "" && !strings.Contains(s, ":") {
		return parts[0] + ":" + parts[1] + "." + parts[2]
	}
	return s
}

// seconds reads a number of seconds that ParseTime calls ambiguous.
func seconds(s string) time.Duration {
	whole, decimals, _ := strings.Cut(strings.TrimSpace(s), ".")
	ns, _ := strconv.ParseInt(whole+(decimals + "000000000")[:9], 10, 64)
	return time.Duration(ns)
}

// partOfDay reads a part of a day as a spreadsheet keeps it. Six decimals give a
// time to a twentieth of a second.
func partOfDay(s string) ([]time.Duration, bool) {
	s = strings.TrimSpace(s)
	whole, decimals, _ := strings.Cut(s, ".")
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || whole != "0" || len(decimals) < 6 || digits(decimals) != len(decimals) {
		return nil, false
	}
	const hundredth = 10 * time.Millisecond
	return []time.Duration{
		time.Duration(x * float64(24*time.Hour)).Round(hundredth),
		time.Duration(x * float64(24*time.Minute)).Round(hundredth),
	}, true
}
