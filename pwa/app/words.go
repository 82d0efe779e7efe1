package app

// A wordSet is a closed list of codes that cross the bridge; TypeScript gets it as a union of literals.
type wordSet struct {
	Name  string
	Doc   string
	Words []string
}

// WordSets are all closed lists of codes, for the generator of the TypeScript types. pwa/ui/words.ts words each of them.
func WordSets() []wordSet { return wordSets }

var wordSets = []wordSet{
	{"Role", "What a member may do in a club.", []string{"taster", "organiser"}},
	{"SyncMark", "device: on this device only, no server. waiting: on this device, goes out by itself. sending: on its way. shared: all is. trouble: see problem.",
		[]string{"device", "waiting", "sending", "shared", "trouble"}},
	{"Problem", "Why things do not go out, empty when they do. The first three pass by themselves.",
		[]string{"", "offline", "clock", "slow-down", "restored", "update", "old-server", "tampering", "refused", "storage", "bad-host"}},
	{"Share", "How far something has come: on this device, on its way, shared (ordered by the server), refused.",
		[]string{"device", "onItsWay", "shared", "refused"}},
	{"First", "A newcomer's first things.",
		[]string{"name", "club", "kitchen", "practice-cup", "recovery"}},
	{"Next", "The one thing to do with a sample: look and smell and guess in ten seconds, brew, guess, revise, wait for the close; for those who know it, close or unseal; once open, ask first, or look.",
		[]string{"look", "brew", "guess", "revise", "wait", "close", "unseal", "ask", "result", "kept"}},
	{"BrewState", "planned: the clock has not started. going: it runs. done: saved.",
		[]string{"planned", "going", "done"}},
	{"Method", "How water and coffee meet.", []string{"drip", "steep", "press", "bowl", "other"}},
	{"Mark", "What can be recorded while the clock runs. end: the bed is dry, or it was pressed or decanted; it stops the clock.",
		[]string{"start", "bloom", "pour", "stir", "swirl", "press", "end"}},
	{"Asked", "After an absence: as planned, roughly (times are corrected by hand), unknown; empty when nothing is asked.",
		[]string{"", "planned", "roughly", "unknown"}},
	{"BookStatus", "in: a member. out: removed or left. entering: on the way in. stopped: this phone stopped reading (tampering). update: needs a newer app. restored: the server came back older, an organiser must say resume.",
		[]string{"in", "out", "entering", "stopped", "update", "restored"}},
	{"ClubMay", "What I may do in a club now.", []string{"invite", "rename", "flight", "role", "remove", "leave", "resume"}},
	{"FlightState", "open, closed (no guess scores any more), opening (some samples are open), opened (all are).",
		[]string{"open", "closed", "opening", "opened"}},
	{"FlightMay", "What I may do with a flight now.", []string{"edit", "closing", "seal", "close", "unseal"}},
	{"SampleState", "open: sealed, and guesses count. closed: sealed, and later guesses are late. unsealed: the answer is there.",
		[]string{"open", "closed", "unsealed"}},
	{"SampleMay", "What I may do with a sample now.", []string{"brew", "first", "guess", "close", "unseal", "keep", "show"}},
	{"ClosedHow", "How a sample was closed: by hand, at its time, or by being opened early; empty while it is open.",
		[]string{"", "hand", "time", "opened-early"}},
	{"Facet", "What a guess is about.", []string{"origin", "process", "variety", "decaf", "altitude", "roast"}},
	{"Source", "How an answer is known: printed with the coffee, told by the roaster, told by who grew or traded it, measured, hearsay (shown, not scored).",
		[]string{"label", "roaster", "grower", "measured", "hearsay"}},
	{"Level", "A level of a facet's tree.",
		[]string{"area", "country", "region", "family", "process", "detail", "species", "group", "variety", "decaf", "method", "band"}},
	{"Pinned", "Does this phone have the atlas, prior and scoring that the flight names: yes, not yet (the prior is still to be read), no (made by another version of the app), altered (the prior does not have its hash).",
		[]string{"yes", "waiting", "other-version", "altered"}},
	{"ResultState", "sealed: not open. asks: open, and it asks me first. kept: I keep it closed. reading: open, and something is still being read. open. unreadable: the answer does not open.",
		[]string{"sealed", "asks", "kept", "reading", "open", "unreadable"}},
	{"TableStatus", "scored. late: after the close, shown, not scored. holder: knew the answer. none: no guess. reading: still being read. unreadable: its guess does not open. unstated: the answer states nothing that scores.",
		[]string{"scored", "late", "holder", "none", "reading", "unreadable", "unstated"}},
	{"RefusedWhat", "What was refused.", []string{"name", "brew", "guess", "flight", "sample", "close", "unseal", "invite", "member", "device", "other"}},
	{"Choice", "What is declared in the open. nothing: nothing added, no allergen known. something: see the lists. unknown: nobody could say.",
		[]string{"nothing", "something", "unknown"}},
	{"Allergen", "What food law wants named.", []string{"milk", "egg", "fish", "crustaceans", "molluscs", "nuts", "peanuts", "soya", "gluten", "sesame", "celery", "mustard", "lupin", "sulphites"}},
	{"Additive", "What may have been added to a coffee on its way.",
		[]string{"fruit", "spice", "herb", "flower", "alcohol", "dairy-culture", "yeast", "sugar", "flavouring", "other"}},
	{"Caution", "What is to be read once.", []string{CautionHotWater, CautionCaffeine, CautionAllergens, CautionData}},
}
