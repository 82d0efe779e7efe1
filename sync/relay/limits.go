package relay

// Limits are what one connection, member or address may ask of a server. They are the relay's, not the club's: another
// server may have others, and no phone judges by them.
type Limits struct {
	OpsBurst   int  // ops that a member may push to a book at once
	OpsSecond  int  // and how many more each second
	OpsDay     int  // ops of a member in a book in a day
	BytesDay   int  // bytes of the same
	BooksDay   int  // books that one address may create in a day
	TokenOnly  bool // books are created only by who shows the host's token
	Books      int  // subscriptions of one connection
	Window     int  // bytes delivered to a connection that it has not yet received
	Faults     int  // refused or unreadable frames before a connection is closed
	BatchRuns  int  // runs in one transaction
	BatchBytes int  // bytes in one transaction
}

// DefaultLimits suit a club's phones and make a nuisance slow.
var DefaultLimits = Limits{
	OpsBurst:   4000,
	OpsSecond:  200,
	OpsDay:     50_000,
	BytesDay:   256 << 20,
	BooksDay:   200,
	Books:      200,
	Window:     512 << 10,
	Faults:     100,
	BatchRuns:  128,
	BatchBytes: 4 << 20,
}

// orDefault fills what was left out.
func (l Limits) orDefault() Limits {
	d := DefaultLimits
	for _, f := range []struct{ set, usual *int }{
		{&l.OpsBurst, &d.OpsBurst}, {&l.OpsSecond, &d.OpsSecond}, {&l.OpsDay, &d.OpsDay}, {&l.BytesDay, &d.BytesDay},
		{&l.BooksDay, &d.BooksDay}, {&l.Books, &d.Books}, {&l.Window, &d.Window}, {&l.Faults, &d.Faults},
		{&l.BatchRuns, &d.BatchRuns}, {&l.BatchBytes, &d.BatchBytes},
	} {
		if *f.set == 0 {
			*f.set = *f.usual
		}
	}
	return l
}

const day = 24 * 60 * 60 * 1000

// Bucket is an allowance that refills evenly: Size at most, all of it again after Refill milliseconds.
type Bucket struct {
	What   string
	Size   int
	Refill int64
}

// Counter counts what was used. Its methods may be called from many sessions at once; a server among several may count
// for itself alone.
type Counter interface {
	// Take takes n from the key's bucket and returns 0, or takes nothing and says after how many milliseconds it could.
	Take(now int64, key string, b Bucket, n int) (wait int64)

	// Return gives back what was taken for something that then did not happen.
	Return(key string, b Bucket, n int)
}

// cost is one amount of one bucket.
type cost struct {
	key    string
	bucket Bucket
	n      int
}

// take takes all costs or none.
func take(c Counter, now int64, costs []cost) (wait int64) {
	for i, part := range costs {
		if wait := c.Take(now, part.key, part.bucket, part.n); wait > 0 {
			giveBack(c, costs[:i])
			return wait
		}
	}
	return 0
}

func giveBack(c Counter, costs []cost) {
	for _, part := range costs {
		c.Return(part.key, part.bucket, part.n)
	}
}

// pushCosts are what a run takes from its author's allowance in the book.
func (l Limits) pushCosts(key string, ops, bytes int) []cost {
	return []cost{
		{key, Bucket{"ops", l.OpsBurst, 1000 * int64(l.OpsBurst) / int64(l.OpsSecond)}, ops},
		{key, Bucket{"ops a day", l.OpsDay, day}, ops},
		{key, Bucket{"bytes a day", l.BytesDay, day}, bytes},
	}
}

// createCosts are what a new book takes from its address.
func (l Limits) createCosts(address string) []cost {
	return []cost{{address, Bucket{"books a day", l.BooksDay, day}, 1}}
}
