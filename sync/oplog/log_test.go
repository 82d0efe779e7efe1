package oplog_test

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"testing"

	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"pgregory.net/rapid"
)

// joined is the spec's H, written again without the code under test.
func joined(label string, fields ...[]byte) [32]byte {
	h := sha256.New()
	for _, field := range append([][]byte{[]byte(label)}, fields...) {
		h.Write(binary.BigEndian.AppendUint64(nil, uint64(len(field))))
		h.Write(field)
	}
	return [32]byte(h.Sum(nil))
}

// author is a device with a chain of its own in one book.
type author struct {
	key  ed25519.PrivateKey
	book oplog.BookID
	head oplog.Head
}

func newAuthor(seed byte) *author {
	return &author{key: ed25519.NewKeyFromSeed(bytes.Repeat([]byte{seed}, 32)), book: oplog.BookID{1, 2, 3}}
}

func (a *author) id() oplog.DeviceID { return oplog.DeviceID(a.key.Public().(ed25519.PublicKey)) }

func (a *author) sign(message []byte) [64]byte { return [64]byte(ed25519.Sign(a.key, message)) }

func (a *author) header() oplog.Header {
	return oplog.Header{
		Book: a.book, Device: a.id(), Seq: a.head.Seq + 1, Prev: a.head.Hash, Time: 7, Kind: oplog.Part,
		Doc: oplog.DocID{9}, Part: 3, Keys: []oplog.KeyID{{4}},
	}
}

func (a *author) write(body []byte) oplog.Op {
	op := oplog.New(a.header(), body)
	a.head = oplog.Head{Seq: op.Seq, Hash: op.Hash()}
	return op
}

func (a *author) run(bodies ...[]byte) oplog.Run {
	ops := make([]oplog.Op, len(bodies))
	for i := range bodies {
		ops[i] = a.write(bodies[i])
	}
	return oplog.Sign(ops, a.sign)
}

func codeOf(err error) string {
	var fault *oplog.Error
	if errors.As(err, &fault) {
		return fault.Code
	}
	if err != nil {
		return err.Error()
	}
	return ""
}

func unpack(run oplog.Run) error {
	packed := run.Pack()
	_, err := packed.Unpack()
	return err
}

func TestLOG1_TheHeaderIsAnArrayOfFourteenFields(t *testing.T) {
	a := newAuthor(1)
	h := a.header()
	h.Wrap = &oplog.Wrap{Sample: oplog.SampleID{5}, Epoch: oplog.KeyID{6}, Box: make([]byte, 48)}
	op := oplog.New(h, []byte("sealed"))
	var fields []codec.Raw
	if err := codec.Unmarshal(op.Raw, &fields); err != nil || len(fields) != 14 {
		t.Fatalf("%d fields: %v", len(fields), err)
	}
	want := [][]byte{
		0: {1}, 3: {1}, 5: {0}, 7: {7}, 8: {0}, 10: {3},
		9: append([]byte{0x50, 9}, make([]byte, 15)...), 13: append([]byte{0x58, 32}, op.BodyHash[:]...),
		2: append([]byte{0x58, 32}, op.Device[:]...),
	}
	for i := range want {
		if want[i] != nil && !bytes.Equal(fields[i], want[i]) {
			t.Errorf("field %d is % x, not % x", i, fields[i], want[i])
		}
	}
}

// One header has one encoding: whatever else decodes to the same is refused.
func TestLOG1_AnotherEncodingOfTheSameHeaderIsRefused(t *testing.T) {
	op := newAuthor(1).write([]byte("sealed"))
	var fields []codec.Raw
	if err := codec.Unmarshal(op.Raw, &fields); err != nil {
		t.Fatal(err)
	}
	for i, other := range map[int]codec.Raw{
		3:  {0x18, 1},                        // seq in two bytes
		7:  {0x1b, 0, 0, 0, 0, 0, 0, 0, 7},   // time in nine
		11: {0xf6},                           // keys as null
		9:  {0x41, 9},                        // a document that is too short, to be filled up
		10: append([]byte{0x1a}, 0, 0, 0, 3), // part in five
	} {
		changed := append([]codec.Raw{}, fields...)
		changed[i] = other
		raw := []byte{0x8e}
		for _, f := range changed {
			raw = append(raw, f...)
		}
		if _, err := oplog.Parse(raw, nil); codeOf(err) != "malformed" {
			t.Errorf("field %d: %v", i, err)
		}
	}
	if _, err := oplog.Parse(append(op.Raw, 0), nil); codeOf(err) != "malformed" {
		t.Errorf("a byte too many: %v", err)
	}
	if _, err := oplog.Parse(op.Raw[:len(op.Raw)-1], nil); codeOf(err) != "malformed" {
		t.Errorf("a byte too few: %v", err)
	}
}

func TestLOG2_HashesAreAsWritten(t *testing.T) {
	op := newAuthor(1).write([]byte("sealed"))
	if op.BodyHash != joined("hushcup/1 body", []byte("sealed")) {
		t.Error("the hash of the body")
	}
	if op.Hash() != joined("hushcup/1 op", op.Raw) {
		t.Error("the hash of the op")
	}
	dropped, err := oplog.Parse(op.Raw, nil)
	if err != nil || dropped.Hash() != op.Hash() || dropped.Body != nil {
		t.Errorf("without its body: %v", err)
	}
	if _, err := oplog.Parse(op.Raw, []byte("other")); codeOf(err) != "malformed" {
		t.Errorf("another body: %v", err)
	}
	if _, err := oplog.Parse(op.Raw, []byte{}); codeOf(err) != "malformed" {
		t.Errorf("an empty body: %v", err)
	}
}

func TestLOG3_ABookIsNamedByItsCreate(t *testing.T) {
	a := newAuthor(1)
	h := oplog.Header{Device: a.id(), Seq: 1, Kind: oplog.Create}
	create := oplog.New(h, []byte{0xa0})
	if create.BookOf() != oplog.BookID(create.Hash()) {
		t.Error("create does not name its book")
	}
	if part := a.write(nil); part.BookOf() != a.book {
		t.Error("a part names another book")
	}
	named := h
	named.Book = oplog.BookID{1}
	second := h
	second.Seq, second.Prev = 2, oplog.Hash{1}
	homeless := a.header()
	homeless.Book = oplog.BookID{}
	refusedHeaders(t, map[string]oplog.Header{"create with a book": named, "create as a second op": second, "a part without a book": homeless})
}

func TestLOG4_LOG5_HeadersThatNobodyWrites(t *testing.T) {
	a := newAuthor(1)
	a.write(nil)
	change := func(f func(*oplog.Header)) oplog.Header {
		h := a.header()
		f(&h)
		return h
	}
	refusedHeaders(t, map[string]oplog.Header{
		"seq zero":             change(func(h *oplog.Header) { h.Seq, h.Prev = 0, oplog.Hash{} }),
		"first with a prev":    change(func(h *oplog.Header) { h.Seq = 1 }),
		"second without":       change(func(h *oplog.Header) { h.Prev = oplog.Hash{} }),
		"a part without a key": change(func(h *oplog.Header) { h.Keys = nil }),
		"five keys":            change(func(h *oplog.Header) { h.Keys = make([]oplog.KeyID, 5) }),
		"a wrap of 47 bytes":   change(func(h *oplog.Header) { h.Wrap = &oplog.Wrap{Box: make([]byte, 47)} }),
		"a wrap of 49 bytes":   change(func(h *oplog.Header) { h.Wrap = &oplog.Wrap{Box: make([]byte, 49)} }),
	})
}

func refusedHeaders(t *testing.T, headers map[string]oplog.Header) {
	t.Helper()
	for name, h := range headers {
		op := oplog.New(h, nil)
		if _, err := oplog.Parse(op.Raw, nil); codeOf(err) != "malformed" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestLOG6_Bounds(t *testing.T) {
	a := newAuthor(1)
	if _, err := oplog.Parse(make([]byte, oplog.MaxHeader+1), nil); codeOf(err) != "malformed" {
		t.Errorf("a long header: %v", err)
	}
	full := a.write(make([]byte, oplog.MaxBody))
	if _, err := oplog.Parse(full.Raw, full.Body); err != nil {
		t.Errorf("a full body: %v", err)
	}
	long := newAuthor(2).write(make([]byte, oplog.MaxBody+1))
	if _, err := oplog.Parse(long.Raw, long.Body); codeOf(err) != "malformed" {
		t.Errorf("a body that is too long: %v", err)
	}
	if err := unpack(newAuthor(3).run(make([][]byte, oplog.MaxRunOps)...)); err != nil {
		t.Errorf("a full run: %v", err)
	}
	if err := unpack(newAuthor(3).run(make([][]byte, oplog.MaxRunOps+1)...)); codeOf(err) != "malformed" {
		t.Errorf("a run of too many: %v", err)
	}
	body := make([]byte, 60<<10)
	if err := unpack(newAuthor(3).run(body, body, body)); err != nil {
		t.Errorf("a heavy run: %v", err)
	}
	if err := unpack(newAuthor(3).run(body, body, body, body)); codeOf(err) != "malformed" {
		t.Errorf("a run that is too heavy: %v", err)
	}
	if _, err := (&oplog.Packed{}).Unpack(); codeOf(err) != "malformed" {
		t.Errorf("an empty run: %v", err)
	}
}

func TestLOG7_ARunIsOneStretchOfOneChain(t *testing.T) {
	for name, c := range map[string]struct {
		code string
		ops  func(a *author) []oplog.Op
	}{
		"a gap": {"chain-gap", func(a *author) []oplog.Op {
			first := a.write(nil)
			a.write(nil)
			return []oplog.Op{first, a.write(nil)}
		}},
		"backwards":      {"chain-gap", func(a *author) []oplog.Op { first := a.write(nil); return []oplog.Op{a.write(nil), first} }},
		"twice the same": {"chain-gap", func(a *author) []oplog.Op { first := a.write(nil); return []oplog.Op{first, first} }},
		"another prev": {"chain-gap", func(a *author) []oplog.Op {
			first := a.write(nil)
			a.head.Hash[0]++
			return []oplog.Op{first, a.write(nil)}
		}},
		"another device": {"malformed", func(a *author) []oplog.Op {
			b := newAuthor(2)
			first := a.write(nil)
			b.head = a.head
			return []oplog.Op{first, b.write(nil)}
		}},
		"another book": {"wrong-book", func(a *author) []oplog.Op {
			first := a.write(nil)
			a.book[0]++
			return []oplog.Op{first, a.write(nil)}
		}},
	} {
		a := newAuthor(1)
		err := unpack(oplog.Sign(c.ops(a), a.sign))
		var fault *oplog.Error
		if codeOf(err) != c.code || !errors.As(err, &fault) || fault.Op != 1 {
			t.Errorf("%s: %v, to blame %+v", name, err, fault)
		}
	}
}

func TestLOG8_TheSignatureCoversTheWholeRun(t *testing.T) {
	a := newAuthor(1)
	a.write(nil)
	run := a.run([]byte("one"), []byte("two"), []byte("three"))
	first, last := run.Ops[0], run.Ops[2]
	span := binary.BigEndian.AppendUint64(binary.BigEndian.AppendUint64(nil, first.Seq), 3)
	device, hash := a.id(), last.Hash()
	message := joined("hushcup/1 run", a.book[:], device[:], span, hash[:])
	if !ed25519.Verify(device[:], message[:], run.Sig[:]) {
		t.Error("the signature is not over what the spec says")
	}
	for name, ops := range map[string][]oplog.Op{"cut at the end": run.Ops[:2], "cut at the front": run.Ops[1:]} {
		if err := unpack(oplog.Run{Ops: ops, Sig: run.Sig}); codeOf(err) != "bad-signature" {
			t.Errorf("%s: %v", name, err)
		}
	}
	for bit := range 8 {
		forged := run
		forged.Sig[bit*8] ^= 1 << bit
		if err := unpack(forged); codeOf(err) != "bad-signature" {
			t.Errorf("bit %d: %v", bit, err)
		}
	}
	packed := run.Pack()
	packed.Sig = packed.Sig[:63]
	if _, err := packed.Unpack(); codeOf(err) != "malformed" {
		t.Errorf("a short signature: %v", err)
	}
}

// Under the neutral point every message would verify with the same trivial signature.
func TestLOG8_AKeyOfLowOrderVerifiesNothing(t *testing.T) {
	a := newAuthor(1)
	h := a.header()
	h.Device = oplog.DeviceID{1}
	trivial := [64]byte{1} // R the neutral point, S zero
	if err := unpack(oplog.Run{Ops: []oplog.Op{oplog.New(h, nil)}, Sig: trivial}); codeOf(err) != "bad-signature" {
		t.Errorf("%v", err)
	}
}

func TestLOG9_TheOrderChain(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a := newAuthor(1)
		order := oplog.Order{}
		var chain [32]byte
		pos := uint64(0)
		for range rapid.IntRange(1, 4).Draw(r, "runs") {
			at := order.At + rapid.Int64Range(0, 1<<40).Draw(r, "later")
			run := a.run(make([][]byte, rapid.IntRange(1, 5).Draw(r, "ops"))...)
			entries, next := order.Entries(&run, at)
			for _, e := range entries {
				hash := e.Op.Hash()
				chain = joined("hushcup/1 chain", chain[:], hash[:], binary.BigEndian.AppendUint64(nil, uint64(at)))
				pos++
				if e.Order != (oplog.Order{Pos: pos, Chain: chain, At: at}) {
					r.Fatalf("position %d stands otherwise: %+v", pos, e.Order)
				}
			}
			if next != entries[len(entries)-1].Order {
				r.Fatal("the order after the run is not its last entry's")
			}
			order = next
		}
	})
}

func TestLOG10_TimeOnlyRises(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		last := oplog.Time(rapid.Uint64().Draw(r, "last"))
		now := rapid.Int64().Draw(r, "now")
		next := last.Next(now)
		switch {
		case next < last, next == last && last != ^oplog.Time(0):
			r.Fatalf("%d after %d", next, last)
		case next < oplog.TimeAt(now):
			r.Fatalf("%d lies before the wall clock", next)
		case next != oplog.TimeAt(now) && next-last > 1:
			r.Fatalf("%d leaps past %d without a reason", next, last)
		}
	})
}

func TestLOG10_TheEndsOfTime(t *testing.T) {
	end := ^oplog.Time(0)
	for _, c := range []struct {
		name      string
		got, want oplog.Time
	}{
		{"before 1970", oplog.TimeAt(-5), 0},
		{"past 48 bits", oplog.TimeAt(1 << 60), oplog.TimeAt(1<<48 - 1)},
		{"a full counter carries", (oplog.TimeAt(8) - 1).Next(3), oplog.TimeAt(8)},
		{"the end stays", end.Next(1 << 50), end},
		{"a clock that stands", oplog.TimeAt(8).Next(8), oplog.TimeAt(8) + 1},
		{"a clock that fell", oplog.TimeAt(8).Next(2), oplog.TimeAt(8) + 1},
		{"a clock that went on", oplog.TimeAt(8).Next(9), oplog.TimeAt(9)},
	} {
		if c.got != c.want {
			t.Errorf("%s: %x, not %x", c.name, c.got, c.want)
		}
	}
	if end.Millis() != 1<<48-1 {
		t.Errorf("the end is at %d", end.Millis())
	}
}

// Newer is a strict total order over (time, device).
func TestLOG11_OneOfTwoRevisionsIsNewer(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		time := rapid.Uint64Range(0, 2)
		device := rapid.Byte()
		a, b, c := revision(r, time, device), revision(r, time, device), revision(r, time, device)
		switch {
		case a == b && newer(a, b):
			r.Fatal("newer than itself")
		case a != b && newer(a, b) == newer(b, a):
			r.Fatal("both or neither")
		case newer(a, b) && newer(b, c) && !newer(a, c):
			r.Fatal("a circle")
		case a.time > b.time && !newer(a, b):
			r.Fatal("a device outweighs time")
		}
	})
}

type stamped struct {
	time   oplog.Time
	device oplog.DeviceID
}

func revision(r *rapid.T, time *rapid.Generator[uint64], device *rapid.Generator[byte]) stamped {
	return stamped{oplog.Time(time.Draw(r, "time")), oplog.DeviceID{device.Draw(r, "first"), device.Draw(r, "second")}}
}

func newer(a, b stamped) bool { return oplog.Newer(a.time, a.device, b.time, b.device) }

func TestLOG12_ADeviceChainHasNoForks(t *testing.T) {
	a := newAuthor(1)
	first := a.write(nil)
	head := a.head
	second := a.write(nil)
	third := a.write(nil)
	forked := newAuthor(1)
	forked.head = oplog.Head{Seq: 1, Hash: oplog.Hash{7}}
	other := forked.write(nil)
	for name, c := range map[string]struct {
		op   *oplog.Op
		code string
	}{
		"the next": {&second, ""}, "one before": {&first, "seq-taken"}, "one too far": {&third, "chain-gap"}, "a fork": {&other, "chain-gap"},
	} {
		if got := codeOf(head.Follows(c.op)); got != c.code {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// What is unpacked and packed again is the same bytes, dropped and empty bodies told apart.
func TestLOG13_BytesGoOnAsTheyCame(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a := newAuthor(rapid.Byte().Draw(r, "seed"))
		run := a.run(rapid.SliceOfN(rapid.SliceOfN(rapid.Byte(), 0, 300), 1, 10).Draw(r, "bodies")...)
		for i := range run.Ops {
			if run.Ops[i].Body == nil {
				run.Ops[i].Body = []byte{}
			}
			if rapid.Bool().Draw(r, "dropped") {
				run.Ops[i].Body = nil
			}
		}
		sent := codec.MustMarshal(run.Pack())
		var packed oplog.Packed
		if err := codec.Unmarshal(sent, &packed); err != nil {
			r.Fatal(err)
		}
		got, err := packed.Unpack()
		if err != nil {
			r.Fatal(err)
		}
		for i := range run.Ops {
			if (got.Ops[i].Body == nil) != (run.Ops[i].Body == nil) || got.Ops[i].Hash() != run.Ops[i].Hash() {
				r.Fatalf("op %d differs", i)
			}
		}
		if !bytes.Equal(codec.MustMarshal(got.Pack()), sent) {
			r.Fatal("packed again it differs")
		}
		if got.Size() != run.Size() {
			r.Fatal("sizes differ")
		}
	})
}

// Nothing of a run can be changed without being noticed: each single bit of it is tried.
func TestLOG8_LOG13_AnyFlippedBitIsRefused(t *testing.T) {
	run := newAuthor(1).run([]byte("one"), []byte("two"))
	sent := codec.MustMarshal(run.Pack())
	for bit := range len(sent) * 8 {
		changed := bytes.Clone(sent)
		changed[bit/8] ^= 1 << (bit % 8)
		var packed oplog.Packed
		if codec.Unmarshal(changed, &packed) != nil {
			continue
		}
		if _, err := packed.Unpack(); err == nil {
			t.Errorf("bit %d changed and nobody noticed", bit)
		}
	}
}

func TestLOG14_WhatABodyIsBoundTo(t *testing.T) {
	bind := func(book oplog.BookID, device oplog.DeviceID, kind oplog.Kind, doc oplog.DocID, part uint32, keys ...oplog.KeyID) string {
		return string(oplog.AssociatedData(book, device, kind, doc, part, keys))
	}
	base := bind(oplog.BookID{1}, oplog.DeviceID{2}, oplog.Part, oplog.DocID{3}, 4, oplog.KeyID{5})
	if base != bind(oplog.BookID{1}, oplog.DeviceID{2}, oplog.Part, oplog.DocID{3}, 4, oplog.KeyID{5}) {
		t.Error("the same gives otherwise")
	}
	for name, other := range map[string]string{
		"book":   bind(oplog.BookID{9}, oplog.DeviceID{2}, oplog.Part, oplog.DocID{3}, 4, oplog.KeyID{5}),
		"device": bind(oplog.BookID{1}, oplog.DeviceID{9}, oplog.Part, oplog.DocID{3}, 4, oplog.KeyID{5}),
		"kind":   bind(oplog.BookID{1}, oplog.DeviceID{2}, oplog.Sample, oplog.DocID{3}, 4, oplog.KeyID{5}),
		"doc":    bind(oplog.BookID{1}, oplog.DeviceID{2}, oplog.Part, oplog.DocID{9}, 4, oplog.KeyID{5}),
		"part":   bind(oplog.BookID{1}, oplog.DeviceID{2}, oplog.Part, oplog.DocID{3}, 9, oplog.KeyID{5}),
		"key":    bind(oplog.BookID{1}, oplog.DeviceID{2}, oplog.Part, oplog.DocID{3}, 4, oplog.KeyID{9}),
		"keys":   bind(oplog.BookID{1}, oplog.DeviceID{2}, oplog.Part, oplog.DocID{3}, 4, oplog.KeyID{5}, oplog.KeyID{5}),
	} {
		if other == base {
			t.Errorf("another %s is not told apart", name)
		}
	}
}

func TestLOG15_DerivedDocuments(t *testing.T) {
	sample, member := oplog.SampleID{1}, oplog.MemberID{2}
	guess := joined("hushcup/1 guess", sample[:], member[:])
	profile := joined("hushcup/1 profile", member[:])
	if oplog.GuessDoc(sample, member) != oplog.DocID(guess[:16]) || oplog.ProfileDoc(member) != oplog.DocID(profile[:16]) {
		t.Error("derived otherwise than the spec says")
	}
	if oplog.BookDoc != (oplog.DocID{}) || oplog.FlightDoc(oplog.FlightID{7}) != (oplog.DocID{7}) {
		t.Error("shared documents are named otherwise than the spec says")
	}
}

func TestLOG16_ANewerFormatIsToldFromNonsense(t *testing.T) {
	op := newAuthor(1).write(nil)
	raw := bytes.Clone(op.Raw)
	raw[1] = 2
	if _, err := oplog.Parse(raw, nil); codeOf(err) != "newer-format" {
		t.Errorf("%v", err)
	}
	for kind := range 256 {
		if known := oplog.Kind(kind).Known(); known != (kind <= int(oplog.Closing)) {
			t.Errorf("kind %d: known is %v", kind, known)
		}
		if oplog.Kind(kind).Control() == (kind == 0) {
			t.Errorf("kind %d: control is wrong", kind)
		}
	}
}
