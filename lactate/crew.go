package lactate

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// crew runs functions on goroutines. A panic or a [runtime.Goexit] in one of them, as
// in a caller's method, comes out of wait, as [iter.Pull] does it.
type crew struct {
	wg     sync.WaitGroup
	once   sync.Once
	broken atomic.Bool // one of them did not return
	value  any         // of the first panic; nil for Goexit
}

// run calls f on a goroutine of its own.
func (c *crew) run(f func()) {
	c.wg.Add(1)
	go func() {
		defer c.wg.Done()
		c.guard(f)
	}()
}

// guard calls f and keeps its panic.
func (c *crew) guard(f func()) {
	returned := false
	defer func() {
		if returned {
			return
		}
		v := recover()
		c.once.Do(func() {
			c.value = v
			c.broken.Store(true)
		})
	}()
	f()
	returned = true
}

// wait returns when all have returned, or ends as the first that did not.
func (c *crew) wait() {
	c.wg.Wait()
	c.raise()
}

// raise panics if one of them did. Nobody may be running any more, or broken must have
// been seen.
func (c *crew) raise() {
	switch {
	case !c.broken.Load():
	case c.value == nil:
		runtime.Goexit()
	default:
		panic(c.value)
	}
}

// inParallel runs work(block, from, to, state) for n things in blocks of a size
// on all cores; setup makes one state per core. It ends early, with some of them left
// out, if done is closed.
func inParallel[S any](done <-chan struct{}, n, size int, setup func() S, work func(block, from, to int, state S)) {
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
