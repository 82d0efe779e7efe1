package wire

import (
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
	"hushcup/sync/spell"
)

type kind uint8

const (
	kindHello kind = iota + 1
	kindProof
	kindWelcome
	kindBooksAsk
	kindSubscribe
	kindUnsubscribe
	kindClosed
	kindEntries
	kindReceived
	kindPush
	kindAck
	kindRefuse
	kindSlow
	kindBehind
	kindOffer
	kindBye
)

func (*Hello) kind() kind       { return kindHello }
func (*Proof) kind() kind       { return kindProof }
func (*Welcome) kind() kind     { return kindWelcome }
func (*BooksAsk) kind() kind    { return kindBooksAsk }
func (*Subscribe) kind() kind   { return kindSubscribe }
func (*Unsubscribe) kind() kind { return kindUnsubscribe }
func (*Closed) kind() kind      { return kindClosed }
func (*Entries) kind() kind     { return kindEntries }
func (*Received) kind() kind    { return kindReceived }
func (*Push) kind() kind        { return kindPush }
func (*Ack) kind() kind         { return kindAck }
func (*Refuse) kind() kind      { return kindRefuse }
func (*Slow) kind() kind        { return kindSlow }
func (*Behind) kind() kind      { return kindBehind }
func (*Offer) kind() kind       { return kindOffer }
func (*Bye) kind() kind         { return kindBye }

// empty gives a value to decode a kind into.
var empty = map[kind]func() Frame{
	kindHello:       func() Frame { return new(Hello) },
	kindProof:       func() Frame { return new(Proof) },
	kindWelcome:     func() Frame { return new(Welcome) },
	kindBooksAsk:    func() Frame { return new(BooksAsk) },
	kindSubscribe:   func() Frame { return new(Subscribe) },
	kindUnsubscribe: func() Frame { return new(Unsubscribe) },
	kindClosed:      func() Frame { return new(Closed) },
	kindEntries:     func() Frame { return new(Entries) },
	kindReceived:    func() Frame { return new(Received) },
	kindPush:        func() Frame { return new(Push) },
	kindAck:         func() Frame { return new(Ack) },
	kindRefuse:      func() Frame { return new(Refuse) },
	kindSlow:        func() Frame { return new(Slow) },
	kindBehind:      func() Frame { return new(Behind) },
	kindOffer:       func() Frame { return new(Offer) },
	kindBye:         func() Frame { return new(Bye) },
}

// Error is a frame that cannot be read: `frame-too-big`, `malformed-frame`, `unknown-frame`.
type Error struct {
	Code string
	Text string
}

func (e *Error) Error() string { return e.Code + ": " + e.Text }

type envelope struct {
	_    struct{} `cbor:",toarray"`
	Kind kind
	Body codec.Raw
}

// Encode gives a frame's bytes.
func Encode(f Frame) []byte {
	return codec.MustMarshal(envelope{Kind: f.kind(), Body: codec.MustMarshal(f)})
}

// Decode reads a frame, strictly.
func Decode(b []byte) (Frame, error) {
	if len(b) > MaxFrame {
		return nil, &Error{"frame-too-big", spell.Text("a frame of %d bytes is over %d", len(b), MaxFrame)}
	}
	var e envelope
	if err := codec.Unmarshal(b, &e); err != nil {
		return nil, &Error{"malformed-frame", err.Error()}
	}
	build, ok := empty[e.Kind]
	if !ok {
		return nil, &Error{"unknown-frame", spell.Text("frame type %d is not known", e.Kind)}
	}
	f := build()
	if err := codec.Unmarshal(e.Body, f); err != nil {
		return nil, &Error{"malformed-frame", err.Error()}
	}
	return f, nil
}

// ProofMessage is what a device (or, for a book, an invitation) signs to show itself on this connection to this host.
func ProofMessage(challenge [32]byte, host string, book *oplog.BookID) []byte {
	if book == nil {
		sum := seal.Sum("hushcup/1 session", challenge[:], []byte(host))
		return sum[:]
	}
	sum := seal.Sum("hushcup/1 visit", challenge[:], []byte(host), book[:])
	return sum[:]
}
