package protocol_test

import (
	"bytes"
	"strings"
	"testing"

	"example.com/steptest/protocol"
)

const small = `swimmer,date,pool,distance,repeat,time,minutes after,lactate,heart rate,resting lactate,remark
Ada,2025-03-04,25 yd,400,1,5:32,,1.2,121,0.9,
Ada,2025-03-04,25 yd,400,2,5:22.4,,,130,,"lost, ""dropped"""
Ada,2025-03-04,25 yd,400,3,5:12,,2.2,141,,
Ada,2025-03-04,25 yd,400,4,5:02,,3.5,152,,
Ada,2025-03-04,25 yd,400,5,4:52,,,171,,
Ada,2025-03-04,25 yd,400,5,,1,8.1,,,
Ada,2025-03-04,25 yd,400,5,,3,8.9,120,,
`

func TestReadSmall(t *testing.T) {
	recs, err := protocol.ReadSheet(strings.NewReader(small))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := protocol.WriteSheet(&b, recs); err != nil {
		t.Fatal(err)
	}
	t.Log(b.String())
	if b.String() != small {
		t.Errorf("not the same")
	}
	for _, f := range recs[0].Review() {
		t.Log(f)
	}
	test, err := recs[0].Test()
	t.Log(test, err)
}
