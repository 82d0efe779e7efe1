package sim

import (
	"fmt"

	"hushcup/sync/wire"
)

// told writes a frame into the script of a world that is looked at closely.
func (w *World) told(from, to string, bytes []byte) {
	if !w.Closely {
		return
	}
	f, err := wire.Decode(bytes)
	if err != nil {
		w.say("    %s -> %s: %d bytes: %v", from, to, len(bytes), err)
		return
	}
	w.say("    %s -> %s: %s", from, to, spoken(f))
}

// spoken puts a frame into a line.
func spoken(f wire.Frame) string {
	switch f := f.(type) {
	case *wire.Hello:
		return fmt.Sprintf("hello at %d", f.Time)
	case *wire.Proof:
		return fmt.Sprintf("proof of %.4s", f.Device)
	case *wire.Welcome:
		return fmt.Sprintf("welcome %s", heads(f.Books))
	case *wire.Subscribe:
		return fmt.Sprintf("subscribe to %.4s after %d %.4s, invited %v", f.Book, f.Pos, f.Chain, f.Invite != nil)
	case *wire.Closed:
		return fmt.Sprintf("closed %.4s: %s", f.Book, f.Code)
	case *wire.Entries:
		return fmt.Sprintf("entries of %.4s, %d runs, head %d", f.Book, len(f.Runs), f.Head)
	case *wire.Received:
		return fmt.Sprintf("received %.4s up to %d", f.Book, f.Pos)
	case *wire.Push:
		run, err := f.Run.Unpack()
		if err != nil {
			return fmt.Sprintf("push of %d ops: %v", len(f.Run.Ops), err)
		}
		op := run.Ops[0]
		return fmt.Sprintf("push %.4s %.4s seq %d, %d ops, kind %d", op.BookOf(), op.Device, op.Seq, len(run.Ops), op.Kind)
	case *wire.Ack:
		return fmt.Sprintf("ack %.4s seq %d at position %d", f.Book, f.Seq, f.First)
	case *wire.Refuse:
		return fmt.Sprintf("refuse %.4s seq %d of the run from %d: %s", f.Book, f.Seq, f.First, f.Code)
	case *wire.Slow:
		return fmt.Sprintf("slow %.4s: %s", f.Book, f.Code)
	case *wire.Behind:
		return fmt.Sprintf("behind in %.4s: %d %.4s", f.Book, f.Pos, f.Chain)
	case *wire.Offer:
		return fmt.Sprintf("offer %.4s: %d runs", f.Book, len(f.Runs))
	case *wire.Bye:
		return "bye " + f.Code
	}
	return fmt.Sprintf("%T", f)
}

func heads(books []wire.BookHead) (text string) {
	for _, h := range books {
		text += fmt.Sprintf("%.4s at %d, ", h.Book, h.Pos)
	}
	return text
}
