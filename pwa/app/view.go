package app

// Names of the views. Each has a struct of parameters (Nothing for most) and one of its value below.
const (
	ViewSync       = "sync"
	ViewNotebook   = "notebook"
	ViewTonight    = "tonight"
	ViewBench      = "bench"
	ViewBrew       = "brew"
	ViewBrews      = "brews"
	ViewCupboard   = "cupboard"
	ViewPerson     = "person"
	ViewWater      = "water"
	ViewClubWater  = "clubwater"
	ViewData       = "data"
	ViewTable      = "table"
	ViewAdvice     = "advice"
	ViewCompare    = "compare"
	ViewRepeat     = "repeat"
	ViewTrials     = "trials"
	ViewTrend      = "trend"
	ViewClubs      = "clubs"
	ViewClub       = "club"
	ViewFlight     = "flight"
	ViewSample     = "sample"
	ViewSitting    = "sitting"
	ViewNoticed    = "noticed"
	ViewCupWords   = "cup-words"
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
	NoAnswer  string `cbor:"noAnswer" ts:"NoAnswer"`
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

	Weight      string `cbor:"weight" ts:"\"g\" | \"oz\""` // units of every screen, as Home has them
	Temperature string `cbor:"temperature" ts:"\"C\" | \"F\""`
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
	Last    string         `cbor:"last"` // the coffee that was brewed last, of one's own; empty for none
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

	Sitting *SittingView `cbor:"sitting,omitempty"` // where its sitting goes on
	Ration  *Ration      `cbor:"ration,omitempty"`  // honest attempts left with the last dose; nil without one
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
	What   string `cbor:"what" ts:"\"brewing\" | \"cooling\" | \"left\""` // left: hours ago, and nobody ended it
	Code   int    `cbor:"code"`                                           // of its sample, 0 for one's own coffee
	Coffee string `cbor:"coffee"`
	Began  int64  `cbor:"began"` // by this phone's clock: the start of the brew, or when it was done

	Next    string   `cbor:"next" ts:"StepKind | \"\""` // brewing: the next step but waiting; empty without a plan, and after the last
	At      int64    `cbor:"at"`                        // when it is due, or when the plan ends; by this phone's clock, 0 unknown
	To      float64  `cbor:"to"`                        // what the scale shows after it; 0 for steps without water
	Held    bool     `cbor:"held"`
	Table   string   `cbor:"table"` // of bowls; empty for none
	Bowl    int      `cbor:"bowl"`
	Cooling *Cooling `cbor:"cooling,omitempty"` // once its vessel was read
}
