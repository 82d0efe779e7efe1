package relay

import "sync"

// Tally is a Counter in memory, for one server process. It forgets a bucket once it is full again.
type Tally struct {
	mu      sync.Mutex
	buckets map[tallyKey]*level
	sweepAt int // how many buckets make it look for full ones
}

type tallyKey struct{ what, key string }

// level is how much of a bucket was used at a time. It is a float since a bucket refills by fractions between two calls.
type level struct {
	used   float64
	at     int64
	bucket Bucket
}

// NewTally gives an empty one.
func NewTally() *Tally { return &Tally{buckets: map[tallyKey]*level{}, sweepAt: 1024} }

// Take implements Counter.
func (t *Tally) Take(now int64, key string, b Bucket, n int) int64 {
	t.mu.Lock()
	defer t.mu.Unlock()
	l := t.level(now, key, b)
	l.refill(now)
	if over := l.used + float64(n) - float64(b.Size); over > 0 && l.used > 0 {
		return 1 + int64(over*float64(b.Refill)/float64(b.Size))
	}
	l.used += float64(n)
	return 0
}

// Return implements Counter.
func (t *Tally) Return(key string, b Bucket, n int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if l, ok := t.buckets[tallyKey{b.What, key}]; ok {
		l.used = max(0, l.used-float64(n))
	}
}

func (t *Tally) level(now int64, key string, b Bucket) *level {
	k := tallyKey{b.What, key}
	if l, ok := t.buckets[k]; ok {
		l.bucket = b
		return l
	}
	if len(t.buckets) >= t.sweepAt {
		t.sweep(now)
	}
	l := &level{at: now, bucket: b}
	t.buckets[k] = l
	return l
}

// sweep drops what is full again; what is left sets when to look the next time.
func (t *Tally) sweep(now int64) {
	for k, l := range t.buckets {
		if l.refill(now); l.used == 0 {
			delete(t.buckets, k)
		}
	}
	t.sweepAt = max(1024, 2*len(t.buckets))
}

// refill lets time pass; a clock that goes back lets none pass.
func (l *level) refill(now int64) {
	if now > l.at {
		l.used = max(0, l.used-float64(now-l.at)*float64(l.bucket.Size)/float64(l.bucket.Refill))
	}
	l.at = now
}
