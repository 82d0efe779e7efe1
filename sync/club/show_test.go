package club_test

import (
	"fmt"
	"strings"
	"testing"

	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/seal"
)

// show prints what the phone's state says.
func (w *world) show(words []string) string {
	switch words[0] {
	case "members":
		return w.showMembers()
	case "invite":
		info, _ := w.phone.Invite(w.link(words[1]).Public())
		return fmt.Sprintf("used %d of %d, revoked %v, ended %v, open: %s", info.Used, info.Body.Uses, info.Revoked, info.Ended,
			w.code(w.phone.InviteOpen(w.link(words[1]).Public(), w.now)))
	case "epochs":
		return fmt.Sprintf("%d epochs, the last at %d, due %v", len(w.phone.Epochs()), w.phone.Epoch().Pos, w.phone.EpochDue())
	case "flight":
		f, _ := w.phone.Flight(w.flight(words[1]))
		return fmt.Sprintf("opened at %d, %d samples, closed by time at %d", f.Pos, len(w.phone.Samples(f.ID)), f.ClosedPos)
	case "sample":
		return w.showSample(words[1])
	case "guesses":
		return w.showGuesses(words[1])
	case "docs":
		return w.showDocs()
	case "missing":
		return fmt.Sprintf("missing %v", w.docs.Missing())
	case "epoch-of":
		return w.showEpochOf(w.device(words[1]))
	}
	panic("nothing to show: " + words[0])
}

func (w *world) code(err error) string {
	if err == nil {
		return "yes"
	}
	_, code := classOf(err)
	w.produced[code] = true
	return code
}

func (w *world) showMembers() string {
	var out strings.Builder
	for _, m := range w.phone.Members() {
		role := map[club.Role]string{club.Organiser: "organiser", club.Taster: "taster"}[m.Role]
		fmt.Fprintf(&out, "%s: %s from %d", w.names[m.ID], role, m.JoinedPos)
		if !m.In() {
			fmt.Fprintf(&out, ", out at %d (removed %v)", m.LeftPos, m.Removed)
		}
		for _, d := range m.Devices {
			fmt.Fprintf(&out, "; %s %d-%d", w.names[d.Sign], d.FromPos, d.RemovedPos)
		}
		out.WriteString("\n")
	}
	return out.String()
}

var closings = map[club.Closed]string{
	club.Open: "open", club.ClosedByLock: "lock", club.ClosedByTime: "time", club.ClosedByEarly: "opened early",
}

func (w *world) showSample(name string) string {
	i, ok := w.phone.Sample(w.sample(name).id)
	if !ok {
		return "none"
	}
	return fmt.Sprintf("%d of %s at %d, closed at %d (%s), unsealed at %d", i.Body.Code, w.names[i.Keeper], i.Pos,
		i.ClosedPos, closings[i.ClosedHow], i.UnsealedPos)
}

func (w *world) showGuesses(name string) string {
	at := func(r *club.Revision) string {
		if r == nil {
			return "-"
		}
		return fmt.Sprint(r.Pos)
	}
	out := ""
	for _, g := range w.phone.Guesses(w.sample(name).id) {
		out += fmt.Sprintf("%s: scores %s, late %s, first %s %s", w.names[g.Member], at(g.Scoring), at(g.Late), at(g.First), g.Void)
		out = strings.TrimRight(out, " ") + "\n"
	}
	return either(out, "none")
}

func (w *world) showDocs() string {
	var out strings.Builder
	w.docs.Each(func(d club.Winner) bool {
		fmt.Fprintf(&out, "%s/%d by %s at %d", w.names[d.Doc], d.Part, w.names[d.Device], d.Pos)
		if d.Sample != nil {
			fmt.Fprintf(&out, ", about %s", w.names[*d.Sample])
		}
		if d.Shared {
			out.WriteString(", shared")
		}
		if d.Erased {
			out.WriteString(", erased")
		}
		if d.Missing {
			out.WriteString(", missing")
		}
		out.WriteString("\n")
		return true
	})
	return out.String()
}

// showEpochOf unwraps, with a device's own secret, what it was granted, and walks back from the newest by Before.
func (w *world) showEpochOf(d *device) string {
	granted := w.phone.GrantsFor(d.id())
	if len(granted) == 0 {
		return "nothing was granted"
	}
	last := granted[len(granted)-1]
	wrapped := must(seal.ParseWrapped(last.Enc[:], last.Box))
	book := w.book
	if w.phone.Epochs()[0].ID == last.Epoch && w.cameFirst(d) {
		book = oplog.BookID{}
	}
	info := seal.Info(seal.PurposeEpoch, book, last.Epoch[:], d.owner.id, seal.KeyID(last.Epoch))
	key, err := seal.Unwrap(d.secret.BoxSeed, info, wrapped, seal.KeyID(last.Epoch))
	if err != nil {
		return "unreadable: " + err.Error()
	}
	epochs := w.phone.Epochs()
	reached := 1
	for i := len(epochs) - 1; i > 0; i-- {
		if epochs[i].ID != oplog.KeyID(key.ID()) {
			continue
		}
		before := epochs[i-1].ID
		info := seal.Info(seal.PurposeBefore, w.book, epochs[i].ID[:], oplog.MemberID{}, seal.KeyID(before))
		if key, err = seal.OpenKey(key, info, epochs[i].Before.Box, seal.KeyID(before)); err != nil {
			return "unreadable: " + err.Error()
		}
		reached++
	}
	return fmt.Sprintf("granted %d, reaches %d of %d epochs", len(granted), reached, len(epochs))
}

// cameFirst says whether `create` enrolled the device: its wrap names no book.
func (w *world) cameFirst(d *device) bool {
	for _, info := range w.phone.Members()[0].Devices {
		if info.Sign == d.id() {
			return info.FromPos == 1
		}
	}
	return false
}

// lie hands the phone what no honest server would: `lie gap|chain|time <command>` misplaces an entry; `lie dropped <command>`
// gives a control op without its body; `lie void <command>` orders an op that the door refused, and lets it stand.
func (w *world) lie(words []string) string {
	line := strings.Join(words[1:], " ")
	run := w.compose(line)
	order, at := w.phone.Order(), max(w.now, w.phone.Order().At)
	if words[0] == "time" {
		at = order.At - 1
	}
	entries, _ := order.Entries(&run, at)
	switch words[0] {
	case "gap":
		entries[0].Order.Pos++
	case "chain":
		entries[0].Order.Chain[0]++
	}
	if words[0] != "void" {
		phone := w.phone.Clone()
		class := w.tried(phone, entries, "")
		_, code, _ := strings.Cut(class, " ")
		w.produced[code] = true
		return "a phone: " + class
	}
	return w.stands(entries)
}

// stands lets void entries stay in the order, on the phone and on the server.
func (w *world) stands(entries []oplog.Entry) string {
	out := ""
	for _, e := range entries {
		class, code := classOf(w.phone.Fold(e, w.chainAt))
		if class == "tampering" || class == "stop" {
			w.t.Fatalf("position %d was to be void: %s %s", e.Order.Pos, class, code)
		}
		w.server.Fold(e, w.chainAt)
		w.chain = append(w.chain, e.Order.Chain)
		w.produced[code] = true
		out += fmt.Sprintf("%d: %s %s\n", e.Order.Pos, class, code)
	}
	w.agree()
	return out
}

// crowd lets many members with many devices each come in by one link: `crowd LINK members=M devices=D`; it prints the first
// result that is not "taken", or the last.
func (w *world) crowd(words []string) string {
	c := parse("crowd joins " + strings.Join(words, " "))
	result := ""
	for m := range c.number("members", 1) {
		w.guests++
		name := fmt.Sprintf("guest%d", w.guests)
		devices := name
		for d := 1; d < c.number("devices", 1); d++ {
			devices += fmt.Sprintf(",%s.%d", name, d)
		}
		result = w.push(fmt.Sprintf("%s joins %s devices=%s", name, c.word(0), devices))
		if !strings.Contains(result, "taken") {
			return fmt.Sprintf("after %d members: %s", m, result)
		}
	}
	return result
}

// many repeats a command with a number in place of %d: `many 100 163 vega seals f1 %d`.
func (w *world) many(rest string) string {
	var from, to int
	fmt.Sscan(rest, &from, &to)
	line := strings.Join(strings.Fields(rest)[2:], " ")
	result := ""
	for i := from; i <= to; i++ {
		result = w.push(strings.ReplaceAll(line, "%d", fmt.Sprint(i)))
		if !strings.Contains(result, "taken") {
			return fmt.Sprintf("at %d: %s", i, result)
		}
	}
	return result
}

// undo admits a run and takes it back, as a server does whose commit fails.
func (w *world) undo(line string) string {
	before := w.server.Encode()
	run := w.compose(line)
	if _, err := w.server.Admit(&run, w.now, w.chainAt); err != nil {
		return err.Error()
	}
	changed := string(before) != string(w.server.Encode())
	w.server.Undo()
	w.noteEpochs()
	w.agree()
	return fmt.Sprintf("changed the state: %v; taken back whole: %v", changed, string(before) == string(w.server.Encode()))
}

// everyRuleIsProduced checks that each code of the table is the result of some scenario.
func everyRuleIsProduced(t *testing.T, produced map[string]bool) {
	for _, code := range club.Codes() {
		if !produced[code] {
			t.Errorf("no scenario produces %q", code)
		}
	}
}
