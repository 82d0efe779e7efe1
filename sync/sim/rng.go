package sim

// rng is SplitMix64 (Steele, Lea, Flood 2014): small, seeded, and the same everywhere.
type rng struct{ state uint64 }

func (r *rng) next() uint64 {
	r.state += 0x9e3779b97f4a7c15
	z := r.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// fork gives an independent stream, so that one part's draws do not shift another's.
func (r *rng) fork() rng { return rng{r.next()} }

// upTo draws from 0 to n-1.
func (r *rng) upTo(n int) int { return int(r.next() % uint64(n)) }

// between draws from low to high, both included.
func (r *rng) between(low, high int64) int64 { return low + int64(r.next()%uint64(high-low+1)) }

// oneIn is true once in n times.
func (r *rng) oneIn(n int) bool { return n > 0 && r.upTo(n) == 0 }

// Read makes an rng the source of a phone's randomness.
func (r *rng) Read(p []byte) (int, error) {
	for i := 0; i < len(p); i += 8 {
		v := r.next()
		for j := i; j < min(i+8, len(p)); j++ {
			p[j] = byte(v)
			v >>= 8
		}
	}
	return len(p), nil
}

func pick[T any](r *rng, from []T) T { return from[r.upTo(len(from))] }
