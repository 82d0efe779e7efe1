package app

import (
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// bookWaterContent is a club's common water; without Set there is none.
type bookWaterContent struct {
	Set        bool    `cbor:"1,keyasint"`
	Hardness   float64 `cbor:"2,keyasint"`
	Alkalinity float64 `cbor:"3,keyasint"`
	Magnesium  float64 `cbor:"4,keyasint"`
	Note       string  `cbor:"5,keyasint"`
}

// reachContent is what a member says of one common water: 1 they can make it, 2 they cannot. Of another target it says nothing.
type reachContent struct {
	Says       uint8   `cbor:"1,keyasint"`
	Hardness   float64 `cbor:"2,keyasint"`
	Alkalinity float64 `cbor:"3,keyasint"`
	Magnesium  float64 `cbor:"4,keyasint"`
}

// reaches are the words of a reachContent's Says.
var reaches = [...]string{"", "yes", "no"}

func (c *bookWaterContent) target() *WaterTarget {
	if !c.Set {
		return nil
	}
	return &WaterTarget{Hardness: c.Hardness, Alkalinity: c.Alkalinity, Magnesium: c.Magnesium}
}

func (a *App) clubWater(c *clubBook) (content bookWaterContent, status replica.BodyStatus) {
	status = a.read(c.ID, shared(oplog.BookDoc, partBookWater), &content)
	return content, status
}

// setClubWater sets the club's common water, or takes it back.
func (a *App) setClubWater(args ClubWaterSet) *Error {
	c, err := a.organisersClub(args.Club)
	if err = first(err, text("note", &args.Note, 500, false)); err != nil {
		return err
	}
	content := bookWaterContent{Note: args.Note}
	if t := args.Target; t != nil {
		if err := t.check(); err != nil {
			return err
		}
		content.Set, content.Hardness, content.Alkalinity, content.Magnesium = true, t.Hardness, t.Alkalinity, t.Magnesium
	}
	return a.write(c.ID, oplog.BookDoc, partBookWater, replica.UnderEpoch, content)
}

// sayReach tells the club whether this member can make its water.
func (a *App) sayReach(args ClubWaterSay) *Error {
	c, err := a.memberClub(args.Club)
	if err = first(err, oneOf("says", args.Says, "WaterReach")); err != nil {
		return err
	}
	set, status := a.clubWater(&c)
	target := set.target()
	switch {
	case status == replica.BodyLoading:
		return errReading
	case target == nil:
		return &Error{Code: CodeNotYet, Text: "the club has no common water"}
	}
	content := reachContent{Hardness: target.Hardness, Alkalinity: target.Alkalinity, Magnesium: target.Magnesium}
	for i, word := range reaches {
		if word == args.Says {
			content.Says = uint8(i)
		}
	}
	return a.write(c.ID, profileDoc(c.Member), partReach, replica.UnderEpoch, content)
}

func (a *App) lookClubWater(params ClubParams) (ClubWaterView, *Error) {
	c, err := a.club(params.Club)
	if err != nil {
		return ClubWaterView{}, err
	}
	set, _ := a.clubWater(&c)
	v := ClubWaterView{Club: c.ID.String(), Name: a.clubName(&c), Target: set.target(), Note: set.Note, May: c.organiser(), Unit: a.hardnessUnit()}
	if v.Target == nil {
		return v, nil
	}
	for _, m := range c.State.Members() {
		if !m.In() {
			continue
		}
		line := ClubWaterLine{Member: m.ID.String(), Name: a.name(&c, m.ID), Me: m.ID == c.Member, Says: a.reach(&c, m.ID, v.Target)}
		if line.Me {
			v.Says = line.Says
		}
		v.Members = append(v.Members, line)
	}
	v.Mine = a.reachable(*v.Target)
	return v, nil
}

// reach is what a member says of a target.
func (a *App) reach(c *clubBook, member oplog.MemberID, target *WaterTarget) string {
	var said reachContent
	a.read(c.ID, replica.DocKey{Member: member, Doc: profileDoc(member), Part: partReach}, &said)
	if (WaterTarget{Hardness: said.Hardness, Alkalinity: said.Alkalinity, Magnesium: said.Magnesium}) != *target || int(said.Says) >= len(reaches) {
		return ""
	}
	return reaches[said.Says]
}

// reachable is a litre of what one's own Cupboard comes nearest to a target with; nil without any water in it.
func (a *App) reachable(target WaterTarget) *WaterMixed {
	var sources []mixSource
	for _, item := range a.waters() {
		if w := item.Water; !item.Kept.Away && len(sources) < mostSources {
			s := mixSource{MixSource: MixSource{What: "water", ID: w.ID}, name: w.Name, test: w.Source == "test"}
			s.water.Water = w.core()
			sources = append(sources, s)
		}
	}
	if len(sources) == 0 {
		return nil
	}
	for _, item := range a.concentrates() {
		c := item.Concentrate
		brings, ok := c.brings()
		if item.Kept.Away || !ok || len(sources) >= mostSources {
			continue
		}
		s := mixSource{MixSource: MixSource{What: "concentrate", ID: c.ID}, name: c.Name}
		s.water.Water, s.water.Dosed = brings, true
		sources = append(sources, s)
	}
	mixed, err := blend(sources, target, 1, a.scalePrecision())
	if err != nil {
		return nil
	}
	return &mixed
}

// clubTargets are the common waters of the clubs that this person is in.
func (a *App) clubTargets() (out []ClubTarget) {
	for _, c := range a.clubs() {
		set, _ := a.clubWater(&c)
		if target := set.target(); target != nil && c.in() {
			out = append(out, ClubTarget{Club: c.ID.String(), Name: a.clubName(&c), Target: *target})
		}
	}
	return out
}
