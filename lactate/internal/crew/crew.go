// Package crew shares work among all cores: a number of like things, or a stream whose
// results keep their order. A panic or a [runtime.Goexit] in a worker, as in a caller's
// method, comes out where the work was given out, as [iter.Pull] does it.
package crew

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// crew runs functions on goroutines. A panic or a [runtime.Goexit] in one of them comes
// out of wait.
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
