package app

// A wordSet is a closed list of codes that cross the bridge; TypeScript gets it as a union of literals, with the comment above it.
type wordSet struct {
	Name  string
	Words []string
}

// WordSets are all closed lists of codes, for the generator of the TypeScript types. pwa/ui/words.ts words each of them.
func WordSets() []wordSet { return wordSets }

var wordSets = []wordSet{
	// What a member may do in a club.
	{"Role", []string{"taster", "organiser"}},
	// device: on this device only, no server. waiting: on this device, goes out by itself. sending: on its way. shared: all is. trouble: see problem.
	{"SyncMark",
		[]string{"device", "waiting", "sending", "shared", "trouble"}},
	// Why things do not go out, empty when they do. The first four pass by themselves. recovering: this phone speaks for a recovery code meanwhile. update: a book needs a newer app. old-app, old-server: the server speaks another version.
	{"Problem",
		[]string{"", "offline", "clock", "slow-down", "word-needed", "recovering", "restored", "update", "old-app", "old-server", "tampering", "refused", "storage", "bad-host"}},
	// Why a server is not connected, empty when it is. silent: nobody answers. The others answered, and hung up.
	{"NoAnswer",
		[]string{"", "silent", "old-app", "old-server", "bad-host"}},
	// How far something has come: on this device, on its way, shared (ordered by the server), refused.
	{"Share",
		[]string{"device", "onItsWay", "shared", "refused"}},
	// A newcomer's first things.
	{"First",
		[]string{"name", "club", "kitchen", "practice-cup", "recovery"}},
	// The one thing to do with a sample: look and smell and guess in ten seconds, brew, guess, revise, wait for the close; for those who know it, close or unseal; once open, ask first, or look.
	{"Next",
		[]string{"look", "brew", "guess", "revise", "wait", "close", "unseal", "ask", "result", "kept"}},
	// planned: the clock has not started. going: it runs. done: saved.
	{"BrewState",
		[]string{"planned", "going", "done"}},
	// How water and coffee meet.
	{"Method", []string{"drip", "steep", "press", "bowl", "other"}},
	// What can be recorded while the clock runs. bloom and pour: it began (a scale's weight may come with it). poured: the pour ended. hold and on: the plan was held and went on. end: the bed is dry, or it was pressed or decanted; it stops the clock.
	{"Mark",
		[]string{"start", "bloom", "pour", "poured", "stir", "swirl", "break", "skim", "cap", "flip", "open-valve", "press", "drain", "decant", "bypass", "taste", "hold", "on", "end"}},
	// After an absence: as planned, roughly (times are corrected by hand), unknown; empty when nothing is asked.
	{"Asked",
		[]string{"", "planned", "roughly", "unknown"}},
	// in: a member. out: left. removed: taken out by an organiser. entering: on the way in. stopped: this phone stopped reading (tampering). update: needs a newer app. restored: the server came back older, an organiser must say resume.
	{"BookStatus",
		[]string{"in", "out", "removed", "entering", "stopped", "update", "restored"}},
	// What I may do in a club now.
	{"ClubMay", []string{"invite", "rename", "flight", "role", "remove", "leave", "resume"}},
	// open, closed (no guess scores any more), opening (some samples are open), opened (all are).
	{"FlightState",
		[]string{"open", "closed", "opening", "opened"}},
	// What I may do with a flight now.
	{"FlightMay", []string{"edit", "closing", "seal", "close", "unseal"}},
	// open: sealed, and guesses count. closed: sealed, and later guesses are late. unsealed: the answer is there.
	{"SampleState",
		[]string{"open", "closed", "unsealed"}},
	// What I may do with a sample now.
	{"SampleMay", []string{"brew", "first", "guess", "close", "unseal", "keep", "show"}},
	// How a sample was closed: by hand, at its time, or by being opened early; empty while it is open.
	{"ClosedHow",
		[]string{"", "hand", "time", "opened-early"}},
	// What a guess is about.
	{"Facet", []string{"origin", "process", "variety", "decaf", "altitude", "roast"}},
	// How an answer is known: printed with the coffee, told by the roaster, told by who grew or traded it, measured, hearsay (shown, not scored).
	{"Source",
		[]string{"label", "roaster", "grower", "measured", "hearsay"}},
	// A level of a facet's tree.
	{"Level",
		[]string{"area", "country", "region", "family", "process", "detail", "species", "group", "variety", "decaf", "method", "band"}},
	// Does this phone have the atlas, prior and scoring that the flight names: yes, not yet (the prior is still to be read), no (made by another version of the app), altered (the prior does not have its hash).
	{"Pinned",
		[]string{"yes", "waiting", "other-version", "altered"}},
	// sealed: not open. away: not open when I went out of the club, and what came after is not for me. asks: open, and it asks me first. kept: I keep it closed. reading: open, and something is still being read. open. unreadable: the answer does not open.
	{"ResultState",
		[]string{"sealed", "away", "asks", "kept", "reading", "open", "unreadable"}},
	// scored. late: after the close, shown, not scored. holder: knew the answer. none: no guess. reading: still being read. unreadable: its guess does not open. unstated: the answer states nothing that scores.
	{"TableStatus",
		[]string{"scored", "late", "holder", "none", "reading", "unreadable", "unstated"}},
	// What was refused.
	{"RefusedWhat", []string{"name", "brew", "guess", "flight", "sample", "close", "unseal", "invite", "member", "device", "other"}},
	// What is declared in the open. nothing: nothing added, no allergen known. something: see the lists. unknown: nobody could say.
	{"Choice",
		[]string{"nothing", "something", "unknown"}},
	// What food law wants named.
	{"Allergen", []string{"milk", "egg", "fish", "crustaceans", "molluscs", "nuts", "peanuts", "soya", "gluten", "sesame", "celery", "mustard", "lupin", "sulphites"}},
	// What may have been added to a coffee on its way.
	{"Additive",
		[]string{"fruit", "spice", "herb", "flower", "alcohol", "dairy-culture", "yeast", "sugar", "flavouring", "other"}},
	// What is to be read once.
	{"Caution", []string{CautionHotWater, CautionCaffeine, CautionAllergens, CautionData}},

	// What stands in the Cupboard.
	{"ItemKind", []string{"coffee", "brewer", "grinder", "water", "concentrate", "instrument", "recipe"}},
	// What is known of a coffee's caffeine.
	{"CoffeeKind", []string{"regular", "arabica", "canephora", "decaf"}},
	// What a brewer is.
	{"Geometry", []string{"cone", "flat-bed", "steep-and-drain", "press-inverted", "press-upright", "cupping-bowl", "other"}},
	// What a filter is made of; none where there is none.
	{"Filter", []string{"", "paper", "metal", "cloth", "none"}},
	// What grinds.
	{"Burr", []string{"", "conical", "flat", "blade", "other"}},
	// How a grinder shows its setting: clicks from zero, whole turns and clicks, a dial of numbers, letters, or in one's own words.
	{"GrinderScale",
		[]string{"clicks", "turns", "numbers", "letters", "words"}},
	// Why a setting can't be read; empty when it can. words: the scale is in one's own words. scale: not all of it is described yet. setting: it is none of that scale. past-stop: it is beyond a stop.
	{"GrinderFault",
		[]string{"", "words", "scale", "setting", "past-stop"}},
	// How a water's numbers are known.
	{"WaterSource", []string{"label", "test", "mixed"}},
	// A food-grade salt, in the hydrate that its formula states.
	{"Salt",
		[]string{"magnesium-sulphate", "magnesium-chloride", "calcium-chloride", "calcium-sulphate", "sodium-bicarbonate", "potassium-bicarbonate"}},
	// What may go into a blend. pure: distilled, or as good as that.
	{"MixKind", []string{"pure", "water", "concentrate", "salt"}},
	// What a blend is to reach.
	{"WaterQuantity", []string{"hardness", "alkalinity", "magnesium"}},
	// What is hardly meant, or will not work. balance: the ions do not balance. undissolved: more salt than the water takes up. falls-out: it comes out as chalk or gypsum.
	{"WaterDoubtCode",
		[]string{"balance", "undissolved", "falls-out"}},
	// What a member says of the club's water; empty: nothing yet.
	{"WaterReach", []string{"", "yes", "no"}},
	// What a record of a file is.
	{"DataKind",
		[]string{"home", "coffee", "brewer", "grinder", "water", "concentrate", "instrument", "recipe", "brew", "cup"}},
	// What somebody decided about an opened sample: nothing, kept closed for oneself, looked at.
	{"DataKeeps", []string{"", "closed", "looked"}},
	// What measures.
	{"InstrumentKind", []string{"scale", "refractometer", "thermometer"}},
	// How fine, in words that every grinder has.
	{"GrindWord", []string{"", "fine", "medium-fine", "medium", "medium-coarse", "coarse"}},
	// What hands do.
	{"StepKind", []string{"preheat", "rinse", "add", "bloom", "pour", "stir", "swirl", "break", "skim", "cap", "flip", "open-valve", "wait", "press", "drain", "decant", "bypass", "taste"}},
	// How a pour moves; empty for any way.
	{"PourPattern", []string{"", "centre", "spiral", "evenly"}},
	// A unit of hardness or alkalinity; mg/L is as CaCO3.
	{"HardnessUnit", []string{"mg/L", "°dH", "°fH", "°Clark", "gpg", "mmol/L"}},
	// What to know before a plan is made.
	{"BrewCaution", []string{"hot-water", "hot-glass", "flip-scalds", "press-gently", "valve-drips", "wait-to-taste"}},
	// under: even the high end of the estimate is within the limit. maybe: only the low end is. over: it is past it.
	{"CaffeineLevel", []string{"under", "maybe", "over"}},
	// repeated: nothing changed. one: its effect can be read. several: no cause can be read. unsure: not all is known.
	{"ChangeVerdict",
		[]string{"repeated", "one", "several", "unsure"}},
	// What can differ between two setups.
	{"ChangeField",
		[]string{"coffee", "brewer", "filter", "grinder", "grind", "since-grinding", "scoops", "dose", "ratio", "water", "water-kind", "temperature", "step", "step-to", "step-seconds", "step-temperature", "step-times", "step-manner"}},
	// followed: it had to, because of another change.
	{"ChangeKind", []string{"changed", "unknown", "added", "removed", "followed"}},
	// A side of a cup's balance.
	{"Attribute", []string{"acid", "sweet", "bitter", "body", "finish"}},
	// What repeats from brew to brew, or does not.
	{"Quantity", []string{"seconds", "beverage", "tds", "ey", "acid", "sweet", "bitter", "body", "finish"}},
	// What hands can change.
	{"Variable", []string{"", "grind", "ratio", "temperature", "agitation"}},
	// What to do next. few: not enough brews yet. unsure: the cups do not say what would help. keep: it is in agreement. change: change one thing.
	{"AdviceVerdict",
		[]string{"few", "unsure", "keep", "change"}},
	// What a difference between two cups can be. few: not enough brews yet. methods: a brewed cup and a bowl are never compared. none: no more than two cups of one recipe differ. brewing: they were not brewed alike. same-coffee: it is one coffee, so it is something else. coffee: it can be the coffee.
	{"CompareVerdict",
		[]string{"few", "methods", "none", "brewing", "same-coffee", "coffee"}},
	// A range on the brewing control chart that the trade published.
	{"TradeRange", []string{"trade-2015", "trade-europe", "trade-norway"}},
	// Where a value lies against a range.
	{"Side", []string{"below", "within", "above"}},
	// A step of a sitting: look and smell before the brew, the wet grounds, the cup, the guess.
	{"SittingStep", sittingSteps},
	// One look, smell or sip.
	{"CupStage", []string{"beans", "fragrance", "aroma", "hot", "warm", "cool"}},
}
