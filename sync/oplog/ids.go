package oplog

import (
	"hushcup/sync/seal"
	"hushcup/sync/spell"
)

// Hash is a SHA-256 over length-prefixed fields, as seal.Sum makes it.
type Hash [32]byte

// BookID names a book by the hash of its first op, `create`, whose own book field is zero.
type BookID [32]byte

// DeviceID is the Ed25519 public key of one installation.
type DeviceID [32]byte

// MemberID names a person within one book; it is random and means nothing outside.
type MemberID [16]byte

// DocID names a document within one book; it is random or derived and never speaks.
type DocID [16]byte

// SampleID names a sample within one club.
type SampleID [16]byte

// FlightID names a flight within one club.
type FlightID [16]byte

// KeyID is the fingerprint of a symmetric key: seal.Key.ID.
type KeyID [32]byte

func (h Hash) String() string     { return spell.Hex(h[:]) }
func (b BookID) String() string   { return spell.Hex(b[:]) }
func (d DeviceID) String() string { return spell.Hex(d[:]) }
func (m MemberID) String() string { return spell.Hex(m[:]) }
func (d DocID) String() string    { return spell.Hex(d[:]) }
func (s SampleID) String() string { return spell.Hex(s[:]) }
func (f FlightID) String() string { return spell.Hex(f[:]) }
func (k KeyID) String() string    { return spell.Hex(k[:]) }

// GuessDoc is the document that holds a member's guess about a sample: H(sample || member), cut to 16 bytes.
func GuessDoc(sample SampleID, member MemberID) DocID {
	sum := seal.Sum("hushcup/1 guess", sample[:], member[:])
	return DocID(sum[:16])
}

// ProfileDoc is the document in which a member says their own name to the club.
func ProfileDoc(member MemberID) DocID {
	sum := seal.Sum("hushcup/1 profile", member[:])
	return DocID(sum[:16])
}

// BookDoc is the shared document about the book itself (its name, its water, ...); only organisers write it.
var BookDoc = DocID{}

// FlightDoc is the shared document about a flight (its title, its notes); only organisers write it.
func FlightDoc(flight FlightID) DocID { return DocID(flight) }
