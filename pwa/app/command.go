package app

// Names of the commands. Each has a struct of arguments and one of results below; a command without a result gives Nothing.
const (
	CmdNotebookName    = "notebook.name"
	CmdSafetySeen      = "safety.seen"
	CmdStorageReport   = "storage.report"
	CmdLinkRead        = "link.read"
	CmdClubCreate      = "club.create"
	CmdClubRename      = "club.rename"
	CmdClubInvite      = "club.invite"
	CmdClubRevoke      = "club.revoke"
	CmdClubJoin        = "club.join"
	CmdClubRole        = "club.role"
	CmdClubRemove      = "club.remove"
	CmdClubLeave       = "club.leave"
	CmdBookResume      = "book.resume"
	CmdFlightCreate    = "flight.create"
	CmdFlightEdit      = "flight.edit"
	CmdFlightClosing   = "flight.closing"
	CmdFlightClose     = "flight.close"
	CmdSampleSeal      = "sample.seal"
	CmdSampleUnseal    = "sample.unseal"
	CmdSampleKeep      = "sample.keep"
	CmdBrewStart       = "brew.start"
	CmdBrewMark        = "brew.mark"
	CmdBrewUnmark      = "brew.unmark"
	CmdBrewSave        = "brew.save"
	CmdBrewEdit        = "brew.edit"
	CmdBrewDiscard     = "brew.discard"
	CmdGuessPreview    = "guess.preview"
	CmdGuessSave       = "guess.save"
	CmdDeviceName      = "device.name"
	CmdDevicePair      = "device.pair"
	CmdDeviceRemove    = "device.remove"
	CmdRecoveryMake    = "recovery.make"
	CmdRecoveryConfirm = "recovery.confirm"
	CmdRecover         = "recover"
	CmdRefusedRetry    = "refused.retry"
	CmdRefusedDiscard  = "refused.discard"
)

// Nothing is the result, or the arguments, of what has none.
type Nothing struct{}

// NotebookName says how one is called, here and in every club one is in.
type NotebookName struct {
	Name string `cbor:"name"` // 1 to 40 letters
}

// SafetySeen keeps that a caution was read, so that it is not shown again.
type SafetySeen struct {
	Caution string `cbor:"caution" ts:"Caution"`
}

// The cautions.
const (
	CautionHotWater  = "hot-water" // scalds, steam, glass
	CautionCaffeine  = "caffeine"  // with pregnancy and medication
	CautionAllergens = "allergens" // infused and co-fermented coffees, shared grinders
	CautionData      = "data"      // what a browser may delete, what a host can see
)

// StorageReport tells what the page knows of this browser's storage.
type StorageReport struct {
	Persisted bool `cbor:"persisted"` // navigator.storage.persisted()
	Installed bool `cbor:"installed"` // runs as an installed app
	Low       bool `cbor:"low"`       // little room left
}

// LinkRead asks what a link, or pasted text, or the content of a QR code is for. Nothing is done with it yet.
type LinkRead struct {
	Text string `cbor:"text"`
}

// LinkMeaning is what a link is for.
type LinkMeaning struct {
	Purpose string `cbor:"purpose" ts:"\"join\" | \"device\" | \"recovery\""`
	Host    string `cbor:"host"`  // where its book lives
	Known   string `cbor:"known"` // join: the club's id when one is in it already, else ""
}

// ClubCreate makes a club with its creator as organiser.
type ClubCreate struct {
	Name string `cbor:"name"` // of the club, 1 to 60 letters
}

// ClubCreated names the new club.
type ClubCreated struct {
	Club string `cbor:"club"`
}

// ClubRename changes a club's name. Organisers only.
type ClubRename struct {
	Club string `cbor:"club"`
	Name string `cbor:"name"`
}

// ClubInvite opens an invitation. Organisers only.
type ClubInvite struct {
	Club string `cbor:"club"`
	Role string `cbor:"role" ts:"Role"`
	Uses int    `cbor:"uses"` // 1 to 50 persons
	Days int    `cbor:"days"` // 1 to 60
}

// ClubInvited is the invitation to hand over. Link is also what the QR code holds; Text is its secret part, to paste. They
// are shown this once and kept on this phone as long as the invitation is open.
type ClubInvited struct {
	Invite  string `cbor:"invite"`
	Link    string `cbor:"link"`
	Text    string `cbor:"text"`
	Expires int64  `cbor:"expires"`
}

// ClubRevoke ends an invitation. Organisers only.
type ClubRevoke struct {
	Club   string `cbor:"club"`
	Invite string `cbor:"invite"`
}

// ClubJoin comes in by a link or its text. It is done when kept on this phone; being in follows when the server answers (the
// clubs view shows it), also after a restart.
type ClubJoin struct {
	Link string `cbor:"link"`
	Name string `cbor:"name,omitempty"` // how one is called, when the notebook has no name yet
}

// ClubJoining names what is under way.
type ClubJoining struct {
	Joining string `cbor:"joining"`
}

// ClubRole makes a member an organiser or a taster. Organisers only.
type ClubRole struct {
	Club   string `cbor:"club"`
	Member string `cbor:"member"`
	Role   string `cbor:"role" ts:"Role"`
}

// ClubRemove takes a member out. Organisers only; "last-organiser" is refused.
type ClubRemove struct {
	Club   string `cbor:"club"`
	Member string `cbor:"member"`
}

// ClubLeave takes oneself out.
type ClubLeave struct {
	Club string `cbor:"club"`
}

// BookResume lets a club whose server was restored from a copy order new things again. Organisers only.
type BookResume struct {
	Club string `cbor:"club"`
}

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

// SampleKeep keeps an opened sample closed for oneself, or (Keep false) looks at it now.
type SampleKeep struct {
	Club   string `cbor:"club"`
	Sample string `cbor:"sample"`
	Keep   bool   `cbor:"keep"`
}

// BrewSetup is what a brew is made with. Numbers that were not measured are 0.
type BrewSetup struct {
	Coffee  string  `cbor:"coffee"` // one's own coffee, in one's own words; empty with a sample
	Method  string  `cbor:"method" ts:"Method"`
	Brewer  string  `cbor:"brewer"`  // in one's own words
	Dose    float64 `cbor:"dose"`    // g
	Water   float64 `cbor:"water"`   // g, with the bloom; when 0, dose × ratio
	Ratio   float64 `cbor:"ratio"`   // g of water a g of coffee; when 0, water / dose
	Kettle  float64 `cbor:"kettle"`  // °C
	Grinder string  `cbor:"grinder"` // in one's own words
	Grind   string  `cbor:"grind"`   // the setting, as the grinder's scale says
	Filter  string  `cbor:"filter"`
}

// BrewStart begins a brew, of a sample (club and sample) or of one's own coffee. With Run the clock starts now; without it
// starts by the first mark.
type BrewStart struct {
	Club   string    `cbor:"club"`
	Sample string    `cbor:"sample"`
	Setup  BrewSetup `cbor:"setup"`
	Run    bool      `cbor:"run"`
	Sure   []string  `cbor:"sure"`
}

// BrewStarted names the new brew. Book is the club, or the notebook.
type BrewStarted struct {
	Book string `cbor:"book"`
	Brew string `cbor:"brew"`
}

// BrewMark records what happened, at the moment of the touch (or Ago milliseconds before it). It is durable when done.
type BrewMark struct {
	Book  string  `cbor:"book"`
	Brew  string  `cbor:"brew"`
	Mark  string  `cbor:"mark" ts:"Mark"`
	Grams float64 `cbor:"grams"` // pour marks: what the scale shows after it; 0 when there is no scale
	Ago   int64   `cbor:"ago"`
}

// BrewUnmark takes the last mark back.
type BrewUnmark struct {
	Book string `cbor:"book"`
	Brew string `cbor:"brew"`
}

// BrewOutcome is what came of a brew. Numbers that were not measured are 0.
type BrewOutcome struct {
	Pours    []Pour  `cbor:"pours"`    // as corrected by hand; empty: as marked
	Drawdown float64 `cbor:"drawdown"` // s from the start until the bed is dry; 0: as marked
	Beverage float64 `cbor:"beverage"` // g in the cup
	TDS      float64 `cbor:"tds"`      // percent, of filtered, cooled, covered beverage
	Notes    string  `cbor:"notes"`
	Asked    string  `cbor:"asked" ts:"Asked"` // after an absence: what happened meanwhile
}

// Pour is one pour: when it began, in seconds from the start, and to what weight.
type Pour struct {
	At    float64 `cbor:"at"`
	Grams float64 `cbor:"grams"`
}

// BrewSave ends a brew and keeps what came of it.
type BrewSave struct {
	Book    string      `cbor:"book"`
	Brew    string      `cbor:"brew"`
	Outcome BrewOutcome `cbor:"outcome"`
	Sure    []string    `cbor:"sure"`
}

// BrewEdit corrects a brew, whatever state it is in.
type BrewEdit struct {
	Book    string       `cbor:"book"`
	Brew    string       `cbor:"brew"`
	Setup   *BrewSetup   `cbor:"setup,omitempty"`
	Outcome *BrewOutcome `cbor:"outcome,omitempty"`
	Sure    []string     `cbor:"sure"`
}

// BrewDiscard throws a brew away.
type BrewDiscard struct {
	Book string `cbor:"book"`
	Brew string `cbor:"brew"`
}

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

// DeviceName names this device for oneself.
type DeviceName struct {
	Name string `cbor:"name"`
}

// DevicePair makes a link by which one more device of one's own comes in.
type DevicePair struct{}

// DevicePairing is the link to open, scan or paste on the other device; it works once, for ten minutes.
type DevicePairing struct {
	Link    string `cbor:"link"`
	Text    string `cbor:"text"`
	Expires int64  `cbor:"expires"`
}

// DeviceRemove takes one of one's own devices out, everywhere.
type DeviceRemove struct {
	Device string `cbor:"device"`
}

// RecoveryMade is a new recovery code: shown this once, kept nowhere on this phone. Link opens the app with it.
type RecoveryMade struct {
	Code string `cbor:"code"`
	Link string `cbor:"link"`
}

// RecoveryConfirm says that the code was written down: Last is its last group, typed from the paper.
type RecoveryConfirm struct {
	Last string `cbor:"last"`
}

// Recover makes this fresh notebook the person's whose code it is.
type Recover struct {
	Code string `cbor:"code"` // the code or its link
}

// RefusedRetry tries once more to share what the server refused.
type RefusedRetry struct {
	ID string `cbor:"id"`
}

// RefusedDiscard gives up what the server refused.
type RefusedDiscard struct {
	ID string `cbor:"id"`
}
