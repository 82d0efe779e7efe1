package app

// GuessParams names a sample, and which of the two guesses.
type GuessParams struct {
	Club   string `cbor:"club"`
	Sample string `cbor:"sample"`
	First  bool   `cbor:"first"`
}

// GuessView is the guess as it is kept, with what follows from it. guess.preview gives the same for what is not kept yet.
type GuessView struct {
	Club      string          `cbor:"club"`
	Sample    string          `cbor:"sample"`
	Code      int             `cbor:"code"`
	State     string          `cbor:"state" ts:"SampleState"`
	Closes    int64           `cbor:"closes"`
	Guess     GuessState      `cbor:"guess"`
	Pinned    string          `cbor:"pinned" ts:"Pinned"`
	Questions []GuessQuestion `cbor:"questions"` // the flight's first, then the others
	Facets    []SaidFacet     `cbor:"facets"`    // what was said, as guess.save takes it
	May       bool            `cbor:"may"`       // it can (still) be written, if only late
}

// GuessQuestion is one facet with its tree.
type GuessQuestion struct {
	Facet   string      `cbor:"facet" ts:"Facet"`
	Asked   bool        `cbor:"asked"` // one of the flight's questions
	Ordered bool        `cbor:"ordered"`
	Nodes   []GuessNode `cbor:"nodes"`             // depth first, parents before children
	Preview *Preview    `cbor:"preview,omitempty"` // null while the facet is as it was before tasting
}

// GuessNode is one candidate. Shares are 1/10,000. What the narrowing rules out is left out.
type GuessNode struct {
	Node   string `cbor:"node"`
	Name   string `cbor:"name"`
	Parent string `cbor:"parent"` // empty at the top
	Depth  int    `cbor:"depth"`  // from 0
	Leaf   bool   `cbor:"leaf"`
	Before int    `cbor:"before"` // likely before tasting
	Think  int    `cbor:"think"`  // what I think, all that I said taken together
	Said   int    `cbor:"said"`   // what I said on this very node, -1 for nothing
}

// Preview is what a guess would bring on one facet: when my likeliest node is right, when it is only near (its siblings),
// and when it is far off (the worst).
type Preview struct {
	Node string `cbor:"node"`
	Hit  Factor `cbor:"hit"`
	Near Factor `cbor:"near"`
	Far  Factor `cbor:"far"`
}

// Factor is a score against a blind guess: up "x Times", else "/ Times"; Times is at least 1. Bits is the same in 1/1,000 bit.
type Factor struct {
	Up    bool    `cbor:"up"`
	Times float64 `cbor:"times"` // two or three digits
	Bits  int     `cbor:"bits"`
}
