package outside_test

import (
	"bytes"
	"encoding/json"
	"reflect"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/protocol"
	"example.com/steptest/protocol/sheet"
	"example.com/steptest/testdata/sheets"
)

// What is stored as JSON gives the same answers when it comes back.
func TestStorage(t *testing.T) {
	records, err := sheet.Read(bytes.NewReader(sheets.Season()))
	if err != nil {
		t.Fatal(err)
	}
	var tests []lactate.DatedTest
	for _, rec := range records {
		text, err := json.Marshal(rec)
		if err != nil {
			t.Fatal(err)
		}
		var back protocol.Record
		if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(rec, back) {
			t.Fatalf("%v\n%+v\n%+v", err, rec, back)
		}
		test, err := back.Test()
		if err != nil {
			t.Fatal(err)
		}
		tests = append(tests, lactate.DatedTest{Date: back.Date, Test: test})
	}
	text, err := json.Marshal(tests)
	if err != nil {
		t.Fatal(err)
	}
	var back []lactate.DatedTest
	if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(tests, back) {
		t.Fatalf("%v\n%+v\n%+v", err, tests, back)
	}
	before, err := lactate.FollowSeason(tests, lactate.CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	after, err := lactate.FollowSeason(back, lactate.CompareOptions{})
	if err != nil || !reflect.DeepEqual(before.Trend, after.Trend) {
		t.Errorf("%v, %v, %v", before.Trend, after.Trend, err)
	}
}
