// Package handmade is a phone put together by hand, op by op and frame by
// frame, from sync's own formats and nothing of its replica: for load, where
// every run is made before the clock starts, and for everything that an honest
// phone would never send.
package handmade

import (
	"crypto/rand"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// Device is one installation's secrets.
type Device struct {
	seal.Identity
	ID oplog.DeviceID
}

// NewDevice draws a device.
func NewDevice() Device {
	identity, err := seal.NewIdentity(rand.Reader)
	if err != nil {
		panic(err) // the system has no randomness
	}
	return Device{identity, identity.Public().Sign}
}

// Book is a book as its first device writes it.
type Book struct {
	Device Device
	Member oplog.MemberID
	ID     oplog.BookID
	Epoch  seal.Key

	head  oplog.Head
	clock oplog.Time
}

// NewBook makes a book and the run that creates it. The time is the author's
// clock in milliseconds.
func NewBook(kind club.BookKind, device Device, now int64) (*Book, oplog.Run) {
	b := &Book{Device: device, Epoch: newKey()}
	draw(b.Member[:])
	body := club.CreateBody{Rules: club.RulesVersion, Kind: kind, Member: b.Member,
		Devices: []club.Enrolment{{Sign: device.ID, Box: device.Public().Box}}}
	draw(body.Nonce[:])
	// The book's id is the hash of this very op, so nothing inside can be bound
	// to it: the epoch is wrapped for the zero book, as its own field says.
	body.Epoch = club.Grant{ID: oplog.KeyID(b.Epoch.ID()), Wraps: []club.Wrapped{b.wrap(device)}}
	op := b.Op(now, oplog.Create, oplog.DocID{}, 0, nil, codec.MustMarshal(body))
	b.ID = oplog.BookID(op.Hash())
	return b, b.Sign(op)
}

func (b *Book) wrap(device Device) club.Wrapped {
	info := seal.Info(seal.PurposeEpoch, b.ID, idOf(b.Epoch), b.Member, b.Epoch.ID())
	wrapped, err := seal.Wrap(rand.Reader, device.Public().Box, info, b.Epoch)
	if err != nil {
		panic(err)
	}
	return club.Wrapped{Device: device.ID, Enc: wrapped.Enc, Box: wrapped.Box[:]}
}

// Parts makes a run of n parts, each a document of its own, with so many bytes
// of plaintext sealed under the epoch.
func (b *Book) Parts(now int64, n, size int) oplog.Run {
	ops := make([]oplog.Op, n)
	for i := range ops {
		ops[i] = b.Part(now, size)
	}
	return b.Sign(ops...)
}

// Part makes one sealed part of a new document.
func (b *Book) Part(now int64, size int) oplog.Op {
	var doc oplog.DocID
	draw(doc[:])
	plain := make([]byte, size)
	draw(plain)
	keys := []oplog.KeyID{oplog.KeyID(b.Epoch.ID())}
	ad := oplog.AssociatedData(b.ID, b.Device.ID, oplog.Part, doc, 1, keys)
	body, err := seal.SealUnder(rand.Reader, []seal.Key{b.Epoch}, ad, plain, seal.Powers)
	if err != nil {
		panic(err)
	}
	return b.Op(now, oplog.Part, doc, 1, keys, body)
}

// Op makes the next op of the device's chain.
func (b *Book) Op(now int64, kind oplog.Kind, doc oplog.DocID, part uint32, keys []oplog.KeyID, body []byte) oplog.Op {
	b.clock = b.clock.Next(now)
	op := oplog.New(oplog.Header{
		Version: oplog.Version, Book: b.ID, Device: b.Device.ID, Seq: b.head.Seq + 1, Prev: b.head.Hash,
		Time: b.clock, Kind: kind, Doc: doc, Part: part, Keys: keys,
	}, body)
	b.head = oplog.Head{Seq: op.Seq, Hash: op.Hash()}
	return op
}

// Head is where the device's chain stands.
func (b *Book) Head() oplog.Head { return b.head }

// Rewind takes the chain back, so that another history can be told after it.
func (b *Book) Rewind(head oplog.Head) { b.head = head }

// Sign makes a run of ops.
func (b *Book) Sign(ops ...oplog.Op) oplog.Run { return oplog.Sign(ops, b.Device.Sign) }

func newKey() seal.Key {
	key, err := seal.NewKey(rand.Reader)
	if err != nil {
		panic(err)
	}
	return key
}

func idOf(key seal.Key) []byte { id := key.ID(); return id[:] }

func draw(bytes []byte) {
	if _, err := rand.Read(bytes); err != nil {
		panic(err)
	}
}
