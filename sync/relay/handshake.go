package relay

import (
	"context"

	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

func (s *Session) proof(ctx context.Context, out *Out, p *wire.Proof) {
	if s.stage != greeted {
		s.bye(out, "unexpected-frame", "the handshake is over")
		return
	}
	switch {
	case p.Version < wire.Version:
		s.bye(out, "app-too-old", "this server no longer speaks the app's version: update the app")
	case p.Version > wire.Version:
		s.bye(out, "server-too-old", "this server does not yet speak the app's version")
	case !s.relay.hosts.Has(p.Host):
		s.bye(out, "wrong-host", "this server does not go by the name that was dialled")
	case !seal.Verify(p.Device, wire.ProofMessage(s.challenge, p.Host, nil), p.Sig):
		s.bye(out, "bad-proof", "the challenge is not signed by the device")
	default:
		s.stage, s.device, s.host = proven, p.Device, p.Host
		s.welcome(ctx, out)
	}
}

// welcome lists the device's books. While the store does not answer it is owed, and the phone waits.
func (s *Session) welcome(ctx context.Context, out *Out) {
	books, err := s.books(ctx)
	if err != nil {
		s.relay.storeFault(err)
		out.again(storeRetry)
		if s.stage == welcomed { // asked again: the phone may ask once more
			out.say(&wire.Slow{After: storeRetry, Code: "store-down"})
		}
		return
	}
	s.stage = welcomed
	out.say(&wire.Welcome{Books: books})
}

func (s *Session) books(ctx context.Context) ([]wire.BookHead, error) {
	ids, err := s.relay.store.BooksOf(ctx, s.device)
	if err != nil {
		return nil, err
	}
	books := make([]wire.BookHead, len(ids))
	for i, id := range ids {
		head, err := s.relay.store.Head(ctx, id)
		if err != nil {
			return nil, err
		}
		books[i] = wire.BookHead{Book: id, Pos: head.Order.Pos, Restored: head.Restored}
	}
	return books, nil
}
