package replica_test

import (
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/seal"
	"hushcup/sync/seal/sealtest"
	"hushcup/sync/wire"
)

// liar signs what an honest app never would, as a phone that is a member; the server goes along with it.
type liar struct {
	w     *world
	phone *phone
	book  oplog.BookID
	head  oplog.Head
	order oplog.Order
	runs  []oplog.Placed
}

func (w *world) liar(p *phone, book oplog.BookID) *liar {
	state := p.r.Club(book)
	return &liar{w: w, phone: p, book: book, head: state.Head(p.r.Device().Sign), order: state.Order()}
}

func (l *liar) say(h oplog.Header, body []byte) {
	h.Book, h.Device, h.Seq, h.Prev = l.book, l.phone.r.Device().Sign, l.head.Seq+1, l.head.Hash
	h.SeenPos, h.SeenHash, h.Time = l.order.Pos, l.order.Chain, oplog.TimeAt(l.w.now)
	op := oplog.New(h, body)
	run := oplog.Sign([]oplog.Op{op}, signAs(l.phone))
	l.runs = append(l.runs, oplog.Placed{First: l.order.Pos + 1, At: l.w.now, Run: run.Pack()})
	l.head = oplog.Head{Seq: op.Seq, Hash: op.Hash()}
	l.order = l.order.Next(op.Hash(), l.w.now)
}

// tell gives phones what was said so far.
func (l *liar) tell(phones ...*phone) {
	for _, p := range phones {
		p.hear(&wire.Entries{Book: l.book, Head: l.order.Pos, Runs: l.runs})
	}
	l.w.rest()
	l.runs = nil
}

// epoch is the newest epoch key of a book, as a phone stores it.
func (p *phone) epoch(book oplog.BookID) seal.Key {
	var keys []seal.Key
	if err := codec.Unmarshal(p.disk["log/"+book.String()+"/keys"], &keys); err != nil {
		p.w.t.Fatal(err)
	}
	want := seal.KeyID(p.r.Club(book).Epoch().ID)
	for _, key := range keys {
		if key.Is(want) {
			return key
		}
	}
	p.w.t.Fatal("no epoch key")
	return seal.Key{}
}

// sealed sets up a club with a sample that vega keeps.
func sealed(t *testing.T) (w *world, vega, mira, lyra *phone, book oplog.BookID, sample club.SampleInfo) {
	w = newWorld(t)
	vega, mira, lyra = w.phone("vega"), w.phone("mira"), w.phone("lyra")
	book = w.found(vega, mira, lyra)
	flight, ticket, err := vega.r.Flight(vega.clock(), book, replica.FlightArgs{})
	vega.must(ticket, err)
	id, ticket, err := vega.r.SealSample(vega.clock(), book, replica.SampleArgs{Flight: flight, Code: 417, Answer: []byte("washed")})
	vega.must(ticket, err)
	w.pass(2000)
	sample, _ = vega.r.Club(book).Sample(id)
	return w, vega, mira, lyra, book, sample
}

func handed(t *testing.T, rand *dice, book oplog.BookID, sample *club.SampleInfo, member oplog.MemberID, notebook oplog.KeyID, named, key seal.Key) *oplog.Wrap {
	id := named.ID()
	info := seal.Info(seal.PurposeEnvelope, book, sample.Body.ID[:], member, id)
	w, err := seal.Wrap(rand, sample.Body.Key, info, key)
	if err != nil {
		t.Fatal(err)
	}
	return &oplog.Wrap{Sample: sample.Body.ID, Epoch: notebook, Enc: w.Enc, Box: w.Box[:]}
}

// A guess that opens as one thing under one key and as another under a second is a guess to nobody.
func TestBodyUnderTwoKeys_REPLICA_21(t *testing.T) {
	w, vega, mira, lyra, book, sample := sealed(t)
	rand := &dice{seed: 9}
	one, _ := seal.NewKey(rand)
	two, _ := seal.NewKey(rand)
	epoch, member := lyra.epoch(book), lyra.me(book)
	doc := oplog.GuessDoc(sample.Body.ID, member)
	keys := []oplog.KeyID{oplog.KeyID(one.ID()), oplog.KeyID(epoch.ID())}
	ad := oplog.AssociatedData(book, lyra.r.Device().Sign, oplog.Part, doc, club.GuessPart, keys)
	body, err := sealtest.Collide(rand, seal.BodyKey(one, epoch), seal.BodyKey(two, epoch), ad, []byte("washed"), seal.Uniform)
	if err != nil {
		t.Fatal(err)
	}
	l := w.liar(lyra, book)
	l.say(oplog.Header{Kind: oplog.Part, Doc: doc, Part: club.GuessPart, Keys: keys,
		Wrap: handed(t, rand, book, &sample, member, oplog.KeyID{5}, one, two)}, body) // names one, hands over two
	l.tell(vega, mira)
	v := w.liar(vega, book)
	v.order = l.order
	v.say(oplog.Header{Kind: oplog.Lock}, codec.MustMarshal(&club.LockBody{Flight: sample.Body.Flight, Samples: []oplog.SampleID{sample.Body.ID}}))
	notebook := vega.epoch(vega.r.Notebook())
	pair := seal.SampleFor(notebook, book, sample.Body.ID)
	v.say(oplog.Header{Kind: oplog.Unseal}, codec.MustMarshal(&club.UnsealBody{Keys: []club.SampleKey{{Sample: sample.Body.ID, Private: pair.Private}}}))
	v.tell(vega, mira)
	for _, p := range []*phone{vega, mira} {
		if got, status := p.r.Answer(book, sample.Body.ID); status != replica.BodyReady || string(got) != "washed" {
			t.Fatalf("%s reads the answer as %q %v", p.name, got, status)
		}
		if got, status := p.readGuess(book, sample.Body.ID, member); status != replica.BodyUnreadable {
			t.Fatalf("%s reads the guess as %q %v", p.name, got, status)
		}
	}
}

// A second envelope after the close, an enrolment and a wrap with keys of low order: void or unreadable, and nothing else moves.
func TestVoidOpsThatAServerDelivers_REPLICA_21(t *testing.T) {
	w, vega, mira, lyra, book, sample := sealed(t)
	lyra.guess(book, sample.Body.ID, "honey")
	w.pass(1000)
	vega.must(vega.r.Lock(vega.clock(), book, sample.Body.Flight, nil))
	w.pass(1000)
	members := len(mira.r.Club(book).Members())
	rand := &dice{seed: 9}
	epoch, member := lyra.epoch(book), lyra.me(book)
	first := mira.r.Club(book).Wraps(sample.Body.ID)
	second, _ := seal.NewKey(rand)
	doc := oplog.GuessDoc(sample.Body.ID, member)
	keys := []oplog.KeyID{oplog.KeyID(second.ID()), oplog.KeyID(epoch.ID())}
	l := w.liar(lyra, book)
	header := oplog.Header{Kind: oplog.Part, Doc: doc, Part: club.GuessPart, Keys: keys}
	for _, wrap := range first {
		if wrap.Member == member {
			header.Wrap = handed(t, rand, book, &sample, member, wrap.NotebookEpoch, second, second)
		}
	}
	ad := oplog.AssociatedData(book, lyra.r.Device().Sign, oplog.Part, doc, club.GuessPart, keys)
	body, err := seal.SealUnder(rand, []seal.Key{second, epoch}, ad, []byte("washed, of course"), seal.Uniform)
	if err != nil {
		t.Fatal(err)
	}
	l.say(header, body)
	low := club.Enrolment{Sign: oplog.DeviceID{1}} // a point of low order, and a box key of zeros
	l.say(oplog.Header{Kind: oplog.Device}, codec.MustMarshal(&club.DeviceBody{Device: low, EpochID: oplog.KeyID(epoch.ID())}))
	third, _ := seal.NewKey(rand)
	l.say(oplog.Header{Kind: oplog.Part, Doc: oplog.DocID{7}, Part: 1, Keys: []oplog.KeyID{oplog.KeyID(third.ID()), oplog.KeyID(epoch.ID())},
		Wrap: &oplog.Wrap{Sample: sample.Body.ID, Epoch: oplog.KeyID{6}, Box: make([]byte, 48)}}, body) // an encapsulated key of zeros
	l.tell(vega, mira)
	for _, p := range []*phone{vega, mira} {
		state := p.r.Club(book)
		if p.stopped[book] != "" || state.Order() != l.order {
			t.Fatalf("%s stops at %d: %q", p.name, state.Order().Pos, p.stopped[book])
		}
		if len(state.Members()) != members || state.Head(lyra.r.Device().Sign) != l.head {
			t.Fatal("a void op changed more than the chains")
		}
		if g, _ := state.Guess(sample.Body.ID, member); g.Scoring == nil || g.Late != nil {
			t.Fatalf("%s: %+v", p.name, g)
		}
		if wraps := state.Wraps(sample.Body.ID); len(wraps) != len(first)+1 { // the one with the encapsulated key of zeros
			t.Fatalf("%s has %d wraps", p.name, len(wraps))
		}
	}
	v := w.liar(vega, book)
	v.order = l.order
	pair := seal.SampleFor(vega.epoch(vega.r.Notebook()), book, sample.Body.ID)
	v.say(oplog.Header{Kind: oplog.Unseal}, codec.MustMarshal(&club.UnsealBody{Keys: []club.SampleKey{{Sample: sample.Body.ID, Private: pair.Private}}}))
	v.tell(vega, mira)
	if got, status := mira.readGuess(book, sample.Body.ID, member); got != "honey" {
		t.Fatalf("mira reads %q %v", got, status)
	}
	if _, status, _ := mira.body(book, member, oplog.DocID{7}, 1); status != replica.BodyUnreadable {
		t.Fatalf("a part under an envelope that was handed to nobody: %v", status)
	}
}
