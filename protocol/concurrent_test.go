package protocol_test

import (
	"bytes"
	"fmt"
	"os"
	"sync"
	"testing"
	"time"

	"example.com/steptest/lactate"
	"example.com/steptest/lactate/forecast"
	"example.com/steptest/pace"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/protocol/technique"
	"example.com/steptest/zones"
)

// Everything exported of protocol, sheet, technique, pace and zones may be used from several
// goroutines at once, on the same plans, records, techniques and tables: under
// the race detector, with the same answers as alone. What may not says so: the
// sequence of sheet.Scan.
func TestConcurrent(t *testing.T) {
	text, err := os.ReadFile("../testdata/sheets/single.csv")
	if err != nil {
		t.Fatal(err)
	}
	records, err := sheet.Read(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	record := records[0]
	plan := planned(t, protocol.Request{Pool: pace.SCY(), Distance: 400 * pace.Yard, Repeats: 6, Best: 298 * time.Second, Start: pace.Must(pace.ParsePace("1:28/100 yd"))})
	test, err := record.Test()
	if err != nil {
		t.Fatal(err)
	}
	known := forecast.Expected{Tests: []lactate.Test{test}}
	profile, err := technique.Of(record, technique.Options{Resamples: 200})
	if err != nil {
		t.Fatal(err)
	}
	begun := plan.Record()
	begun.Swimmer = "Robin Vale"
	for i := range 2 {
		begun.Repeats[i].Time = plan.Repeats[i].Time
		begun.Repeats[i].Lactate = 1.5
	}
	table, err := zones.ThreeZone().Apply(zones.Profile{LT1: zones.Threshold{Speed: 1.10}, LT2: zones.Threshold{Speed: 1.20}})
	if err != nil {
		t.Fatal(err)
	}
	work := map[string]func() (string, error){
		"read": func() (string, error) {
			r, err := sheet.Read(bytes.NewReader(text))
			return fmt.Sprint(r), err
		},
		"write": func() (string, error) {
			var b bytes.Buffer
			err := sheet.Write(&b, records)
			return b.String(), err
		},
		"test": func() (string, error) {
			t, err := record.Test()
			return fmt.Sprint(t, record.Review(), record.Err()), err
		},
		"technique": func() (string, error) {
			t, err := technique.Of(record, technique.Options{Resamples: 200})
			return fmt.Sprint(t.Length, t.Shortening), err
		},
		"at": func() (string, error) { s, err := profile.At(1.15); return fmt.Sprint(s), err },
		"change": func() (string, error) {
			c, err := technique.Compare(profile, profile, 1.15)
			return fmt.Sprint(c), err
		},
		"review": func() (string, error) {
			return fmt.Sprint(plan.Review(protocol.Known{}), plan.Rest(), plan.Duration()), nil
		},
		"tell": func() (string, error) { o, err := plan.Outlook(known, lactate.Options{}); return fmt.Sprint(o), err },
		"space": func() (string, error) {
			b, err := plan.Space(known, lactate.Options{}, forecast.Rules{})
			return fmt.Sprint(b.Plan, b.LT2), err
		},
		"next": func() (string, error) {
			a, err := plan.NextRepeat(begun, known, lactate.Options{}, forecast.Rules{})
			return fmt.Sprint(a), err
		},
		"page":  func() (string, error) { var b bytes.Buffer; err := plan.WriteText(&b); return b.String(), err },
		"match": func() (string, error) { d, err := plan.Match(record); return fmt.Sprint(d), err },
		"schedule": func() (string, error) {
			s, err := protocol.Schedule(record.Date, 6, 4)
			return fmt.Sprint(s, protocol.Cautions()), err
		},
		"zones": func() (string, error) {
			s, err := table.Workout(zones.Set{Zone: "2", Repeats: 8, Distance: 200 * pace.Yard}, pace.SCY())
			return fmt.Sprint(s), err
		},
		"pace": func() (string, error) {
			p, err := pace.ParsePace("1:21.6/100 yd")
			return fmt.Sprint(p, p.Per), err
		},
	}
	alone := map[string]string{}
	for name, f := range work {
		s, err := f()
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		alone[name] = s
	}
	var wg sync.WaitGroup
	for range 2 {
		for name, f := range work {
			wg.Add(1)
			go func() {
				defer wg.Done()
				if s, err := f(); err != nil || s != alone[name] {
					t.Errorf("%s: got %s, %v; alone %s", name, s, err, alone[name])
				}
			}()
		}
	}
	wg.Wait()
}
