package relay_test

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// phoneDoes carries out what a line says of a phone.
func (w *world) phoneDoes(d *device, c *command) {
	switch c.verb {
	case "dials":
		w.dial(d, c)
	case "hangs-up":
		d.server.sessions = slices.DeleteFunc(d.server.sessions, func(other *device) bool { return other == d })
		d.session = nil
	case "reads":
		w.read(d, c)
	case "stops-reading":
		w.send(d, &wire.Unsubscribe{Book: w.book.id})
	case "deaf":
		d.deaf = true
	case "confirms":
		d.deaf = false
		w.send(d, &wire.Received{Book: w.book.id, Pos: d.copy(w.book).order.Pos})
	case "asks-for-books":
		w.send(d, &wire.BooksAsk{})
	case "says":
		w.say(d, c)
	case "resends":
		run := d.copy(w.book).last
		w.send(d, &wire.Push{Run: run.Pack()})
	case "steals":
		run := w.device(c.word(0, "")).copy(w.book).last
		w.send(d, &wire.Push{Run: run.Pack()})
	case "offers":
		w.offer(d, c)
	case "forgets":
		d.copies[w.book].order, d.copies[w.book].runs = oplog.Order{}, nil
	default:
		w.push(d, c)
	}
}

func (w *world) send(d *device, frames ...wire.Frame) {
	var list [][]byte
	for _, f := range frames {
		list = append(list, wire.Encode(f))
	}
	w.sendBytes(d, list...)
}

func (w *world) sendBytes(d *device, frames ...[]byte) {
	if d.session == nil {
		w.out.WriteString("  no connection\n")
		return
	}
	w.carryOut(d, d.session.Frames(ctx, w.now, frames))
}

// dial opens a session and proves the device, with the flaws that options ask for.
func (w *world) dial(d *device, c *command) {
	if d.session != nil {
		w.phoneDoes(d, &command{verb: "hangs-up"})
	}
	s := w.server(either(c.options["at"], "home"), relay.Limits{})
	d.server, d.watched, d.deaf, d.again = s, map[oplog.BookID]bool{}, false, false
	session, out := s.relay.Open(w.now, [32]byte(w.draw(32)), relay.Peer{Address: either(c.options["from"], "192.0.2.1"),
		Trusted: c.options["token"] != "", Watcher: d})
	d.session = session
	s.sessions = append(s.sessions, d)
	w.carryOut(d, out)
	if c.options["flaw"] == "silent" {
		return
	}
	host := either(c.options["host"], "club.example")
	sig := d.secret.Sign(wire.ProofMessage(d.hello.Challenge, host, nil))
	proof := &wire.Proof{Version: uint16(c.number("version", wire.Version)), Device: d.id(), Host: host, Sig: sig[:]}
	switch c.options["flaw"] {
	case "signature":
		proof.Sig[5] ^= 1
	case "short":
		proof.Sig = proof.Sig[:10]
	case "named-otherwise":
		proof.Host = "club.example:8443"
	case "low":
		proof.Device = oplog.DeviceID{1}
	}
	w.send(d, proof)
}

func either(text, without string) string {
	if text == "" {
		return without
	}
	return text
}

// read subscribes from the phone's cursor.
func (w *world) read(d *device, c *command) {
	id := w.book.id
	if c.options["flaw"] == "nowhere" {
		id = oplog.BookID(w.draw(32))
	}
	order := d.copy(w.book).order
	ask := &wire.Subscribe{Book: id, Pos: order.Pos, Chain: order.Chain}
	if text, ok := c.options["pos"]; ok {
		ask.Pos = must(strconv.ParseUint(text, 10, 64))
	}
	if c.options["flaw"] == "history" {
		ask.Chain[3] ^= 1
	}
	if name := c.options["by"]; name != "" {
		invite := w.book.invites[name]
		key := oplog.DeviceID(invite.Public())
		sig := invite.Sign(wire.ProofMessage(d.hello.Challenge, "club.example", &id))
		if c.options["flaw"] == "proof" {
			sig[9] ^= 1
		}
		ask.Invite, ask.InviteSig = &key, sig[:]
	}
	w.send(d, ask)
}

// say sends what a phone should not.
func (w *world) say(d *device, c *command) {
	whole := wire.Encode(&wire.BooksAsk{})
	switch c.word(0, "") {
	case "noise":
		w.sendBytes(d, bytes.Repeat([]byte{0xff}, 40))
	case "nothing":
		w.sendBytes(d, nil)
	case "half":
		w.sendBytes(d, whole[:len(whole)-1])
	case "more":
		w.sendBytes(d, append(whole, 0))
	case "deep":
		w.sendBytes(d, bytes.Repeat([]byte{0x81}, 10_000))
	case "too-much":
		w.sendBytes(d, make([]byte, wire.MaxFrame+1))
	case "unknown":
		w.sendBytes(d, []byte{0x82, 0x18, 0xfa, 0xa0})
	case "hello":
		w.send(d, &wire.Hello{})
	case "proof":
		w.send(d, &wire.Proof{})
	case "bye":
		w.send(d, &wire.Bye{})
	}
}

// offer sends back what the phone has after a position, one frame each run.
func (w *world) offer(d *device, c *command) {
	after := uint64(c.number("after", 0))
	for _, placed := range d.copy(w.book).runs {
		if placed.First <= after {
			continue
		}
		switch c.options["flaw"] {
		case "time":
			placed.At = 5
		case "future":
			placed.At = w.now + span("1h")
		case "forged":
			placed.Run.Sig = bytes.Clone(placed.Run.Sig)
			placed.Run.Sig[4] ^= 1
		case "gap":
			placed.First++
		case "bodiless":
			placed.Run.Ops = []oplog.PackedOp{{Raw: placed.Run.Ops[0].Raw}}
		}
		w.send(d, &wire.Offer{Book: w.book.id, Runs: []oplog.Placed{placed}})
	}
}

// push makes a run and sends it. "a ; b" would be one run; "times=3" sends as many runs in one batch.
func (w *world) push(d *device, c *command) {
	var frames []wire.Frame
	var before oplog.Head
	if w.book != nil {
		before = d.copy(w.book).head
	}
	for range c.number("times", 1) {
		run := w.compose(d, c)
		if c.options["past"] != "" {
			w.store.Write(ctx, w.book.id, false, func(tx relay.Tx) error {
				entries, _ := tx.Head().Order.Entries(&run, w.now)
				return tx.Append(&run, entries)
			})
			return
		}
		frames = append(frames, &wire.Push{Run: w.flawed(run, c)})
	}
	w.send(d, frames...)
	if c.options["flaw"] != "" { // and so the phone goes on as if it had never written it
		d.copy(w.book).head = before
	}
}

func (w *world) flawed(run oplog.Run, c *command) oplog.Packed {
	packed := run.Pack()
	switch c.options["flaw"] {
	case "signature":
		packed.Sig = bytes.Clone(packed.Sig)
		packed.Sig[7] ^= 1
	case "body":
		body := bytes.Clone(*packed.Ops[0].Body)
		body[0] ^= 1
		packed.Ops[0].Body = &body
	case "dropped":
		packed.Ops[0].Body = nil
	case "empty":
		packed.Ops = nil
	case "header":
		packed.Ops[0].Raw = packed.Ops[0].Raw[:20]
	}
	return packed
}

func (w *world) compose(d *device, c *command) oplog.Run {
	if c.verb == "creates" {
		w.newBook(c.word(0, "club"))
	}
	mine := d.copy(w.book)
	var ops []oplog.Op
	for range c.number("ops", 1) {
		h, body := w.draft(d, c)
		ops = append(ops, w.stamp(d, mine, c, h, body))
	}
	mine.last = oplog.Sign(ops, d.secret.Sign)
	return mine.last
}

func (w *world) stamp(d *device, mine *copy, c *command, h oplog.Header, body []byte) oplog.Op {
	ahead := int64(0)
	if text := c.options["ahead"]; text != "" {
		ahead = span(text)
	}
	mine.clock = mine.clock.Next(w.now)
	h.Device, h.Seq, h.Prev, h.Time = d.id(), mine.head.Seq+1, mine.head.Hash, mine.clock
	if ahead > 0 {
		h.Time = oplog.TimeAt(w.now + ahead)
	}
	if h.Kind != oplog.Create {
		h.Book, h.SeenPos, h.SeenHash = w.book.id, mine.order.Pos, mine.order.Chain
	}
	switch c.options["flaw"] {
	case "gap":
		h.Seq += 2
		h.Prev = oplog.Hash(w.draw(32))
	case "fork":
		h.Seq, h.Prev = 1, oplog.Hash{}
	case "book":
		h.Book = oplog.BookID{7}
	case "seen":
		h.SeenPos, h.SeenHash = 1, oplog.Hash{1}
	case "seen-ahead":
		h.SeenPos = 900
	}
	op := oplog.New(h, body)
	mine.head = oplog.Head{Seq: h.Seq, Hash: op.Hash()}
	if h.Kind == oplog.Create {
		w.book.id = oplog.BookID(op.Hash())
		w.names[w.book.id] = w.book.name
	}
	return op
}

func (w *world) newBook(name string) {
	w.book = &book{name: name, epochs: []seal.Key{seal.Key(w.draw(32))}, invites: map[string]seal.Invite{}}
	w.books[name] = w.book
}

func (w *world) epoch() seal.Key { return w.book.epochs[len(w.book.epochs)-1] }

// draft says what a control op or part holds.
func (w *world) draft(d *device, c *command) (oplog.Header, []byte) {
	control := func(kind oplog.Kind, body any) (oplog.Header, []byte) { return oplog.Header{Kind: kind}, encode(body) }
	switch c.verb {
	case "creates":
		w.book.in = []*device{d}
		kind := club.Club
		if c.word(1, "") == "notebook" {
			kind = club.Notebook
		}
		return control(oplog.Create, club.CreateBody{Rules: 1, Kind: kind, Nonce: [16]byte(w.draw(16)), Member: d.owner.id,
			Devices: []club.Enrolment{d.enrolment()}, Epoch: club.Grant{ID: named(w.epoch()), Wraps: w.wraps(w.book.in)}})
	case "invites":
		return control(oplog.Invite, w.invite(c))
	case "revokes":
		invite := w.book.invites[c.word(0, "")]
		return control(oplog.Revoke, club.RevokeBody{Key: invite.Public()})
	case "joins":
		return control(oplog.Join, w.join(d, c))
	case "removes":
		return control(oplog.Remove, w.remove(c))
	case "makes":
		return control(oplog.Role, club.RoleBody{Member: w.person(c.word(0, "")).id, Role: club.Organiser})
	case "leaves":
		w.book.in = slices.DeleteFunc(w.book.in, func(other *device) bool { return other.owner == d.owner })
		return control(oplog.Leave, club.LeaveBody{})
	case "flight":
		closes := int64(0)
		if text := c.options["closes"]; text != "" {
			closes = w.now + span(text)
		}
		return control(oplog.Flight, club.FlightBody{ID: w.flight, Closes: closes})
	case "seals":
		return w.seal(d, c)
	case "locks":
		return control(oplog.Lock, club.LockBody{Flight: w.flight, Samples: []oplog.SampleID{w.lot(d, c.word(0, "")).id}})
	case "unseals":
		key := club.SampleKey{Sample: w.lot(d, c.word(0, "")).id, Private: w.lot(d, c.word(0, "")).keys.Private}
		if c.options["key"] == "wrong" {
			key.Private[9] ^= 4
		}
		return control(oplog.Unseal, club.UnsealBody{Keys: []club.SampleKey{key}})
	case "erases":
		return control(oplog.Erase, club.EraseBody{Docs: []oplog.DocID{docOf(c.word(0, ""))}})
	case "resumes":
		return control(oplog.Resume, club.ResumeBody{})
	case "raises":
		return control(oplog.Rules, club.RulesBody{Rules: 9})
	case "invents":
		return oplog.Header{Kind: 200}, []byte{0xa0}
	case "guesses":
		return w.guess(d, c)
	case "writes":
		return w.write(d, c)
	}
	panic(fmt.Sprintf("no verb %q", c.verb))
}

// wraps hands the current epoch to devices.
func (w *world) wraps(to []*device) []club.Wrapped {
	list := make([]club.Wrapped, len(to))
	for i, d := range to {
		id := w.epoch().ID()
		info := seal.Info(seal.PurposeEpoch, w.book.id, id[:], d.owner.id, id)
		wrapped := must(seal.Wrap(w.rand, d.secret.Public().Box, info, w.epoch()))
		list[i] = club.Wrapped{Device: d.id(), Enc: wrapped.Enc, Box: wrapped.Box[:]}
	}
	return list
}

func (w *world) invite(c *command) club.InviteBody {
	link := must(seal.NewInvite(w.rand, seal.KindJoin, w.book.id))
	w.book.invites[c.word(0, "")] = link
	public := link.Public()
	info := seal.Info(seal.PurposeInvite, w.book.id, public[:], oplog.MemberID{}, w.epoch().ID())
	return club.InviteBody{Key: public, Uses: uint16(c.number("uses", 1)), Expires: w.now + span(either(c.options["lasts"], "1h")),
		Role: club.Taster, EpochID: named(w.epoch()),
		Epoch: club.Sealed{Keys: []oplog.KeyID{named(link.Key())}, Box: must(seal.SealKey(w.rand, link.Key(), info, w.epoch()))}}
}

func (w *world) join(d *device, c *command) club.JoinBody {
	link := w.book.invites[c.word(0, "")]
	devices := []club.Enrolment{d.enrolment()}
	proof := link.Sign(club.JoinMessage(w.book.id, d.owner.id, devices))
	if c.options["proof"] == "forged" {
		proof[2] ^= 1
	} else if c.options["lost"] == "" {
		w.book.in = append(w.book.in, d)
	}
	return club.JoinBody{Member: d.owner.id, Invite: link.Public(), Devices: devices, EpochID: named(w.epoch()), Proof: proof[:],
		Wraps: w.wraps([]*device{d})}
}

func (w *world) remove(c *command) club.RemoveBody {
	gone := w.person(c.word(0, ""))
	before := w.epoch()
	w.book.epochs = append(w.book.epochs, seal.Key(w.draw(32)))
	w.book.in = slices.DeleteFunc(w.book.in, func(d *device) bool { return d.owner == gone })
	id := w.epoch().ID()
	box := must(seal.SealKey(w.rand, w.epoch(), seal.Info(seal.PurposeBefore, w.book.id, id[:], oplog.MemberID{}, before.ID()), before))
	return club.RemoveBody{Member: &gone.id, Epoch: club.Grant{ID: named(w.epoch()), Wraps: w.wraps(w.book.in),
		Before: &club.Sealed{Keys: []oplog.KeyID{named(w.epoch())}, Box: box}}}
}

func (w *world) lot(d *device, name string) *lot {
	if w.lots[name] == nil {
		id := oplog.SampleID(w.draw(16))
		w.lots[name] = &lot{id, seal.SampleFor(d.owner.notebook, w.book.id, id)}
	}
	return w.lots[name]
}

// envelope gives the author's envelope for a sample, and, the first time, its wrap to the sample's key.
func (w *world) envelope(d *device, to *lot) (seal.Key, *oplog.Wrap) {
	envelope := seal.Envelope(d.owner.notebook, w.book.id, to.id)
	mine := d.copy(w.book)
	if mine.wraps[to.id] {
		return envelope, nil
	}
	mine.wraps[to.id] = true
	info := seal.Info(seal.PurposeEnvelope, w.book.id, to.id[:], d.owner.id, envelope.ID())
	wrapped := must(seal.Wrap(w.rand, to.keys.Public, info, envelope))
	return envelope, &oplog.Wrap{Sample: to.id, Epoch: named(d.owner.notebook), Enc: wrapped.Enc, Box: wrapped.Box[:]}
}

func (w *world) seal(d *device, c *command) (oplog.Header, []byte) {
	code := must(strconv.Atoi(c.word(0, "")))
	to := w.lot(d, c.word(0, ""))
	envelope, wrap := w.envelope(d, to)
	ids := []oplog.KeyID{named(envelope), named(w.epoch())}
	answer := must(seal.SealUnder(w.rand, []seal.Key{envelope, w.epoch()}, club.AnswerAD(w.book.id, to.id, d.owner.id), []byte("Sidama"), seal.Uniform))
	declared := must(seal.SealUnder(w.rand, []seal.Key{w.epoch()}, club.DeclaredAD(w.book.id, to.id), []byte("none"), seal.Powers))
	return oplog.Header{Kind: oplog.Sample, Keys: ids, Wrap: wrap}, encode(club.SampleBody{ID: to.id, Flight: w.flight, Code: uint16(code),
		Centigrams: 2400, Key: to.keys.Public, Declared: club.Sealed{Keys: ids[1:], Box: declared}, Answer: club.Sealed{Keys: ids, Box: answer}})
}

func (w *world) guess(d *device, c *command) (oplog.Header, []byte) {
	to := w.lot(d, c.word(0, ""))
	envelope, wrap := w.envelope(d, to)
	h := oplog.Header{Kind: oplog.Part, Doc: oplog.GuessDoc(to.id, d.owner.id), Part: club.GuessPart,
		Keys: []oplog.KeyID{named(envelope), named(w.epoch())}, Wrap: wrap}
	ad := oplog.AssociatedData(w.book.id, d.id(), h.Kind, h.Doc, h.Part, h.Keys)
	return h, must(seal.SealUnder(w.rand, []seal.Key{envelope, w.epoch()}, ad, []byte(either(c.options["says"], "Ethiopia")), seal.Uniform))
}

func docOf(name string) oplog.DocID {
	sum := seal.Sum("doc", []byte(name))
	return oplog.DocID(sum[:16])
}

// write seals a part of a document, a new one unless it is named.
func (w *world) write(d *device, c *command) (oplog.Header, []byte) {
	h := oplog.Header{Kind: oplog.Part, Doc: oplog.DocID(w.draw(16)), Part: 1, Keys: []oplog.KeyID{named(w.epoch())}}
	if len(c.words) > 0 {
		h.Doc = docOf(c.words[0])
	}
	ad := oplog.AssociatedData(w.book.id, d.id(), h.Kind, h.Doc, h.Part, h.Keys)
	plain := []byte(strings.Repeat("x", c.number("size", 100)))
	return h, must(seal.SealUnder(w.rand, []seal.Key{w.epoch()}, ad, plain, seal.Powers))
}
