package protocol_test

import (
	"strings"
	"testing"

	"example.com/steptest/lactate"
	"example.com/steptest/protocol/sheet"
)

// Evidence D: the second repeat has no time and is no stage: stages 2 to 5 are
// repeats 3 to 6.
func TestNumbered(t *testing.T) {
	records, err := sheet.Read(strings.NewReader(`swimmer,date,pool,distance,repeat,time,lactate
Ann,2025-02-01,50 m,400,1,6:00,1.2
Ann,2025-02-01,50 m,400,2,,
Ann,2025-02-01,50 m,400,3,5:40,1.9
Ann,2025-02-01,50 m,400,4,5:30,3.1
Ann,2025-02-01,50 m,400,5,5:10,9.8
Ann,2025-02-01,50 m,400,6,5:20,11.0
`))
	if err != nil {
		t.Fatal(err)
	}
	test, err := records[0].Test()
	if err != nil {
		t.Fatal(err)
	}
	a := analysed(t, test, lactate.Options{})
	var said []string
	for _, w := range records[0].Numbered(a.Warnings) {
		said = append(said, w.Text("repeat"))
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{
		"repeat 5, the hardest, has less lactate (9.8 mmol/L) than repeat 6 (11.0)",
		"between repeats 6 and 5",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("lacks %q:\n%s", want, all)
		}
	}
	if strings.Contains(all, "stage") {
		t.Errorf("stages in\n%s", all)
	}
}
