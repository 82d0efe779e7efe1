package sim

// rogue is a server that lies to phones about what it has stored.
type rogue struct{}

func (r *rogue) alter(l *line, frame []byte) [][]byte { return [][]byte{frame} }
