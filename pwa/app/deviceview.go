package app

// DevicesView is this device, one's others, and the way back after losing them.
type DevicesView struct {
	Devices  []Device       `cbor:"devices"` // this one first
	Recovery Recovery       `cbor:"recovery"`
	Pairing  *DevicePairing `cbor:"pairing,omitempty"` // an open pairing
	Joining  []Joining      `cbor:"joining"`
}

// Device is one installation of one's own.
type Device struct {
	Device  string `cbor:"device"`
	Name    string `cbor:"name"`
	This    bool   `cbor:"this"`
	Clubs   int    `cbor:"clubs"`   // that it is in
	Missing int    `cbor:"missing"` // clubs that it is still to come into
}

// Recovery is where the recovery code stands.
type Recovery struct {
	Made      bool  `cbor:"made"`
	At        int64 `cbor:"at"` // by the phone that made it
	Confirmed bool  `cbor:"confirmed"`
}

// RefusedView lists what could not be shared. It is safe on this phone.
type RefusedView struct {
	Refused []Refused `cbor:"refused"`
}

// Refused is one thing that the server refused. What says which thing it is, Code why.
type Refused struct {
	ID         string `cbor:"id"`
	Book       string `cbor:"book"`
	Name       string `cbor:"name"` // of the club, empty for the notebook
	What       string `cbor:"what" ts:"RefusedWhat"`
	Code       string `cbor:"code"`
	Text       string `cbor:"text"`
	Retry      bool   `cbor:"retry"`  // it can be tried again
	Sample     string `cbor:"sample"` // that it is about
	SampleCode int    `cbor:"sampleCode"`
}

// IntentionsView lists what waits for something to be ordered.
type IntentionsView struct {
	Unseals []UnsealIntention `cbor:"unseals"`
	Joining []Joining         `cbor:"joining"`
}

// UnsealIntention is a sample that this phone opens as soon as it has verified the close.
type UnsealIntention struct {
	Club   string `cbor:"club"`
	Flight string `cbor:"flight"`
	Sample string `cbor:"sample"`
	Code   int    `cbor:"code"`
}

// AtlasView is the vocabulary: what an answer, a narrowing or a guess is made of. It changes only with the app.
type AtlasView struct {
	Facets    []AtlasFacet `cbor:"facets"`
	Allergens []string     `cbor:"allergens" ts:"Allergen"`
	Additives []string     `cbor:"additives" ts:"Additive"`
	Sources   []string     `cbor:"sources" ts:"Source"`
	Methods   []string     `cbor:"methods" ts:"Method"`
	Marks     []string     `cbor:"marks" ts:"Mark"`
}

// AtlasFacet is one facet's tree.
type AtlasFacet struct {
	Facet   string      `cbor:"facet" ts:"Facet"`
	Ordered bool        `cbor:"ordered"`
	Nodes   []AtlasNode `cbor:"nodes"` // depth first
}

// AtlasNode is a node of a tree.
type AtlasNode struct {
	Node   string   `cbor:"node"`
	Name   string   `cbor:"name"`
	Also   []string `cbor:"also"` // other names, for searching
	Parent string   `cbor:"parent"`
	Depth  int      `cbor:"depth"`
	Leaf   bool     `cbor:"leaf"`
}
