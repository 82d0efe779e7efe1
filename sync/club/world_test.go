package club_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// world is one book with a server at its door and a phone that folds what the server ordered, both with real keys. Every
// accepted run is checked on both, and every refused one is also tried on a copy of the phone, as if the server had lied.
type world struct {
	t        reporter
	rand     *stream
	now      int64 // the server's clock
	ticks    int64
	guests   int
	server   *club.State
	phone    *club.State
	docs     *club.Docs
	chain    []oplog.Hash // by position
	book     oplog.BookID
	people   map[string]*person
	devices  map[string]*device
	names    map[any]string // of members, devices, flights, samples and keys
	epochs   []seal.Key     // as the server took them
	minted   []seal.Key     // as authors made them
	links    map[string]seal.Invite
	flights  map[string]oplog.FlightID
	samples  map[string]*lot
	produced map[string]bool
}

type person struct {
	id       oplog.MemberID
	notebook seal.Key
}

type device struct {
	name   string
	owner  *person
	secret seal.Identity
	code   bool // a recovery code's device
}

func (d *device) id() oplog.DeviceID { return d.secret.Public().Sign }

func (d *device) enrolment() club.Enrolment {
	public := d.secret.Public()
	return club.Enrolment{Sign: public.Sign, Box: public.Box, Recovery: d.code}
}

type lot struct {
	id   oplog.SampleID
	keys seal.Sample
}

// stream is deterministic randomness.
type stream struct {
	seed  string
	count uint64
}

func (s *stream) Read(b []byte) (int, error) {
	for n := 0; n < len(b); {
		s.count++
		block := sha256.Sum256(binary.BigEndian.AppendUint64([]byte(s.seed), s.count))
		n += copy(b[n:], block[:])
	}
	return len(b), nil
}

const evening = 1_900_000_000_000 // when every scenario begins, by the server's clock

// reporter is what a world tells its failures: a test, a fuzz target, or a property being checked.
type reporter interface {
	Helper()
	Fatalf(format string, args ...any)
}

func newWorld(t reporter) *world {
	return &world{
		t: t, rand: &stream{seed: "observatory"}, now: evening,
		server: club.New(), phone: club.New(), docs: club.NewDocs(), chain: make([]oplog.Hash, 1),
		people: map[string]*person{}, devices: map[string]*device{}, names: map[any]string{},
		links: map[string]seal.Invite{}, flights: map[string]oplog.FlightID{}, samples: map[string]*lot{},
		produced: map[string]bool{},
	}
}

func (w *world) draw(n int) []byte {
	b := make([]byte, n)
	w.rand.Read(b)
	return b
}

func (w *world) key() seal.Key { return seal.Key(w.draw(32)) }

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// device finds or makes a device by its name: "mira", "mira.tablet", "mira.code" belong to mira.
func (w *world) device(name string) *device {
	if d := w.devices[name]; d != nil {
		return d
	}
	d := &device{name: name, owner: w.person(strings.Split(name, ".")[0]), secret: must(seal.NewIdentity(w.rand))}
	d.code = strings.Contains(name, ".code")
	w.devices[name] = d
	w.names[d.id()] = name
	return d
}

func (w *world) person(name string) *person {
	if p := w.people[name]; p != nil {
		return p
	}
	p := &person{id: oplog.MemberID(w.draw(16)), notebook: w.key()}
	w.people[name] = p
	w.names[p.id] = name
	return p
}

func (w *world) flight(name string) oplog.FlightID {
	if _, ok := w.flights[name]; !ok {
		w.flights[name] = oplog.FlightID(w.draw(16))
		w.names[w.flights[name]] = name
	}
	return w.flights[name]
}

func (w *world) sample(name string) *lot {
	if w.samples[name] == nil {
		w.samples[name] = &lot{id: oplog.SampleID(w.draw(16))}
		w.names[w.samples[name].id] = name
	}
	return w.samples[name]
}

// epoch is the key of an epoch by number from the end: 0 is the current one.
func (w *world) epoch(back int) seal.Key {
	if len(w.epochs) <= back {
		return seal.Key{}
	}
	return w.epochs[len(w.epochs)-1-back]
}

// command is one parsed line: who, what, and the rest as words and key=value options.
type command struct {
	who     string
	verb    string
	words   []string
	options map[string]string
}

func parse(line string) command {
	fields := strings.Fields(line)
	c := command{who: fields[0], verb: fields[1], options: map[string]string{}}
	for _, f := range fields[2:] {
		if key, value, ok := strings.Cut(f, "="); ok {
			c.options[key] = value
		} else {
			c.words = append(c.words, f)
		}
	}
	return c
}

func (c *command) word(i int) string {
	if i < len(c.words) {
		return c.words[i]
	}
	return ""
}

func (c *command) number(key string, without int) int {
	text, ok := c.options[key]
	if !ok {
		return without
	}
	return must(strconv.Atoi(text))
}

// span reads a time such as "+2h", "-5m" or "10s", in milliseconds.
func span(text string) int64 {
	if text == "" {
		return 0
	}
	unit := map[byte]int64{'s': 1000, 'm': 60_000, 'h': 3_600_000, 'd': 86_400_000}[text[len(text)-1]]
	return must(strconv.ParseInt(strings.TrimPrefix(text[:len(text)-1], "+"), 10, 64)) * unit
}

// run carries out one line. Commands joined by " ; " are one run of one device. Lines that begin with none of these words begin
// with the name of the device that writes.
func (w *world) run(line string) string {
	switch first, rest, _ := strings.Cut(line, " "); first {
	case "wait":
		w.now += span(rest)
		return "the server's clock moves on " + rest
	case "show":
		return w.show(strings.Fields(rest))
	case "lie":
		return w.lie(strings.Fields(rest))
	case "crowd":
		return w.crowd(strings.Fields(rest))
	case "many":
		return w.many(rest)
	case "undo":
		return w.undo(rest)
	}
	return w.push(line)
}

// compose makes the run that a line asks for, after the device's chain as the server has it.
func (w *world) compose(line string) oplog.Run {
	var ops []oplog.Op
	var author *device
	for i, one := range strings.Split(line, " ; ") {
		if i > 0 && author != nil {
			one = author.name + " " + one
		}
		c := parse(one)
		author = w.device(c.who)
		head := w.server.Head(author.id())
		if i > 0 {
			head = oplog.Head{Seq: ops[i-1].Seq, Hash: ops[i-1].Hash()}
		}
		ops = append(ops, w.op(author, &c, head))
		if w.server.Order().Pos == 0 && ops[0].Kind == oplog.Create {
			w.book = ops[0].BookOf() // for what follows in the same run
		}
	}
	return oplog.Sign(ops, author.secret.Sign)
}

// op builds one op, with the flaws that the command asks for.
func (w *world) op(author *device, c *command, head oplog.Head) oplog.Op {
	draft := w.draft(author, c)
	h := &draft.header
	h.Book, h.Device, h.Seq, h.Prev = w.book, author.id(), head.Seq+1, head.Hash
	switch {
	case h.Kind == oplog.Create:
		h.Book = oplog.BookID{}
	case w.server.Order().Pos == 0 && h.Seq == 1:
		h.Book = oplog.BookID{1}
	}
	w.ticks++
	h.Time = oplog.TimeAt(w.now+span(c.options["time"])) + oplog.Time(w.ticks)
	seen := c.number("seen", int(w.server.Order().Pos))
	h.SeenPos, h.SeenHash = uint64(seen), w.chain[min(seen, len(w.chain)-1)]
	body := draft.body
	switch c.options["flaw"] {
	case "replay":
		h.Seq, h.Prev = head.Seq, oplog.Hash(w.draw(32))
	case "gap":
		h.Seq, h.Prev = head.Seq+2, oplog.Hash(w.draw(32))
	case "fork":
		h.Prev = oplog.Hash(w.draw(32))
	case "history":
		h.SeenHash = oplog.Hash(w.draw(32))
	case "book":
		h.Book = oplog.BookID(w.draw(32))
	case "header":
		h.Part = 7
	case "field":
		body = withUnknownField(body)
	case "short":
		body = body[:len(body)-1]
	}
	op := oplog.New(*h, body)
	if c.options["flaw"] == "dropped" {
		op.Body = nil
	}
	return must(oplog.Parse(op.Raw, op.Body))
}

// push offers a run to the server.
func (w *world) push(line string) string {
	run := w.compose(line)
	before := w.server.Encode()
	if run.Ops[0].Body != nil { // a dropped body cannot be pushed over the wire, only be given out by a lying server
		packed := run.Pack()
		run = must(packed.Unpack())
	}
	entries, err := w.server.Admit(&run, w.now, w.chainAt)
	if err != nil {
		if !bytes.Equal(before, w.server.Encode()) {
			w.t.Fatalf("%s: a refusal changed the state", line)
		}
		return w.refused(&run, err)
	}
	return w.accepted(entries)
}

func (w *world) chainAt(pos uint64) (oplog.Hash, bool) {
	if pos < uint64(len(w.chain)) {
		return w.chain[pos], true
	}
	return oplog.Hash{}, false
}

// accepted folds an accepted run on the phone, which must agree with the server.
func (w *world) accepted(entries []oplog.Entry) string {
	var dropped []string
	w.book = w.server.Book()
	for _, e := range entries {
		if err := w.phone.Fold(e, w.chainAt); err != nil {
			w.t.Fatalf("the server took position %d, but a phone says %v", e.Order.Pos, err)
		}
		w.chain = append(w.chain, e.Order.Chain)
		for _, pos := range w.docs.Fold(e, w.phone) {
			dropped = append(dropped, strconv.FormatUint(pos, 10))
		}
	}
	w.noteEpochs()
	w.agree()
	first, last := entries[0].Order.Pos, entries[len(entries)-1].Order.Pos
	text := fmt.Sprintf("%d: taken", first)
	if last > first {
		text = fmt.Sprintf("%d-%d: taken", first, last)
	}
	if len(dropped) > 0 {
		text += ", may drop " + strings.Join(dropped, " ")
	}
	return text
}

// noteEpochs keeps the keys of the epochs that the server took.
func (w *world) noteEpochs() {
	w.epochs = nil
	for _, e := range w.server.Epochs() {
		for _, key := range w.minted {
			if named(key) == e.ID {
				w.epochs = append(w.epochs, key)
				break
			}
		}
	}
}

// agree checks that server, phone, copies and snapshots are all the same.
func (w *world) agree() {
	w.t.Helper()
	state := w.phone.Encode()
	if !bytes.Equal(state, w.server.Encode()) {
		w.t.Fatalf("position %d: server and phone differ", w.phone.Order().Pos)
	}
	again, err := club.Decode(state)
	if err != nil || !bytes.Equal(again.Encode(), state) || !bytes.Equal(w.phone.Clone().Encode(), state) {
		w.t.Fatalf("position %d: snapshot or copy differs: %v", w.phone.Order().Pos, err)
	}
	docs, err := club.DecodeDocs(w.docs.Encode())
	if err != nil || !bytes.Equal(docs.Encode(), w.docs.Encode()) || !bytes.Equal(w.docs.Clone().Encode(), w.docs.Encode()) {
		w.t.Fatalf("position %d: snapshot or copy of the documents differs: %v", w.phone.Order().Pos, err)
	}
	w.phone, w.docs = again, docs // and so the next step runs from a snapshot
}

// refused says why, and what a phone would say if the server had taken the run all the same.
func (w *world) refused(run *oplog.Run, err error) string {
	var refusal *club.Refusal
	if !errors.As(err, &refusal) {
		w.t.Fatalf("not a refusal: %v", err)
	}
	w.produced[refusal.Code] = true
	w.noteEpochs()
	where := ""
	if len(run.Ops) > 1 {
		where = fmt.Sprintf(" op %d", refusal.Op)
	}
	entries, _ := w.phone.Order().Entries(run, max(w.now, w.phone.Order().At))
	return fmt.Sprintf("refused%s: %s (a phone: %s)", where, refusal.Code, w.tried(w.phone.Clone(), entries, refusal.Code))
}

// tried folds entries that no honest server would give out.
func (w *world) tried(phone *club.State, entries []oplog.Entry, code string) string {
	chain := slices.Clone(w.chain)
	chainAt := func(pos uint64) (oplog.Hash, bool) {
		if pos < uint64(len(chain)) {
			return chain[pos], true
		}
		return oplog.Hash{}, false
	}
	for _, e := range entries {
		before := phone.Clone()
		err := phone.Fold(e, chainAt)
		if err != nil {
			unchanged(w.t, before, phone, &e, err)
			class, said := classOf(err)
			w.produced[said] = true
			if said != code {
				class += " " + said
			}
			return class
		}
		chain = append(chain, e.Order.Chain)
	}
	return "takes it"
}

// unchanged checks that an entry which was not taken changed nothing, or, when void, nothing but the chains.
func unchanged(t reporter, before, after *club.State, e *oplog.Entry, err error) {
	t.Helper()
	var void *club.Void
	if errors.As(err, &void) {
		before.Pass(*e)
	}
	if !bytes.Equal(before.Encode(), after.Encode()) {
		t.Fatalf("position %d changed the state though it is %v", e.Order.Pos, err)
	}
}

func classOf(err error) (class, code string) {
	switch err := err.(type) {
	case *club.Void:
		return "void", err.Code
	case *club.Tampering:
		return "tampering", err.Code
	case *club.Stop:
		return "stop", err.Code
	}
	return "nothing", ""
}
