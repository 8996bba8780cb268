package lactate_test

import (
	"context"
	"fmt"
	"hash/fnv"
	"iter"

	"example.com/steptest/lactate"
)

// Two machines share an archive: each analyses the swimmers whose names fall to
// it, and together they have all, each once.
func ExampleAnalyzeAll_share() {
	const machines = 2
	for machine := range uint32(machines) {
		mine := func(yield func(string, lactate.Test) bool) {
			for swimmer, test := range squad(6) {
				h := fnv.New32a()
				h.Write([]byte(swimmer))
				if h.Sum32()%machines == machine && !yield(swimmer, test) {
					return
				}
			}
		}
		for swimmer, r := range lactate.AnalyzeAll(context.Background(), mine, lactate.Options{}) {
			fmt.Printf("machine %d: %s, read: %v\n", machine, swimmer, r.Err == nil)
		}
	}
	// Output:
	// machine 0: swimmer 1, read: true
	// machine 0: swimmer 3, read: true
	// machine 0: swimmer 5, read: true
	// machine 1: swimmer 2, read: true
	// machine 1: swimmer 4, read: true
	// machine 1: swimmer 6, read: true
}

// squad yields n invented tests.
func squad(n int) iter.Seq2[string, lactate.Test] {
	return func(yield func(string, lactate.Test) bool) {
		for i := range n {
			t := lactate.Test{Stages: append([]lactate.Stage(nil), sixStages.Stages...)}
			t.Stages[5].Lactate += 0.5 * float64(i)
			if !yield(fmt.Sprintf("swimmer %d", i+1), t) {
				return
			}
		}
	}
}
