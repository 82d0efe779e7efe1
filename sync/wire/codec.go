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

// empty gives a value to decode a kind into; nil for a kind that is not known.
func empty(of kind) Frame {
	switch of {
	case kindHello:
		return new(Hello)
	case kindProof:
		return new(Proof)
	case kindWelcome:
		return new(Welcome)
	case kindBooksAsk:
		return new(BooksAsk)
	case kindSubscribe:
		return new(Subscribe)
	case kindUnsubscribe:
		return new(Unsubscribe)
	case kindClosed:
		return new(Closed)
	case kindEntries:
		return new(Entries)
	case kindReceived:
		return new(Received)
	case kindPush:
		return new(Push)
	case kindAck:
		return new(Ack)
	case kindRefuse:
		return new(Refuse)
	case kindSlow:
		return new(Slow)
	case kindBehind:
		return new(Behind)
	case kindOffer:
		return new(Offer)
	case kindBye:
		return new(Bye)
	}
	return nil
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
	f := empty(e.Kind)
	if f == nil {
		return nil, &Error{"unknown-frame", spell.Text("frame type %d is not known", e.Kind)}
	}
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
