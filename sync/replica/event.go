package replica

// Event is something that happened outside.
type Event interface{ event() }

// Record is one stored value.
type Record struct {
	Key   string
	Value []byte
}

// Load gives all records whose keys do not begin with "cold/". It is the first event, once.
type Load struct{ Records []Record }

// Connected says that the socket to a host is open.
type Connected struct{ Host string }

// Disconnected says that the socket to a host is gone, or could not be opened.
type Disconnected struct{ Host string }

// FrameIn is a frame from a host.
type FrameIn struct {
	Host  string
	Bytes []byte
}

// Persisted says that a transaction is durable.
type Persisted struct{ Tx uint64 }

// PersistFailed says that nothing of a transaction was kept. Code is what the screen explains: `storage-full`,
// `storage-gone`, `storage-lost-ownership`, ...
type PersistFailed struct {
	Tx   uint64
	Code string
}

// Got answers a Read with those of its records that exist.
type Got struct {
	Read    uint64
	Records []Record
}

// Timer says that a timer ran out.
type Timer struct{ Name string }

// Foreground says that the person is back: sockets are replaced, not trusted.
type Foreground struct{}

// Nothing flushes the effects of commands and reads since the last Step.
type Nothing struct{}

func (Load) event()          {}
func (Connected) event()     {}
func (Disconnected) event()  {}
func (FrameIn) event()       {}
func (Persisted) event()     {}
func (PersistFailed) event() {}
func (Got) event()           {}
func (Timer) event()         {}
func (Foreground) event()    {}
func (Nothing) event()       {}
