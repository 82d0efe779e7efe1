package relay

import "sync"

// Message is one frame's bytes, on its way to one or more connections.
type Message struct {
	Bytes  []byte
	Shared bool // the same Message goes to several sessions

	once     sync.Once
	prepared any
}

// Prepared gives what prepare made of the bytes, which is called once however many sessions send the message.
func (m *Message) Prepared(prepare func([]byte) any) any {
	m.once.Do(func() { m.prepared = prepare(m.Bytes) })
	return m.prepared
}
