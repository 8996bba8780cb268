package app

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
)

// Request is what the page asks. Fields that a question has no use for are ignored.
type Request struct {
	Do      string `json:"do"` // see the table in Do
	Sheet   string `json:"sheet"`
	Swimmer string `json:"swimmer"`
	Date    string `json:"date"`  // of a test, 2025-01-18
	Cell    string `json:"cell"`  // of a test, see cells
	Value   string `json:"value"` // for the cell; empty clears it
	// File is what is imported. Prefer settles cells that differ: "file" or "mine".
	File   []byte          `json:"file"`
	Prefer string          `json:"prefer"`
	Plan   Wanted          `json:"plan"`
	Dates  sheet.DateOrder `json:"dates"` // of the file, if it does not say
	// Narrow asks for pictures that fit a phone.
	Narrow   bool `json:"narrow"`
	Invented bool `json:"invented"` // the data is the example's
}

// Do answers a request. An answer that could not be made has a field "error", in words.
func Do(request []byte) []byte {
	var q Request
	var answer any
	err := json.Unmarshal(request, &q)
	if err == nil {
		answer, err = q.answer()
	}
	if err == nil {
		var out []byte
		if out, err = json.Marshal(answer); err == nil {
			return out
		}
	}
	out, _ := json.Marshal(map[string]string{"error": said(err)})
	return out
}

func (q Request) answer() (any, error) {
	records, err := sheet.Read(strings.NewReader(q.Sheet))
	if err != nil && q.Sheet != "" {
		return nil, fmt.Errorf("the sheet that is kept here cannot be read: %w", err)
	}
	do, ok := map[string]func([]protocol.Record) (any, error){
		"state":   func(r []protocol.Record) (any, error) { return stateOf(r), nil },
		"plan":    q.plan,   // targets of a plan, nothing kept
		"keep":    q.keep,   // the plan goes on the sheet
		"enter":   q.enter,  // a cell of a test
		"remove":  q.remove, // a test
		"import":  q.merge,  // a file
		"example": q.example,
		"swim":    q.swim, // what to swim next, what is odd
		"result":  q.result,
		"retest":  q.retest,
		"season":  q.season,
		"squad":   q.squad, // one line for each swimmer
		"warm":    q.warm,
	}[q.Do]
	if !ok {
		return nil, fmt.Errorf("found the request %q, want one of the page's", q.Do)
	}
	return do(records)
}

// find returns the test that the request names.
func (q Request) find(records []protocol.Record) (int, error) {
	for i, r := range records {
		if r.Swimmer == q.Swimmer && r.Date.Format(time.DateOnly) == q.Date {
			return i, nil
		}
	}
	return 0, fmt.Errorf("found no test of %s on %s on the sheet", q.Swimmer, q.Date)
}

// changed is the answer to a request that changed the sheet.
type changed struct {
	Sheet string   `json:"sheet"`
	State state    `json:"state"`
	Notes []string `json:"notes,omitempty"`
}

func change(records []protocol.Record, notes ...string) (any, error) {
	var b strings.Builder
	if len(records) > 0 {
		if err := sheet.Write(&b, records); err != nil {
			return nil, err
		}
	}
	return changed{b.String(), stateOf(records), notes}, nil
}

// remove takes a test off the sheet.
func (q Request) remove(records []protocol.Record) (any, error) {
	i, err := q.find(records)
	if err != nil {
		return nil, err
	}
	return change(append(records[:i:i], records[i+1:]...))
}

// said is an error in the words of the page: without the names of packages.
func said(err error) string {
	var faults []string
	for _, e := range parts(err) {
		var f *protocol.Fault
		text := e.Error()
		if errors.As(e, &f) {
			text = faultText(f)
		}
		for _, name := range []string{"protocol: plan: ", "protocol: ", "sheet: ", "pace: ", "lactate: "} {
			text = strings.ReplaceAll(text, name, "")
		}
		faults = append(faults, text)
	}
	return strings.Join(faults, "\n")
}

// parts takes joined errors apart.
func parts(err error) []error {
	if many, ok := err.(interface{ Unwrap() []error }); ok && err.Error() == errors.Join(many.Unwrap()...).Error() {
		var out []error
		for _, e := range many.Unwrap() {
			out = append(out, parts(e)...)
		}
		return out
	}
	return []error{err}
}

func faultText(f *protocol.Fault) string {
	return strings.TrimPrefix(f.Error(), "protocol: sheet ")
}
