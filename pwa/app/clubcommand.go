package app

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
