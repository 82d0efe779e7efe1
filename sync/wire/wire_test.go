package wire_test

import (
	"bytes"
	"errors"
	"reflect"
	"strings"
	"testing"

	"hushcup/sync/oplog"
	"hushcup/sync/seal"
	"hushcup/sync/wire"
)

// every is one frame of each type, with every field set.
func every() []wire.Frame {
	device, book, body := oplog.DeviceID{1}, oplog.BookID{2}, []byte("sealed")
	packed := oplog.Packed{Ops: []oplog.PackedOp{{Raw: []byte("header"), Body: &body}, {Raw: []byte("header of a dropped body")}}, Sig: make([]byte, 64)}
	placed := []oplog.Placed{{First: 7, At: 1_900_000_000_000, Run: packed}}
	return []wire.Frame{
		&wire.Hello{Version: 1, Oldest: 1, Time: 1_900_000_000_000, Challenge: [32]byte{3}},
		&wire.Proof{Version: 1, Device: device, Host: "club.example", Sig: make([]byte, 64)},
		&wire.Welcome{Books: []wire.BookHead{{Book: book, Pos: 9, Restored: true}}},
		&wire.BooksAsk{},
		&wire.Subscribe{Book: book, Pos: 4, Chain: oplog.Hash{5}, Invite: &device, InviteSig: make([]byte, 64)},
		&wire.Unsubscribe{Book: book},
		&wire.Closed{Book: book, Code: "not-a-member", Text: "this device does not belong to the book"},
		&wire.Entries{Book: book, Runs: placed, Head: 8},
		&wire.Received{Book: book, Pos: 8},
		&wire.Push{Run: packed},
		&wire.Ack{Book: book, Device: device, Seq: 3, First: 7, At: 1_900_000_000_000},
		&wire.Refuse{Book: book, Device: device, First: 2, Seq: 3, Code: "sample-closed", Text: "the samples are closed already"},
		&wire.Slow{Book: book, After: 1000, Code: "slow-down"},
		&wire.Behind{Book: book, Pos: 8, Chain: oplog.Hash{6}},
		&wire.Offer{Book: book, Runs: placed},
		&wire.Bye{Code: "restarting", Text: "connect again"},
	}
}

func TestWIRE_1_FramesAreTypedArrays(t *testing.T) {
	for i, f := range every() {
		b := wire.Encode(f)
		// an array of two: the type, and a map with as many fields as are set
		if b[0] != 0x82 || b[1] != byte(i+1) || b[2]&0xe0 != 0xa0 {
			t.Errorf("%T begins with % x, not with an array of type %d and a map", f, b[:3], i+1)
		}
	}
}

func TestWIRE_3_EncodingIsDeterministicAndComplete(t *testing.T) {
	for _, f := range every() {
		b := wire.Encode(f)
		again, err := wire.Decode(b)
		if err != nil {
			t.Errorf("%T: %v", f, err)
			continue
		}
		if !reflect.DeepEqual(f, again) {
			t.Errorf("%T came back as %+v, not %+v", f, again, f)
		}
		if !bytes.Equal(wire.Encode(again), b) {
			t.Errorf("%T has two encodings", f)
		}
	}
}

func TestWIRE_2_WhatCannotBeReadIsNamed(t *testing.T) {
	whole := wire.Encode(&wire.Received{Book: oplog.BookID{2}, Pos: 8})
	head := append([]byte{0x82, 0x09, 0xa2, 0x01, 0x58, 0x20}, make([]byte, 32)...) // Received with its book
	join := func(parts ...[]byte) []byte { return bytes.Join(parts, nil) }
	for name, c := range map[string]struct {
		bytes []byte
		code  string
	}{
		"nothing":           {nil, "malformed-frame"},
		"no array":          {[]byte{0xa0}, "malformed-frame"},
		"too short":         {[]byte{0x81, 0x09}, "malformed-frame"},
		"too long":          {[]byte{0x83, 0x09, 0xa0, 0xa0}, "malformed-frame"},
		"trailing":          {join(whole, []byte{0}), "malformed-frame"},
		"too large":         {make([]byte, wire.MaxFrame+1), "frame-too-big"},
		"unknown type":      {[]byte{0x82, 0x18, 0xfa, 0xa0}, "unknown-frame"},
		"type zero":         {[]byte{0x82, 0x00, 0xa0}, "unknown-frame"},
		"unknown field":     {join(head, []byte{0x09, 0x01}), "malformed-frame"},
		"field twice":       {join([]byte{0x82, 0x09, 0xa2, 0x02, 0x01, 0x02, 0x01}), "malformed-frame"},
		"wrong type":        {[]byte{0x82, 0x09, 0xa1, 0x02, 0x61, 0x61}, "malformed-frame"},
		"a tag":             {[]byte{0x82, 0x09, 0xa1, 0x02, 0xc1, 0x01}, "malformed-frame"},
		"indefinite length": {[]byte{0x82, 0x09, 0xbf, 0x02, 0x01, 0xff}, "malformed-frame"},
		"a huge count":      {[]byte{0x9b, 0x7f, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff}, "malformed-frame"},
		"a huge string":     {[]byte{0x82, 0x09, 0xa1, 0x01, 0x5a, 0x7f, 0xff, 0xff, 0xff}, "malformed-frame"},
		"too deep":          {bytes.Repeat([]byte{0x81}, 1000), "malformed-frame"},
		"bad text":          {join([]byte{0x82, 0x10, 0xa2, 0x01, 0x61, 0xff, 0x02, 0x60}), "malformed-frame"},
	} {
		_, err := wire.Decode(c.bytes)
		var fault *wire.Error
		if !errors.As(err, &fault) || fault.Code != c.code {
			t.Errorf("%s: %v, want %s", name, err, c.code)
		}
	}
	for n := range whole {
		if _, err := wire.Decode(whole[:n]); err == nil {
			t.Errorf("a frame cut after %d bytes was read", n)
		}
	}
}

// A proof is for one connection, one host and one use; a visit is for one book as well.
func TestWIRE_4_ProofsAreBound(t *testing.T) {
	challenge, book := [32]byte{1}, oplog.BookID{2}
	want := seal.Sum("hushcup/1 session", challenge[:], []byte("club.example"))
	if got := wire.ProofMessage(challenge, "club.example", nil); !bytes.Equal(got, want[:]) {
		t.Errorf("the session's message is %x", got)
	}
	want = seal.Sum("hushcup/1 visit", challenge[:], []byte("club.example"), book[:])
	if got := wire.ProofMessage(challenge, "club.example", &book); !bytes.Equal(got, want[:]) {
		t.Errorf("the visit's message is %x", got)
	}
	seen := map[string]bool{}
	for _, c := range [][32]byte{{1}, {2}} {
		for _, host := range []string{"club.example", "club.example2"} {
			for _, b := range []*oplog.BookID{nil, {}, {2}} {
				seen[string(wire.ProofMessage(c, host, b))] = true
			}
		}
	}
	if len(seen) != 12 {
		t.Errorf("12 different occasions have %d messages", len(seen))
	}
}

// Whatever is read is written again in one way, and what has no meaning is refused with one of three codes.
func FuzzWIRE_2_Decode(f *testing.F) {
	for _, frame := range every() {
		f.Add(wire.Encode(frame))
	}
	f.Add([]byte{0x82, 0x18, 0xfa, 0xa0})
	f.Add(bytes.Repeat([]byte{0x81}, 40))
	f.Fuzz(func(t *testing.T, b []byte) {
		frame, err := wire.Decode(b)
		if err != nil {
			var fault *wire.Error
			if !errors.As(err, &fault) || !strings.Contains("frame-too-big malformed-frame unknown-frame", fault.Code) {
				t.Fatalf("an error without a code: %v", err)
			}
			return
		}
		again, err := wire.Decode(wire.Encode(frame))
		if err != nil || !bytes.Equal(wire.Encode(frame), wire.Encode(again)) {
			t.Fatalf("%+v comes back as %+v, %v", frame, again, err)
		}
	})
}
