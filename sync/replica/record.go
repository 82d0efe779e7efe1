package replica

import (
	"encoding/binary"
	"strings"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/spell"
)

// What the phone stores. Every value is a CBOR array in the order of the fields.
//
//	own/phone                     phoneRecord: identity and notebook
//	own/book/BOOK                 bookRecord: that this phone has the book, and as whom
//	own/out/BOOK/DEVICE/ID        item: an op that is not frozen
//	own/run/BOOK/DEVICE           runRecord: the frozen run
//	own/refused/ID                refusedRecord
//	own/job/NAME                  jobRecord: a join, a pairing, a recovery, a move
//	own/unseal/BOOK/SAMPLE        an intention
//	log/BOOK/head                 headRecord: the cursor
//	log/BOOK/keys                 the epoch keys
//	log/BOOK/snap                 snapRecord: the folded state at a position
//	log/BOOK/tail/FIRST           a placed run after the snapshot, without sealed bodies
//	log/BOOK/chain/N              chain values and places in their runs of 1024 positions, the newest of them
//	cold/BOOK/chain/N             the same of those before; earlier versions kept them under log/
//	cold/BOOK/run/FIRST           a placed run up to the snapshot, without sealed bodies
//	cold/BOOK/body/POS            header and sealed body of one entry
//
// BOOK, DEVICE, SAMPLE are hex, ID, FIRST, POS and N sixteen hex digits.
const (
	keyPhone = "own/phone"
	keyProbe = "log/probe"
)

var zeroBook oplog.BookID

func number(n uint64) string {
	var b [8]byte
	binary.BigEndian.PutUint64(b[:], n)
	return spell.Hex(b[:])
}

func bookKey(b oplog.BookID) string { return "own/book/" + b.String() }
func outKey(b oplog.BookID, d oplog.DeviceID, id uint64) string {
	return "own/out/" + b.String() + "/" + d.String() + "/" + number(id)
}
func runKey(b oplog.BookID, d oplog.DeviceID) string {
	return "own/run/" + b.String() + "/" + d.String()
}
func refusedKey(id uint64) string { return "own/refused/" + number(id) }
func jobKey(name string) string   { return "own/job/" + name }
func unsealKey(b oplog.BookID, s oplog.SampleID) string {
	return "own/unseal/" + b.String() + "/" + s.String()
}
func headKey(b oplog.BookID) string { return "log/" + b.String() + "/head" }
func keysKey(b oplog.BookID) string { return "log/" + b.String() + "/keys" }
func snapKey(b oplog.BookID) string { return "log/" + b.String() + "/snap" }
func tailKey(b oplog.BookID, first uint64) string {
	return "log/" + b.String() + "/tail/" + number(first)
}
func chainKey(b oplog.BookID, n uint64) string { return "log/" + b.String() + "/chain/" + number(n) }
func coldChainKey(b oplog.BookID, n uint64) string {
	return "cold/" + b.String() + "/chain/" + number(n)
}
func coldRunKey(b oplog.BookID, first uint64) string {
	return "cold/" + b.String() + "/run/" + number(first)
}
func coldBodyKey(b oplog.BookID, pos uint64) string {
	return "cold/" + b.String() + "/body/" + number(pos)
}

type phoneRecord struct {
	_        struct{} `cbor:",toarray"`
	Sign     [32]byte // seeds of seal.Identity
	Box      [32]byte
	Notebook oplog.BookID
	Host     string
	Device   oplog.DeviceID // the public half of Sign: deriving it would take as long as the rest of a start
}

type bookRecord struct {
	_      struct{} `cbor:",toarray"`
	Kind   club.BookKind
	Member oplog.MemberID
	Host   string
	Former bool
}

type runRecord struct {
	_     struct{} `cbor:",toarray"`
	Items []item   // without bodies, which stand in Run
	Run   oplog.Packed
}

type refusedRecord struct {
	_    struct{} `cbor:",toarray"`
	Book oplog.BookID
	Item item
	Code string
	Text string
}

type headRecord struct {
	_       struct{} `cbor:",toarray"`
	Order   oplog.Order
	Removed bool
	Code    string // why folding stopped, "" when it did not
	Text    string
}

type snapRecord struct {
	_     struct{} `cbor:",toarray"`
	State []byte
	Docs  []byte
}

type coldBody struct {
	_    struct{} `cbor:",toarray"`
	Raw  []byte
	Body []byte
}

// parts cuts a key at its slashes.
func keyParts(key string) []string { return strings.Split(key, "/") }

func parseID[T ~[32]byte | ~[16]byte](text string) (T, bool) {
	var id T
	b, ok := spell.Unhex(text)
	if !ok || len(b) != len(id) {
		return id, false
	}
	switch p := any(&id).(type) {
	case *oplog.BookID:
		copy(p[:], b)
	case *oplog.DeviceID:
		copy(p[:], b)
	case *oplog.SampleID:
		copy(p[:], b)
	default:
		return id, false
	}
	return id, true
}

func parseNumber(text string) (uint64, bool) {
	if len(text) != 16 {
		return 0, false
	}
	b, ok := spell.Unhex(text)
	if !ok {
		return 0, false
	}
	return binary.BigEndian.Uint64(b), true
}

func decodeRecord[T any](value []byte) (T, error) {
	var v T
	err := codec.Unmarshal(value, &v)
	return v, err
}
