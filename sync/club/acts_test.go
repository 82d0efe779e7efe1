package club_test

import (
	"fmt"
	"strconv"
	"strings"

	"hushcup/sync/club"
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// draft is what an author says before it is stamped and chained.
type draft struct {
	header oplog.Header
	body   []byte
}

func control(kind oplog.Kind, body any) draft {
	return draft{oplog.Header{Kind: kind}, codec.MustMarshal(body)}
}

// draft writes what a command says, as an honest app would, but for what its options ask.
func (w *world) draft(author *device, c *command) draft {
	switch c.verb {
	case "create":
		return w.create(author, c)
	case "invites":
		return w.invite(author, c)
	case "revokes":
		return control(oplog.Revoke, club.RevokeBody{Key: w.link(c.word(0)).Public()})
	case "joins":
		return w.join(author, c)
	case "enrols":
		return w.enrol(author, c)
	case "removes":
		return w.remove(c)
	case "makes":
		role := map[string]club.Role{"organiser": club.Organiser, "taster": club.Taster, "nothing": 0}[c.word(1)]
		return control(oplog.Role, club.RoleBody{Member: w.person(c.word(0)).id, Role: role})
	case "leaves":
		return control(oplog.Leave, club.LeaveBody{})
	case "renews":
		return control(oplog.Epoch, club.EpochBody{Epoch: w.grant(c, nil)})
	case "flight":
		return control(oplog.Flight, club.FlightBody{ID: w.flightNamed(c.word(0)), Closes: w.closes(c)})
	case "closing":
		return control(oplog.Closing, club.ClosingBody{Flight: w.flight(c.word(0)), Closes: w.closes(c)})
	case "seals":
		return w.sealSample(author, c)
	case "locks":
		return control(oplog.Lock, club.LockBody{Flight: w.flight(c.word(0)), Samples: w.sampleIDs(c.words[1:])})
	case "unseals":
		return w.unseal(c)
	case "erases":
		return control(oplog.Erase, club.EraseBody{Docs: w.docIDs(author, c.words)})
	case "rules":
		return control(oplog.Rules, club.RulesBody{Rules: uint16(must(strconv.Atoi(c.word(0))))})
	case "resumes":
		return control(oplog.Resume, club.ResumeBody{})
	case "kind":
		return draft{oplog.Header{Kind: oplog.Kind(must(strconv.Atoi(c.word(0))))}, []byte{0xa0}}
	case "writes":
		return w.write(author, c)
	}
	panic(fmt.Sprintf("no verb %q", c.verb))
}

// withUnknownField adds a field to a control body that nobody knows.
func withUnknownField(body []byte) []byte {
	var fields map[uint64]codec.Raw
	if err := codec.Unmarshal(body, &fields); err != nil {
		panic(err)
	}
	fields[99] = codec.Raw{0x01}
	return codec.MustMarshal(fields)
}

func (w *world) list(c *command, key, without string) (devices []*device) {
	text, ok := c.options[key]
	if !ok {
		text = without
	}
	for _, name := range strings.Split(text, ",") {
		if name != "" {
			devices = append(devices, w.device(name))
		}
	}
	return devices
}

func enrolments(devices []*device) (list []club.Enrolment) {
	for _, d := range devices {
		list = append(list, d.enrolment())
	}
	return list
}

// wraps hands a key to devices, each for its own member.
func (w *world) wraps(epoch seal.Key, devices []*device) []club.Wrapped {
	list := make([]club.Wrapped, len(devices))
	for i, d := range devices {
		id := epoch.ID()
		info := seal.Info(seal.PurposeEpoch, w.book, id[:], d.owner.id, id)
		wrapped := must(seal.Wrap(w.rand, d.secret.Public().Box, info, epoch))
		list[i] = club.Wrapped{Device: d.id(), Enc: wrapped.Enc, Box: wrapped.Box[:]}
	}
	return list
}

// in are the world's devices that are enrolled, but for those that leave.
func (w *world) in(leaving map[oplog.DeviceID]bool) (devices []*device) {
	for _, id := range w.server.Enrolled() {
		if !leaving[id] {
			devices = append(devices, w.devices[w.names[id]])
		}
	}
	return devices
}

// grant makes a new epoch for the devices that stay.
func (w *world) grant(c *command, leaving map[oplog.DeviceID]bool) club.Grant {
	before, next := w.epoch(0), w.key()
	to := w.in(leaving)
	switch c.options["grant"] {
	case "same":
		next = before
	case "less":
		to = to[1:]
	case "more":
		to = append(to, w.device("stranger"))
	}
	w.minted = append(w.minted, next)
	w.epochs = append(w.epochs, next) // for what follows in the same run
	id := next.ID()
	box := must(seal.SealKey(w.rand, next, seal.Info(seal.PurposeBefore, w.book, id[:], oplog.MemberID{}, before.ID()), before))
	grant := club.Grant{ID: oplog.KeyID(id), Wraps: w.wraps(next, to), Before: &club.Sealed{Keys: []oplog.KeyID{oplog.KeyID(id)}, Box: box}}
	if c.options["grant"] == "rootless" {
		grant.Before = nil
	}
	return grant
}

func (w *world) create(author *device, c *command) draft {
	kind := club.Club
	if c.word(0) == "notebook" {
		kind = club.Notebook
	}
	devices := w.list(c, "devices", author.name)
	epoch := w.key()
	w.minted = append(w.minted, epoch)
	if w.server.Order().Pos == 0 {
		w.epochs = []seal.Key{epoch} // for what follows in the same run
	}
	body := club.CreateBody{
		Rules: uint16(c.number("rules", 1)), Kind: kind, Nonce: [16]byte(w.draw(16)), Member: author.owner.id,
		Devices: enrolments(devices), Epoch: club.Grant{ID: named(epoch), Wraps: w.wraps(epoch, devices)},
	}
	w.spoil(c, body.Devices)
	if c.options["flaw"] == "wraps" {
		body.Epoch.Wraps = body.Epoch.Wraps[:0]
	}
	return control(oplog.Create, body)
}

// spoil gives the last device a box key of low order: all zeros.
func (w *world) spoil(c *command, devices []club.Enrolment) {
	if c.options["flaw"] == "low" {
		devices[len(devices)-1].Box = [32]byte{}
	}
}

func (w *world) link(name string) seal.Invite {
	if _, ok := w.links[name]; !ok {
		w.links[name] = must(seal.NewInvite(w.rand, seal.KindJoin, w.book))
	}
	return w.links[name]
}

func (w *world) invite(author *device, c *command) draft {
	link, epoch := w.link(c.word(0)), w.epoch(c.number("epoch", 0))
	public := link.Public()
	info := seal.Info(seal.PurposeInvite, w.book, public[:], oplog.MemberID{}, epoch.ID())
	body := club.InviteBody{
		Key: public, Uses: uint16(c.number("uses", 1)), Expires: w.now + span(either(c.options["lasts"], "+1h")),
		Role:    map[string]club.Role{"": club.Taster, "organiser": club.Organiser, "none": 0}[c.options["role"]],
		EpochID: named(epoch),
		Epoch:   club.Sealed{Keys: []oplog.KeyID{named(link.Key())}, Box: must(seal.SealKey(w.rand, link.Key(), info, epoch))},
	}
	if name := c.options["member"]; name != "" {
		body.Member, body.Role = &w.person(name).id, 0
	}
	if c.options["flaw"] == "low" {
		body.Key = oplog.DeviceID{1} // the neutral point
	}
	return control(oplog.Invite, body)
}

func either(text, without string) string {
	if text == "" {
		return without
	}
	return text
}

func (w *world) join(author *device, c *command) draft {
	devices := w.list(c, "devices", author.name)
	member := w.person(either(c.options["as"], author.owner.name(w))).id
	epoch := w.epoch(c.number("epoch", 0))
	link := w.link(c.word(0))
	body := club.JoinBody{
		Member: member, Invite: link.Public(), Devices: enrolments(devices), EpochID: named(epoch),
		Wraps: w.wraps(epoch, devices),
	}
	w.spoil(c, body.Devices)
	switch c.options["flaw"] {
	case "wraps":
		body.Wraps = body.Wraps[1:]
	case "absent":
		body.Devices = body.Devices[1:]
	}
	proof := link.Sign(club.JoinMessage(w.book, member, body.Devices))
	if c.options["flaw"] == "proof" {
		proof[3]++
	}
	body.Proof = proof[:]
	return control(oplog.Join, body)
}

func (p *person) name(w *world) string { return w.names[p.id] }

func (w *world) enrol(author *device, c *command) draft {
	added := w.device(c.word(0))
	epoch := w.epoch(c.number("epoch", 0))
	body := club.DeviceBody{
		Device: added.enrolment(), EpochID: named(epoch), Wraps: w.wraps(epoch, []*device{added}),
	}
	list := []club.Enrolment{body.Device}
	w.spoil(c, list)
	body.Device = list[0]
	proof := added.secret.Sign(club.DeviceMessage(w.book, author.owner.id, body.Device))
	switch c.options["flaw"] {
	case "proof":
		proof[3]++
	case "wraps":
		body.Wraps = nil
	}
	body.Proof = proof[:]
	return control(oplog.Device, body)
}

func (w *world) remove(c *command) draft {
	var body club.RemoveBody
	leaving := map[oplog.DeviceID]bool{}
	if c.word(0) == "member" || c.word(0) == "both" {
		id := w.person(c.word(1)).id
		body.Member = &id
		if m, ok := w.server.Member(id); ok {
			for _, d := range m.Devices {
				leaving[d.Sign] = true
			}
		}
	}
	if c.word(0) != "member" {
		for _, name := range c.words[1:] {
			id := w.device(name).id()
			body.Devices = append(body.Devices, id)
			leaving[id] = true
		}
	}
	body.Epoch = w.grant(c, leaving)
	return control(oplog.Remove, body)
}

// flightNamed is a flight's id; "book" stands for the id that would name the book's own document.
func (w *world) flightNamed(name string) oplog.FlightID {
	if name == "book" {
		return oplog.FlightID{}
	}
	return w.flight(name)
}

func (w *world) closes(c *command) int64 {
	if c.options["closes"] == "" {
		return 0
	}
	return w.now + span(c.options["closes"])
}

func (w *world) sampleIDs(names []string) (ids []oplog.SampleID) {
	for _, name := range names {
		ids = append(ids, w.sample(name).id)
	}
	return ids
}

// sealSample seals a sample whose name is its code, or "code/other" for another name with that code.
func (w *world) sealSample(author *device, c *command) draft {
	name := c.word(1)
	code := must(strconv.Atoi(strings.Split(name, "/")[0]))
	lot := w.sample(name)
	keys := seal.SampleFor(author.owner.notebook, w.book, lot.id)
	if lot.keys == (seal.Sample{}) {
		lot.keys = keys
	}
	epoch := w.epoch(c.number("epoch", 0))
	envelope := seal.Envelope(author.owner.notebook, w.book, lot.id)
	ids := []oplog.KeyID{named(envelope), named(epoch)}
	answer := must(seal.SealUnder(w.rand, []seal.Key{envelope, epoch},
		club.AnswerAD(w.book, lot.id, author.owner.id), []byte("an invented lot from Sidama"), seal.Uniform))
	declared := must(seal.SealUnder(w.rand, []seal.Key{epoch}, club.DeclaredAD(w.book, lot.id), []byte("no allergens"), seal.Powers))
	body := club.SampleBody{
		ID: lot.id, Flight: w.flight(c.word(0)), Code: uint16(code), Centigrams: 2400, Key: keys.Public,
		Declared: club.Sealed{Keys: ids[1:], Box: declared}, Answer: club.Sealed{Keys: ids, Box: answer},
	}
	for _, holder := range strings.Split(c.options["holders"], ",") {
		if holder != "" {
			body.Holders = append(body.Holders, w.hold(lot, holder))
		}
	}
	d := draft{header: oplog.Header{Kind: oplog.Sample, Keys: ids, Wrap: w.envelopeWrap(author, lot, c)}}
	w.spoilSample(c, &d, &body)
	d.body = codec.MustMarshal(body)
	return d
}

func (w *world) spoilSample(c *command, d *draft, body *club.SampleBody) {
	switch c.options["flaw"] {
	case "low":
		body.Key = [32]byte{}
	case "key":
		body.Key = w.sample(c.options["of"]).keys.Public
	case "small":
		body.Answer.Box = body.Answer.Box[:300]
	case "wrap":
		d.header.Wrap = nil
	case "keys":
		d.header.Keys = nil
	case "again":
		body.ID = w.sample(c.options["of"]).id
		d.header.Wrap.Sample = body.ID
	case "envelope":
		d.header.Keys = []oplog.KeyID{named(w.envelopeKey(c)), d.header.Keys[1]}
		body.Answer.Keys = d.header.Keys
	}
}

// envelopeKey is the envelope of somebody for another sample, as options `by` and `of` say.
func (w *world) envelopeKey(c *command) seal.Key {
	return seal.Envelope(w.person(c.options["by"]).notebook, w.book, w.sample(c.options["of"]).id)
}

func (w *world) hold(lot *lot, holder string) club.Hold {
	d := w.device(holder)
	info := seal.Info(seal.PurposeSample, w.book, lot.id[:], d.owner.id, seal.KeyID(lot.keys.Public))
	wrapped := must(seal.Wrap(w.rand, d.secret.Public().Box, info, seal.Key(lot.keys.Private)))
	return club.Hold{Member: d.owner.id, Wraps: []club.Wrapped{{Device: d.id(), Enc: wrapped.Enc, Box: wrapped.Box[:]}}}
}

// envelopeWrap hands the author's envelope to a sample's key. `renewed=` derives it from another epoch of the notebook, and
// `other=` makes it another key while claiming the same epoch.
func (w *world) envelopeWrap(author *device, to *lot, c *command) *oplog.Wrap {
	notebook, envelope := w.envelopeFor(author, to, c)
	id := envelope.ID()
	info := seal.Info(seal.PurposeEnvelope, w.book, to.id[:], author.owner.id, id)
	public := to.keys.Public
	if public == ([32]byte{}) {
		public = must(seal.NewSample(w.rand)).Public
	}
	wrapped := must(seal.Wrap(w.rand, public, info, envelope))
	return &oplog.Wrap{Sample: to.id, Epoch: named(notebook), Enc: wrapped.Enc, Box: wrapped.Box[:]}
}

func (w *world) envelopeFor(author *device, to *lot, c *command) (notebook, envelope seal.Key) {
	notebook = author.owner.notebook
	if c.options["renewed"] != "" {
		notebook = seal.Key(seal.Sum("renewed", notebook[:], []byte(c.options["renewed"])))
	}
	envelope = seal.Envelope(notebook, w.book, to.id)
	if c.options["other"] != "" {
		envelope = seal.Key(seal.Sum("other", envelope[:]))
	}
	return notebook, envelope
}

func (w *world) unseal(c *command) draft {
	var body club.UnsealBody
	for _, name := range c.words {
		body.Keys = append(body.Keys, club.SampleKey{Sample: w.sample(name).id, Private: w.sample(name).keys.Private})
	}
	if c.options["flaw"] == "wrong" {
		body.Keys[len(body.Keys)-1].Private[5]++
	}
	if c.options["flaw"] == "unclamped" {
		body.Keys[len(body.Keys)-1].Private[31] |= 128
	}
	return control(oplog.Unseal, body)
}

// doc names a document: "guess:417" (the author's), "guess:417:mira", "profile", "profile:mira", "book", "flight:f1", or any
// other word for one of the author's own.
func (w *world) doc(author *device, name string) oplog.DocID {
	fields := strings.Split(name, ":")
	of := func(i int) oplog.MemberID {
		if len(fields) > i {
			return w.person(fields[i]).id
		}
		return author.owner.id
	}
	var id oplog.DocID
	switch fields[0] {
	case "guess":
		id = oplog.GuessDoc(w.sample(fields[1]).id, of(2))
	case "profile":
		id = oplog.ProfileDoc(of(1))
	case "book":
		id = oplog.BookDoc
	case "flight":
		id = oplog.FlightDoc(w.flight(fields[1]))
	default:
		sum := seal.Sum("doc", []byte(name))
		id = oplog.DocID(sum[:16])
	}
	w.names[id] = name
	return id
}

func (w *world) docIDs(author *device, names []string) (ids []oplog.DocID) {
	for _, name := range names {
		ids = append(ids, w.doc(author, name))
	}
	return ids
}

// write seals a part. Guesses, and what says `about=SAMPLE`, lie under the author's envelope, and hand it over when it is new
// to the server, or when `wrap=yes`, and not when `wrap=no`.
func (w *world) write(author *device, c *command) draft {
	name, part := c.word(0), c.number("part", 1)
	about := c.options["about"]
	if strings.HasPrefix(name, "guess:") && about == "" {
		about = strings.Split(name, ":")[1]
	}
	epoch := w.epoch(c.number("epoch", 0))
	if c.options["flaw"] == "epoch" {
		epoch = w.key()
	}
	h := oplog.Header{Kind: oplog.Part, Doc: w.doc(author, name), Part: uint32(part)}
	keys := []seal.Key{epoch}
	if about != "" && about != "nothing" {
		to := w.sample(about)
		_, envelope := w.envelopeFor(author, to, c)
		keys = []seal.Key{envelope, epoch}
		_, known := w.server.WrapOf(author.owner.id, named(envelope))
		if !known && c.options["wrap"] != "no" || c.options["wrap"] == "yes" {
			h.Wrap = w.envelopeWrap(author, to, c)
		}
	}
	for _, k := range keys {
		h.Keys = append(h.Keys, named(k))
	}
	pad := seal.Powers
	if strings.HasPrefix(name, "guess:") && part == 1 && c.options["flaw"] != "small" {
		pad = seal.Uniform
	}
	ad := oplog.AssociatedData(w.book, author.id(), oplog.Part, h.Doc, h.Part, h.Keys)
	return draft{h, must(seal.SealUnder(w.rand, keys, ad, []byte(either(c.options["says"], "plum")), pad))}
}

// named is a key's id as an op names it.
func named(key seal.Key) oplog.KeyID { return oplog.KeyID(key.ID()) }
