package app

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
	Removed bool   `cbor:"removed"` // gone, taken out by an organiser
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
