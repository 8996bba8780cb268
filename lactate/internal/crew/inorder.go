package crew

import (
	"context"
	"iter"
	"runtime"
)

// inFlight is how many items there are between source and caller, for each core.
const inFlight = 64

// InOrder calls do for each item on all cores and yields the results in the order of the
// items, each with its key, as soon as it and those before it are there. It ends after
// the last item, when the caller stops ranging, or when ctx is done; the context that do
// gets is done then. items runs on a goroutine of its own, which is left behind if it
// still blocks when ctx is done.
func InOrder[K, T, R any](ctx context.Context, items iter.Seq2[K, T], do func(context.Context, T) R) iter.Seq2[K, R] {
	return func(yield func(K, R) bool) {
		callers := ctx
		ctx, cancel := context.WithCancel(ctx)
		defer cancel()
		cores := runtime.GOMAXPROCS(0)
		l := line[K, T, R]{
			ctx:    ctx,
			work:   make(chan *job[K, T, R]),
			order:  make(chan *job[K, T, R], inFlight*cores),
			failed: make(chan struct{}, cores),
		}
		source, stopped := new(crew), make(chan struct{})
		go func() {
			defer close(stopped)
			defer close(l.order)
			defer close(l.work)
			source.guard(func() { l.feed(items) })
		}()
		workers := new(crew)
		for range cores {
			workers.run(func() { l.toil(do) })
		}
		for {
			j, r, ok := l.next()
			if !ok || !yield(j.key, r) {
				break
			}
		}
		cancel()
		workers.wait()
		select {
		case <-stopped:
			source.raise()
		case <-callers.Done():
		}
	}
}

// job is one item on its way.
type job[K, T, R any] struct {
	key  K
	item T
	done chan R // of one
}

// line is what source, workers and caller share.
type line[K, T, R any] struct {
	ctx         context.Context
	work, order chan *job[K, T, R] // each job goes both ways
	failed      chan struct{}      // from workers that do not return
}

// feed turns items into jobs.
func (l *line[K, T, R]) feed(items iter.Seq2[K, T]) {
	for k, t := range items {
		j := &job[K, T, R]{k, t, make(chan R, 1)}
		for _, to := range []chan *job[K, T, R]{l.order, l.work} {
			select {
			case to <- j:
			case <-l.ctx.Done():
				return
			}
		}
	}
}

// toil does jobs until there are no more, or no longer.
func (l *line[K, T, R]) toil(do func(context.Context, T) R) {
	returned := false
	defer func() {
		if !returned {
			l.failed <- struct{}{}
		}
	}()
	for {
		var j *job[K, T, R]
		select {
		case j = <-l.work:
		case <-l.ctx.Done():
		}
		if j == nil || l.ctx.Err() != nil {
			break
		}
		j.done <- do(l.ctx, j.item)
	}
	returned = true
}

// next returns the next job and its result.
func (l *line[K, T, R]) next() (j *job[K, T, R], r R, ok bool) {
	select {
	case j, ok = <-l.order:
	case <-l.ctx.Done():
	}
	if !ok {
		return nil, r, false
	}
	select {
	case r = <-j.done:
	case <-l.failed:
		return nil, r, false
	case <-l.ctx.Done():
		return nil, r, false
	}
	return j, r, l.ctx.Err() == nil
}
