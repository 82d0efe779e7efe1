package app

// ResultView is an opened sample: the group's guesses, the answer, and what each person saw.
type ResultView struct {
	Club      string          `cbor:"club"`
	Flight    string          `cbor:"flight"`
	Sample    string          `cbor:"sample"`
	Code      int             `cbor:"code"`
	Title     string          `cbor:"title"`
	State     string          `cbor:"state" ts:"ResultState"`
	Standing  string          `cbor:"standing" ts:"BookStatus"` // mine, in its club
	ClosedHow string          `cbor:"closedHow" ts:"ClosedHow"`
	Opened    int64           `cbor:"opened"` // server time
	Answer    *Answer         `cbor:"answer,omitempty"`
	Truth     []TruthNode     `cbor:"truth"` // the answer's nodes by name, finest, with what is not scored said
	Mine      *Factor         `cbor:"mine,omitempty"`
	Lines     []ResultLine    `cbor:"lines"`              // mine, level by level, the nearest success first
	Cost      *ResultCost     `cbor:"cost,omitempty"`     // the one cause that cost most
	First     *Factor         `cbor:"first,omitempty"`    // of my ten-second guess: what tasting added is Mine against it
	Table     []TableLine     `cbor:"table"`              // everybody, nearest first, then those without a score
	Together  *Factor         `cbor:"together,omitempty"` // all scored guesses pooled evenly
	Pool      []GuessQuestion `cbor:"pool"`               // the group's guesses: think is the even pool, said is how many named it as likeliest
	Brews     []TableBrew     `cbor:"brews"`              // everybody's brews and notes of this sample
	Noticed   []MemberNoticed `cbor:"noticed"`            // what everybody noticed of it, stage by stage
}

// TruthNode is what the answer states on a facet.
type TruthNode struct {
	Facet  string   `cbor:"facet" ts:"Facet"`
	Nodes  []string `cbor:"nodes"`
	Names  []string `cbor:"names"` // from the top of the tree down to the finest, for one node; else the nodes' names
	Source string   `cbor:"source" ts:"Source"`
	Scored bool     `cbor:"scored"`
}

// ResultLine is one level of one facet: given all above it, what I gave the truth against a blind guess.
type ResultLine struct {
	Facet  string `cbor:"facet" ts:"Facet"`
	Level  string `cbor:"level" ts:"Level | Facet"` // "area", "country", "region"; else the facet
	Node   string `cbor:"node"`
	Name   string `cbor:"name"`
	Right  bool   `cbor:"right"`  // I gave the truth more than a blind guess does
	Mine   int    `cbor:"mine"`   // my share of the truth at this level, outright
	Before int    `cbor:"before"` // the same before tasting
	Factor Factor `cbor:"factor"`
}

// ResultCost says what cost most: so much said on a node that was wrong, and how much less a more careful share would have
// cost.
type ResultCost struct {
	Facet  string `cbor:"facet" ts:"Facet"`
	Node   string `cbor:"node"`
	Name   string `cbor:"name"`
	Share  int    `cbor:"share"`
	Cost   Factor `cbor:"cost"`
	Better int    `cbor:"better"` // a share that would have cost less
	Less   Factor `cbor:"less"`   // what that would have cost
}

// TableLine is one person at the unsealing.
type TableLine struct {
	Member string    `cbor:"member"`
	Name   string    `cbor:"name"`
	Me     bool      `cbor:"me"`
	Status string    `cbor:"status" ts:"TableStatus"`
	Score  *Factor   `cbor:"score,omitempty"` // of those in before the close
	Top    []TopNode `cbor:"top"`             // what they thought likeliest, a facet each
}

// TopNode is somebody's likeliest node of a facet.
type TopNode struct {
	Facet string `cbor:"facet" ts:"Facet"`
	Node  string `cbor:"node"`
	Name  string `cbor:"name"`
	Share int    `cbor:"share"`
	Right bool   `cbor:"right"`
}

// TableBrew is somebody's brew of an opened sample.
type TableBrew struct {
	Member string     `cbor:"member"`
	Name   string     `cbor:"name"`
	Brew   BrewDigest `cbor:"brew"`
	Notes  string     `cbor:"notes"`
}

// PracticeView is what one has learned so far. With few cups it is concrete memory, not statistics.
type PracticeView struct {
	Opened  int            `cbor:"opened"` // samples that are open to me
	Scored  int            `cbor:"scored"`
	Results []PracticeLine `cbor:"results"`          // newest first
	Pair    *ConfusedPair  `cbor:"pair,omitempty"`   // one pair I confused
	First   *Factor        `cbor:"first,omitempty"`  // the mean over samples with both guesses: before brewing,
	Tasted  *Factor        `cbor:"tasted,omitempty"` // and after tasting
	Both    int            `cbor:"both"`             // how many samples those are
	Private bool           `cbor:"private"`          // the first six scored samples are mine alone
	Pending int            `cbor:"pending"`          // results that are still being read
}

// PracticeLine is one result.
type PracticeLine struct {
	Club   string    `cbor:"club"`
	Flight string    `cbor:"flight"`
	Sample string    `cbor:"sample"`
	Code   int       `cbor:"code"`
	Title  string    `cbor:"title"`
	Opened int64     `cbor:"opened"`
	Score  *Factor   `cbor:"score,omitempty"`
	Status string    `cbor:"status" ts:"TableStatus"`
	Was    []TopNode `cbor:"was"`   // the answer, a facet each
	Said   []TopNode `cbor:"said"`  // what I thought likeliest
	Notes  string    `cbor:"notes"` // of my last brew of it
}

// ConfusedPair is the country or process that I took for another, and the cups it happened with.
type ConfusedPair struct {
	Facet    string         `cbor:"facet" ts:"Facet"`
	Was      string         `cbor:"was"`
	WasName  string         `cbor:"wasName"`
	Said     string         `cbor:"said"`
	SaidName string         `cbor:"saidName"`
	Times    int            `cbor:"times"`
	Of       int            `cbor:"of"` // cups that were it
	Cups     []PracticeLine `cbor:"cups"`
}
