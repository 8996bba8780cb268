package sheet

import (
	"fmt"

	"example.com/steptest/protocol/internal/form"
)

// Options are the choices of [Options.Read] and [Options.Scan]. The zero value is
// that of [Read] and [Scan].
type Options struct {
	// Dates is the order of day and month in dates that have no year in front.
	// Zero means the order that other dates of the sheet show.
	Dates DateOrder
}

// DateOrder is the order of day and month in a date such as 3/4/2025. The zero
// value is not known.
type DateOrder int8

// Orders of day and month.
const (
	OrderUnknown DateOrder = iota // as the other dates of the sheet show
	DayFirst                      // 3/4/2025 is 3 April
	MonthFirst                    // 3/4/2025 is 4 March
)

// String returns "day-first", "month-first" or nothing.
func (o DateOrder) String() string {
	return map[DateOrder]string{DayFirst: "day-first", MonthFirst: "month-first"}[o]
}

// MarshalText returns what String does, for package flag.
func (o DateOrder) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// UnmarshalText reads what String returns.
func (o *DateOrder) UnmarshalText(text []byte) error {
	for _, known := range []DateOrder{OrderUnknown, DayFirst, MonthFirst} {
		if string(text) == known.String() {
			*o = known
			return nil
		}
	}
	return fmt.Errorf("sheet: dates: found %q, want day-first or month-first", form.Shorten(string(text)))
}
