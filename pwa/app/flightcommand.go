package app

// Narrowing says in the open that the samples of a flight lie within some nodes of a facet.
type Narrowing struct {
	Facet string   `cbor:"facet"`
	Nodes []string `cbor:"nodes"`
}

// FlightCreate opens a flight. Organisers only. The prior is made and declared now: from the atlas, what the club has
// opened so far, and the narrowing.
type FlightCreate struct {
	Club      string      `cbor:"club"`
	Title     string      `cbor:"title"` // 1 to 60 letters
	Note      string      `cbor:"note"`
	Closes    int64       `cbor:"closes"`    // server time; 0: closed by hand
	Questions []string    `cbor:"questions"` // facets asked first, in order; empty: process, origin, roast
	Narrowing []Narrowing `cbor:"narrowing"`
}

// FlightCreated names the new flight.
type FlightCreated struct {
	Flight string `cbor:"flight"`
}

// FlightEdit changes a flight's words. Organisers only.
type FlightEdit struct {
	Club   string `cbor:"club"`
	Flight string `cbor:"flight"`
	Title  string `cbor:"title"`
	Note   string `cbor:"note"`
}

// FlightClosing moves a closing time that is not reached. Organisers only.
type FlightClosing struct {
	Club   string `cbor:"club"`
	Flight string `cbor:"flight"`
	Closes int64  `cbor:"closes"` // server time; 0: by hand
}

// FlightClose closes samples by hand: guesses that are ordered later do not score.
type FlightClose struct {
	Club    string   `cbor:"club"`
	Flight  string   `cbor:"flight"`
	Samples []string `cbor:"samples"` // empty: all that are open
}

// Declared is what everybody may know before opening the bag. A choice must be made; "nothing" is a
// statement, and goes with empty lists.
type Declared struct {
	Choice    string   `cbor:"choice" ts:"Choice"`
	Allergens []string `cbor:"allergens" ts:"Allergen"`
	Additives []string `cbor:"additives" ts:"Additive"`
	Note      string   `cbor:"note"`
}

// Known is one thing an answer states, and how it is known: from the label, told by the roaster or the grower, measured, or by
// hearsay (kept and shown, not scored).
type Known struct {
	Nodes  []string `cbor:"nodes"` // one, or several when the lot is several (then any of them is right)
	Source string   `cbor:"source" ts:"Source"`
}

// Answer is what a sample is. What is not stated is null, and not scored.
type Answer struct {
	Origin     *Known `cbor:"origin,omitempty"` // country or region
	Process    *Known `cbor:"process,omitempty"`
	Variety    *Known `cbor:"variety,omitempty"`  // a set
	Decaf      *Known `cbor:"decaf,omitempty"`    // the node "decaf.none" or a method
	Roast      *Known `cbor:"roast,omitempty"`    // the roaster's word
	Altitude   *Known `cbor:"altitude,omitempty"` // a band; filled from altitudeLow and altitudeHigh when those are given
	RoastMeter string `cbor:"roastMeter"`         // a meter's number as typed, with its scale
	AltLow     int    `cbor:"altitudeLow"`        // m, 0 when not stated
	AltHigh    int    `cbor:"altitudeHigh"`       // m
	Lot        string `cbor:"lot"`                // the lot's or coffee's name
	Producer   string `cbor:"producer"`
	Roasted    string `cbor:"roasted"` // date as typed
	Note       string `cbor:"note"`
}

// SampleSeal seals a sample; its author is its keeper. The blind code is drawn.
type SampleSeal struct {
	Club     string   `cbor:"club"`
	Flight   string   `cbor:"flight"`
	Grams    float64  `cbor:"grams"` // handed to each home
	Declared Declared `cbor:"declared"`
	Holders  []string `cbor:"holders"` // members beside oneself who may open it after the close, and are not scored
	Answer   Answer   `cbor:"answer"`
	Sure     []string `cbor:"sure"` // fields whose surprising value was confirmed
}

// SampleSealed names the new sample and its code.
type SampleSealed struct {
	Sample string `cbor:"sample"`
	Code   int    `cbor:"code"`
}

// SampleUnseal publishes the keys of samples that one keeps or holds. What is not closed yet waits as an intention until the
// close is ordered (a keeper's own is closed by it, when Close is set).
type SampleUnseal struct {
	Club    string   `cbor:"club"`
	Samples []string `cbor:"samples"`
	Close   bool     `cbor:"close"` // also close what is open
}

// SampleKeep keeps an opened sample closed for oneself, or (Keep false) looks at it now; a screen that shows a result says so
// too, and tonight lists the sample no more.
type SampleKeep struct {
	Club   string `cbor:"club"`
	Sample string `cbor:"sample"`
	Keep   bool   `cbor:"keep"`
}
