package app

// CupNotice keeps what was noticed of a coffee at one stage: of a brew (book and brew), or of a sample before it is brewed
// (club and sample). It is added to what was noticed before; nothing is ever changed or taken away, so a first impression stays.
type CupNotice struct {
	Book   string   `cbor:"book"`
	Brew   string   `cbor:"brew"`
	Club   string   `cbor:"club"`
	Sample string   `cbor:"sample"`
	Stage  string   `cbor:"stage" ts:"CupStage"`
	Words  []string `cbor:"words"` // 1 to 30, in the order in which they came; of core/cup's list or one's own
}

// NoticedParams names a brew (book and brew), or a sample and all brews of it (club and sample).
type NoticedParams struct {
	Book   string `cbor:"book"`
	Brew   string `cbor:"brew"`
	Club   string `cbor:"club"`
	Sample string `cbor:"sample"`
}

// NoticedView is what this person noticed, by stage, in the order in which a coffee passes them. A stage that was skipped is
// missing.
type NoticedView struct {
	Stages  []NoticedStage `cbor:"stages"`
	Cooling *Cooling       `cbor:"cooling,omitempty"` // of the brew, or of the sample's newest brew
}

// NoticedStage is what was noticed at one stage, oldest first.
type NoticedStage struct {
	Stage string    `cbor:"stage" ts:"CupStage"`
	Times []Noticed `cbor:"times"`
}

// Noticed is what was noticed at one moment.
type Noticed struct {
	At    int64    `cbor:"at"`   // by the clock of the phone that kept it
	Brew  string   `cbor:"brew"` // empty before brewing
	Words []string `cbor:"words"`
}

// MemberNoticed is what a member noticed of an opened sample.
type MemberNoticed struct {
	Member string         `cbor:"member"`
	Name   string         `cbor:"name"`
	Stages []NoticedStage `cbor:"stages"`
}

// CupWordsParams asks for words that begin with what was typed.
type CupWordsParams struct {
	Typed string `cbor:"typed"`
}

// CupWordsView are words of core/cup's list, at most 8, those that begin with it first; none for nothing typed.
type CupWordsView struct {
	Words []string `cbor:"words"`
}
