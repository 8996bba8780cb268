package chart

import (
	"example.com/steptest/lactate"
	"example.com/steptest/lactate/internal/say"
)

// axis returns the words for intensities that span so much.
func (o Options) axis(span float64) say.Axis { return say.Axis{Pool: o.Pool, Unit: o.Unit, Span: span} }

func (o Options) said(v, span float64) string    { return o.axis(span).At(v) }
func (o Options) plainly(v, span float64) string { return o.axis(span).Plain(v) }

func (o Options) between(e lactate.Estimate, span float64) string { return o.axis(span).Between(e) }
