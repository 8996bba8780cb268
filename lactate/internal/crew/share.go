package crew

import (
	"runtime"
	"sync/atomic"
)

// Share runs work(block, from, to, state) for n things in blocks of a size
// on all cores; setup makes one state per core. It ends early, with some of them left
// out, if done is closed.
func Share[S any](done <-chan struct{}, n, size int, setup func() S, work func(block, from, to int, state S)) {
	blocks := (n + size - 1) / size
	var next atomic.Int64
	var c crew
	for range min(runtime.GOMAXPROCS(0), blocks) {
		c.run(func() {
			ended := func() bool {
				select {
				case <-done:
					return true
				default:
					return c.broken.Load()
				}
			}
			if ended() {
				return
			}
			state := setup()
			for !ended() {
				b := int(next.Add(1)) - 1
				if b >= blocks {
					return
				}
				work(b, b*size, min(n, (b+1)*size), state)
			}
		})
	}
	c.wait()
}
