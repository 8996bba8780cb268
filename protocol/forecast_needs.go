package protocol

import "example.com/steptest/protocol/internal/form"

// What the forecast still takes from here; it goes when the forecast does.
const (
	minSpeed = form.MinSpeed
	maxSpeed = form.MaxSpeed
)

func shorten(s string) string { return form.Shorten(s) }
