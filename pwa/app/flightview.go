package app

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
	Standing  string       `cbor:"standing" ts:"BookStatus"` // mine, in its club
}

// SampleLine is a sample in its flight.
type SampleLine struct {
	Sample  string     `cbor:"sample"`
	Code    int        `cbor:"code"`
	Grams   float64    `cbor:"grams"`
	State   string     `cbor:"state" ts:"SampleState"`
	Early   bool       `cbor:"early"`   // opened by its keeper before the close
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
	Standing   string       `cbor:"standing" ts:"BookStatus"` // mine, in its club
}
