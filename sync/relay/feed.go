package relay

import (
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

// feed keeps the newest Entries frames of a book, so that one commit is read and encoded once for all its subscribers.
type feed struct {
	chunks []chunk
	bytes  int
}

// chunk brings a reader from one position to another, as of a head.
type chunk struct {
	after, upTo, head uint64
	message           *Message
}

const (
	feedBytes  = 256 << 10
	chunkBytes = 160 << 10 // of headers and bodies; with 64 bytes a run and 30 an op on top it stays well within a frame
	chunkRuns  = 256
)

func (f *feed) clear() { *f = feed{} }

func (f *feed) find(after, head uint64) (chunk, bool) {
	for i := len(f.chunks) - 1; i >= 0; i-- {
		if c := f.chunks[i]; c.after == after && c.head == head {
			return c, true
		}
	}
	return chunk{}, false
}

func (f *feed) keep(c chunk) {
	f.chunks = append(f.chunks, c)
	f.bytes += len(c.message.Bytes)
	for f.bytes > feedBytes {
		f.bytes -= len(f.chunks[0].message.Bytes)
		f.chunks = f.chunks[1:]
	}
}

// newChunk encodes runs that follow a position.
func newChunk(id oplog.BookID, after uint64, runs []oplog.Placed, head uint64) chunk {
	last := &runs[len(runs)-1]
	return chunk{
		after:   after,
		upTo:    last.First + uint64(len(last.Run.Ops)) - 1,
		head:    head,
		message: &Message{Bytes: wire.Encode(&wire.Entries{Book: id, Runs: runs, Head: head}), Shared: true},
	}
}
