package main

import (
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/zones"
)

// output is what the command prints, as JSON or as text.
type output struct {
	Tests  []*report `json:"tests"`
	Safety []string  `json:"safety_cautions,omitempty"` // where a test is planned
}

// report is all that is said about one test. Every quantity has its unit in
// the name of its field.
type report struct {
	Swimmer    string      `json:"swimmer"`
	Date       string      `json:"date"`
	Pool       string      `json:"pool,omitempty"` // missing where no repeat could be read
	PoolLength float64     `json:"pool_length_m,omitempty"`
	Rest       float64     `json:"resting_lactate_mmol_per_l,omitempty"`
	Repeats    []repeat    `json:"repeats"`
	Recovery   []sample    `json:"samples_after_last_repeat,omitempty"`
	Confidence float64     `json:"interval_confidence,omitempty"`
	Resamples  int         `json:"resamples,omitempty"`
	LT1        *threshold  `json:"lt1,omitempty"`
	LT2        *threshold  `json:"lt2,omitempty"`
	Methods    []methodRow `json:"methods,omitempty"`
	Zones      []zone      `json:"zones,omitempty"`
	Technique  *strokes    `json:"technique,omitempty"`
	Next       *nextTest   `json:"next_test,omitempty"`
	Cautions   []string    `json:"cautions"`
	Problem    string      `json:"problem,omitempty"` // why there are no thresholds

	pool    pace.Pool
	table   *zones.Table
	target  []protocol.Target
	drawing *drawing
}

type repeat struct {
	Number    int     `json:"repeat"`
	Distance  float64 `json:"distance_m"`
	Time      float64 `json:"time_s,omitempty"`
	Per100Yd  float64 `json:"pace_s_per_100_yd,omitempty"`
	Per100M   float64 `json:"pace_s_per_100_m,omitempty"`
	Speed     float64 `json:"speed_m_per_s,omitempty"`
	Lactate   float64 `json:"lactate_mmol_per_l,omitempty"`
	HeartRate float64 `json:"heart_rate_per_min,omitempty"`
	Remark    string  `json:"remark,omitempty"`

	distance pace.Length
	time     time.Duration
}

type sample struct {
	After   float64 `json:"after_s"`
	Lactate float64 `json:"lactate_mmol_per_l,omitempty"`
}

// threshold is a method read on a curve, or why it gave nothing.
type threshold struct {
	Method    string            `json:"method"`
	Curve     string            `json:"curve"`
	Per100Yd  *lactate.Estimate `json:"pace_s_per_100_yd,omitempty"`
	Per100M   *lactate.Estimate `json:"pace_s_per_100_m,omitempty"`
	Speed     *lactate.Estimate `json:"speed_m_per_s,omitempty"`
	Lactate   *lactate.Estimate `json:"lactate_mmol_per_l,omitempty"`
	HeartRate *lactate.Estimate `json:"heart_rate_per_min,omitempty"`
	Problem   string            `json:"problem,omitempty"`
}

// methodRow is one method on both curves.
type methodRow struct {
	Method      string     `json:"method"`
	Exponential *threshold `json:"exponential"`
	Cubic       *threshold `json:"cubic"`
}

type zone struct {
	Name    string `json:"zone"`
	Meaning string `json:"meaning"`
	From    *edge  `json:"from"` // slow end; null where the zone is open
	To      *edge  `json:"to"`   // fast end; null where the zone is open
}

type edge struct {
	Anchor    string  `json:"anchor"`
	Per100Yd  float64 `json:"pace_s_per_100_yd"`
	Per100M   float64 `json:"pace_s_per_100_m"`
	Speed     float64 `json:"speed_m_per_s"`
	Lactate   float64 `json:"lactate_mmol_per_l,omitempty"`
	HeartRate float64 `json:"heart_rate_per_min,omitempty"`
}

type nextTest struct {
	Date    string   `json:"date"`
	Rest    float64  `json:"rest_between_repeats_s"`
	Repeats []target `json:"repeats"`
}

type target struct {
	Number   int     `json:"repeat"`
	Distance float64 `json:"distance_m"`
	Time     float64 `json:"time_s"`
	AllOut   bool    `json:"all_out"` // the time is then what is expected
	Per100Yd float64 `json:"pace_s_per_100_yd"`
	Per100M  float64 `json:"pace_s_per_100_m"`
	Speed    float64 `json:"speed_m_per_s"`
	Leave    float64 `json:"leave_s"` // since the start of the first repeat
}
