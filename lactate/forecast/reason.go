package forecast

import "fmt"

// Reason says why the targets of an [Advice] are what they are. The zero value is
// AsPlanned.
type Reason int

// The reasons.
const (
	AsPlanned  Reason = iota // no other spacing is worth a change
	SpreadAnew               // what was swum leaves no room for the plan: even steps to the last
	Narrower                 // another spacing narrows LT1 and LT2 by a twentieth each, or more
	NoRoom                   // what was swum is so near the last that it is the next
	reasons
)

func (r Reason) String() string {
	switch r {
	case AsPlanned:
		return "as planned"
	case SpreadAnew:
		return "spread anew"
	case Narrower:
		return "narrower"
	case NoRoom:
		return "no room"
	}
	return fmt.Sprintf("Reason(%d)", int(r))
}

// MarshalText writes the reason as String does. It returns an error for a reason that
// is none.
func (r Reason) MarshalText() ([]byte, error) {
	if r < 0 || r >= reasons {
		return nil, fmt.Errorf("forecast: found %v, want a reason", r)
	}
	return []byte(r.String()), nil
}

// UnmarshalText reads what MarshalText writes.
func (r *Reason) UnmarshalText(text []byte) error {
	for s := range reasons {
		if string(text) == s.String() {
			*r = s
			return nil
		}
	}
	return fmt.Errorf("forecast: found the reason %.60q, want one such as %q", text, AsPlanned)
}
