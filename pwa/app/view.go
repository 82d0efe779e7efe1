package app

// Names of the views. Each has a struct of parameters (Nothing for most) and one of its value below.
const (
	ViewSync       = "sync"
	ViewNotebook   = "notebook"
	ViewTonight    = "tonight"
	ViewBench      = "bench"
	ViewBrew       = "brew"
	ViewBrews      = "brews"
	ViewClubs      = "clubs"
	ViewClub       = "club"
	ViewFlight     = "flight"
	ViewSample     = "sample"
	ViewGuess      = "guess"
	ViewResult     = "result"
	ViewPractice   = "practice"
	ViewDevices    = "devices"
	ViewRefused    = "refused"
	ViewIntentions = "intentions"
	ViewAtlas      = "atlas"
)

// SyncView is the mark at the top of every screen, and what stands behind it.
type SyncView struct {
	Mark      string `cbor:"mark" ts:"SyncMark"`
	Waiting   int    `cbor:"waiting"`  // things on this device only
	OnItsWay  int    `cbor:"onItsWay"` // sent, not answered
	Refused   int    `cbor:"refused"`  // could not be shared: see the refused view
	Connected bool   `cbor:"connected"`
	Host      string `cbor:"host"`
	Offset    int64  `cbor:"offset"`    // server's clock minus this phone's, ms
	OffsetSet bool   `cbor:"offsetSet"` // a server has told its time since the start
	Problem   string `cbor:"problem" ts:"Problem"`
	Storage   string `cbor:"storage" ts:"\"ok\" | \"disk-full\" | \"storage-failed\""`
	Persisted bool   `cbor:"persisted"` // the browser promised not to delete by itself
	Installed bool   `cbor:"installed"`
}

// NotebookView is who one is, and what was read.
type NotebookView struct {
	Ready bool     `cbor:"ready"` // a notebook exists
	Book  string   `cbor:"book"`
	Name  string   `cbor:"name"`
	Seen  []string `cbor:"seen"` // cautions that were read
}

// TonightView is the first screen: one thing that matters most, and what is running or cooling.
type TonightView struct {
	Sample  *TonightSample `cbor:"sample,omitempty"`
	More    int            `cbor:"more"`              // further samples that wait for me
	Opened  []OpenedSample `cbor:"opened"`            // opened, and not yet looked at; newest first
	Going   []Going        `cbor:"going"`             // running brews and cooling cups, oldest first
	Firsts  []string       `cbor:"firsts" ts:"First"` // a newcomer's first things still to do, in order; empty when none
	Joining []Joining      `cbor:"joining"`
	Clubs   int            `cbor:"clubs"`
	Brews   int            `cbor:"brews"`
}

// TonightSample is the sample on the table. Next is the one thing to do with it.
type TonightSample struct {
	Club       string     `cbor:"club"`
	Flight     string     `cbor:"flight"`
	Sample     string     `cbor:"sample"`
	Code       int        `cbor:"code"`
	ClubName   string     `cbor:"clubName"`
	Title      string     `cbor:"title"` // of the flight
	Place      int        `cbor:"place"` // the how-manieth of the flight, from 1
	Of         int        `cbor:"of"`
	Grams      float64    `cbor:"grams"` // handed out
	Left       float64    `cbor:"left"`  // after my own brews
	Closes     int64      `cbor:"closes"`
	Declared   Declared   `cbor:"declared"`
	DeclaredOK bool       `cbor:"declaredReadable"`
	Next       string     `cbor:"next" ts:"Next"`
	Guess      GuessState `cbor:"guess"`
}

// OpenedSample is a sample whose answer is there to be looked at. Asks: I had not guessed, so it asks before it shows.
type OpenedSample struct {
	Club   string `cbor:"club"`
	Flight string `cbor:"flight"`
	Sample string `cbor:"sample"`
	Code   int    `cbor:"code"`
	Title  string `cbor:"title"`
	Asks   bool   `cbor:"asks"`
}

// Going is a running brew or a cooling cup.
type Going struct {
	Book   string `cbor:"book"`
	Brew   string `cbor:"brew"`
	What   string `cbor:"what" ts:"\"brewing\" | \"cooling\""`
	Code   int    `cbor:"code"` // of its sample, 0 for one's own coffee
	Coffee string `cbor:"coffee"`
	Began  int64  `cbor:"began"` // by this phone's clock: the start of the brew, or when it was done
}

// BenchView is the Bench as it opens: the last setup to begin from, what is going, and the newest brews.
type BenchView struct {
	Last    BrewSetup      `cbor:"last"`
	Going   []Going        `cbor:"going"`
	Recent  []BrewDigest   `cbor:"recent"`  // newest first, at most 12
	Brews   int            `cbor:"brews"`   // all there are
	Samples []SampleChoice `cbor:"samples"` // samples that could be brewed now
}

// SampleChoice is a sample one has, to pick for a brew.
type SampleChoice struct {
	Club     string   `cbor:"club"`
	Sample   string   `cbor:"sample"`
	Code     int      `cbor:"code"`
	Title    string   `cbor:"title"`
	Left     float64  `cbor:"left"`
	Declared Declared `cbor:"declared"`
}

// BrewDigest is a brew in a list.
type BrewDigest struct {
	Book     string  `cbor:"book"`
	Brew     string  `cbor:"brew"`
	Sample   string  `cbor:"sample"` // empty for one's own coffee
	Code     int     `cbor:"code"`
	Coffee   string  `cbor:"coffee"`
	Began    int64   `cbor:"began"` // by this phone's clock; when it was planned, until it started
	State    string  `cbor:"state" ts:"BrewState"`
	Method   string  `cbor:"method" ts:"Method"`
	Dose     float64 `cbor:"dose"`
	Water    float64 `cbor:"water"`
	Grind    string  `cbor:"grind"`
	Drawdown float64 `cbor:"drawdown"` // s
	TDS      float64 `cbor:"tds"`      // percent
}

// BrewParams names a brew.
type BrewParams struct {
	Book string `cbor:"book"`
	Brew string `cbor:"brew"`
}

// BrewView is one brew.
type BrewView struct {
	Book     string        `cbor:"book"`
	Brew     string        `cbor:"brew"`
	Sample   *SampleChoice `cbor:"sample,omitempty"`
	State    string        `cbor:"state" ts:"BrewState"`
	Setup    BrewSetup     `cbor:"setup"`
	Began    int64         `cbor:"began"` // by this phone's clock, put right when that jumped; 0 before the start
	Marks    []BrewMarked  `cbor:"marks"` // in order
	Outcome  BrewOutcome   `cbor:"outcome"`
	Pours    []Pour        `cbor:"pours"`           // as they count: corrected, or as marked
	Drawdown float64       `cbor:"drawdown"`        // s, as it counts; 0 unknown
	Absent   bool          `cbor:"absent"`          // the phone slept or was started anew while it ran: ask what happened
	Counts   bool          `cbor:"counts"`          // false: stays out of repeatability and fits
	Yield    *Interval     `cbor:"yield,omitempty"` // EY in percent, with what the instruments leave open
	Share    string        `cbor:"share" ts:"Share"`
	Edited   int64         `cbor:"edited"` // phone time of the last change
}

// BrewMarked is something that happened during a brew.
type BrewMarked struct {
	Mark  string  `cbor:"mark" ts:"Mark"`
	At    float64 `cbor:"at"` // s from the start
	Grams float64 `cbor:"grams"`
}

// Interval is a number and how far it may be off: two standard uncertainties each way.
type Interval struct {
	Value float64 `cbor:"value"`
	Low   float64 `cbor:"low"`
	High  float64 `cbor:"high"`
}

// BrewsParams asks for a page of the log: the Limit newest, or those after a page's More.
type BrewsParams struct {
	After string `cbor:"after,omitempty"`
	Limit int    `cbor:"limit"` // 1 to 200
}

// BrewsView is a page of the log, newest first. More is what to ask the next page after, empty at the end.
type BrewsView struct {
	Brews []BrewDigest `cbor:"brews"`
	All   int          `cbor:"all"`
	More  string       `cbor:"more"`
}

// ClubsView lists the clubs one is in or was in, and what is under way.
type ClubsView struct {
	Clubs   []ClubLine `cbor:"clubs"`
	Joining []Joining  `cbor:"joining"`
}

// ClubLine is a club in the list.
type ClubLine struct {
	Club    string `cbor:"club"`
	Name    string `cbor:"name"` // empty until it can be read
	Role    string `cbor:"role" ts:"Role"`
	Members int    `cbor:"members"`
	Host    string `cbor:"host"`
	Status  string `cbor:"status" ts:"BookStatus"`
	Waiting int    `cbor:"waitingSamples"` // samples that wait for me
}

// Joining is a coming in that is under way. Code says why it stands still, empty when it does not.
type Joining struct {
	Joining string `cbor:"joining"`
	Purpose string `cbor:"purpose" ts:"\"join\" | \"device\" | \"recovery\""`
	Host    string `cbor:"host"`
	State   string `cbor:"state" ts:"\"waiting\" | \"reading\" | \"entering\" | \"in\" | \"failed\""`
	Code    string `cbor:"code"`
}

// ClubParams names a club.
type ClubParams struct {
	Club string `cbor:"club"`
}

// ClubView is a club.
type ClubView struct {
	Club    string       `cbor:"club"`
	Name    string       `cbor:"name"`
	Host    string       `cbor:"host"`
	Status  string       `cbor:"status" ts:"BookStatus"`
	Me      string       `cbor:"me"` // my member id
	Role    string       `cbor:"role" ts:"Role"`
	May     []string     `cbor:"may" ts:"ClubMay"`
	Members []Member     `cbor:"members"` // in the order in which they came
	Invites []InviteLine `cbor:"invites"`
	Flights []FlightLine `cbor:"flights"` // newest first
}

// Member is a person in a club.
type Member struct {
	Member  string `cbor:"member"`
	Name    string `cbor:"name"` // empty until it can be read
	Role    string `cbor:"role" ts:"Role"`
	Devices int    `cbor:"devices"` // without the recovery device
	Me      bool   `cbor:"me"`
	Gone    bool   `cbor:"gone"`
}

// InviteLine is an invitation. Link and Text are there on the phone that made it.
type InviteLine struct {
	Invite  string `cbor:"invite"`
	Role    string `cbor:"role" ts:"Role"`
	Uses    int    `cbor:"uses"`
	Used    int    `cbor:"used"`
	Expires int64  `cbor:"expires"`
	Open    bool   `cbor:"open"`
	Link    string `cbor:"link"`
	Text    string `cbor:"text"`
	Share   string `cbor:"share" ts:"Share"` // it works from "shared" on
}

// FlightLine is a flight in a list.
type FlightLine struct {
	Flight  string `cbor:"flight"`
	Title   string `cbor:"title"`
	Closes  int64  `cbor:"closes"`
	State   string `cbor:"state" ts:"FlightState"`
	Samples int    `cbor:"samples"`
	Guessed int    `cbor:"guessed"` // samples on which I have guessed
	Opened  int    `cbor:"opened"`
	Share   string `cbor:"share" ts:"Share"`
}

// FlightParams names a flight.
type FlightParams struct {
	Club   string `cbor:"club"`
	Flight string `cbor:"flight"`
}

// FlightView is a flight: its samples, and who has guessed, not what.
type FlightView struct {
	Club      string       `cbor:"club"`
	ClubName  string       `cbor:"clubName"`
	Flight    string       `cbor:"flight"`
	Title     string       `cbor:"title"`
	Note      string       `cbor:"note"`
	Closes    int64        `cbor:"closes"`
	State     string       `cbor:"state" ts:"FlightState"`
	Questions []string     `cbor:"questions" ts:"Facet"`
	Narrowing []Narrowing  `cbor:"narrowing"`
	Pinned    string       `cbor:"pinned" ts:"Pinned"` // can this phone score it as everybody does
	May       []string     `cbor:"may" ts:"FlightMay"`
	Samples   []SampleLine `cbor:"samples"` // in the order in which they were sealed
	Members   []Member     `cbor:"members"` // those the guessed lists speak of
	Share     string       `cbor:"share" ts:"Share"`
}

// SampleLine is a sample in its flight.
type SampleLine struct {
	Sample  string     `cbor:"sample"`
	Code    int        `cbor:"code"`
	Grams   float64    `cbor:"grams"`
	State   string     `cbor:"state" ts:"SampleState"`
	Keeper  string     `cbor:"keeper"`  // member
	Holders []string   `cbor:"holders"` // members, the keeper among them
	Guessed []string   `cbor:"guessed"` // members, in before the close
	Late    []string   `cbor:"late"`    // members
	Guess   GuessState `cbor:"guess"`   // mine
	Kept    bool       `cbor:"kept"`    // I keep it closed for me
	Asks    bool       `cbor:"asks"`    // opened, and it asks me first
	May     []string   `cbor:"may" ts:"SampleMay"`
	Answer  string     `cbor:"answer"`         // the node of the finest origin stated, when open to me
	Label   string     `cbor:"label"`          // its name
	Mine    *Factor    `cbor:"mine,omitempty"` // my score, when open to me
	Share   string     `cbor:"share" ts:"Share"`
}

// GuessState is where my guess on a sample stands.
type GuessState struct {
	Made   bool   `cbor:"made"`
	First  bool   `cbor:"first"` // the ten-second guess is kept
	Share  string `cbor:"share" ts:"Share"`
	Timing string `cbor:"timing" ts:"\"\" | \"in\" | \"late\""` // once shared: in before the close, or late
	Holder bool   `cbor:"holder"`                               // I know the answer: not scored
}

// SampleParams names a sample.
type SampleParams struct {
	Club   string `cbor:"club"`
	Sample string `cbor:"sample"`
}

// SampleView is the sitting: all there is to one sample, for me.
type SampleView struct {
	Club       string       `cbor:"club"`
	Flight     string       `cbor:"flight"`
	Sample     string       `cbor:"sample"`
	Code       int          `cbor:"code"`
	Title      string       `cbor:"title"`
	Place      int          `cbor:"place"`
	Of         int          `cbor:"of"`
	State      string       `cbor:"state" ts:"SampleState"`
	ClosedHow  string       `cbor:"closedHow" ts:"ClosedHow"`
	Closes     int64        `cbor:"closes"`
	Grams      float64      `cbor:"grams"`
	Left       float64      `cbor:"left"`
	Declared   Declared     `cbor:"declared"`
	DeclaredOK bool         `cbor:"declaredReadable"`
	Keeper     Member       `cbor:"keeper"`
	Holders    []Member     `cbor:"holders"`
	Guessed    int          `cbor:"guessed"` // how many members have, in before the close
	Questions  []string     `cbor:"questions" ts:"Facet"`
	Brews      []BrewDigest `cbor:"brews"` // mine, newest first
	Guess      GuessState   `cbor:"guess"`
	Next       string       `cbor:"next" ts:"Next"`
	Kept       bool         `cbor:"kept"`
	Asks       bool         `cbor:"asks"`
	May        []string     `cbor:"may" ts:"SampleMay"`
	Sealed     *Answer      `cbor:"sealed,omitempty"` // the answer, for its keeper and holders who can read it, and for all once open to them
	Intention  bool         `cbor:"intention"`        // it is to be unsealed as soon as the close is ordered
	Share      string       `cbor:"share" ts:"Share"`
}

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

// ResultView is an opened sample: the group's guesses, the answer, and what each person saw.
type ResultView struct {
	Club      string          `cbor:"club"`
	Flight    string          `cbor:"flight"`
	Sample    string          `cbor:"sample"`
	Code      int             `cbor:"code"`
	Title     string          `cbor:"title"`
	State     string          `cbor:"state" ts:"ResultState"`
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
	Then   Factor `cbor:"then"`
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
