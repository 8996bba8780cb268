// Package crew shares work among all cores: a number of like things, or a stream whose
// results keep their order. A panic or a [runtime.Goexit] in a worker, as in a caller's
// method, comes out where the work was given out, as [iter.Pull] does it.
package crew
