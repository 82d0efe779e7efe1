package app

// Said is what a person said about one node: a share of all, in 1/10,000.
type Said struct {
	Node  string `cbor:"node"`
	Share int    `cbor:"share"`
}

// SaidFacet is what was said on one facet; nothing said leaves it at what the rest implies.
type SaidFacet struct {
	Facet string `cbor:"facet"`
	Said  []Said `cbor:"said"`
}

// GuessPreview asks what one would think if one said this. Nothing is kept.
type GuessPreview struct {
	Club   string      `cbor:"club"`
	Sample string      `cbor:"sample"`
	Facets []SaidFacet `cbor:"facets"`
}

// GuessSave keeps a guess. First is the ten-second guess before brewing: it is written once and never scored.
type GuessSave struct {
	Club   string      `cbor:"club"`
	Sample string      `cbor:"sample"`
	First  bool        `cbor:"first"`
	Facets []SaidFacet `cbor:"facets"`
}
