// Package demo makes the demonstration club: six people who staff a mountain observatory and taste along its valley road.
// Each of them is a real application (pwa/app) that runs natively against the server's own relay and store, so everything in
// the club is signed, sealed, ordered and scored as on a phone. The lots are invented; their origins are real places.
//
// The club's past is played through on a clock that begins five weeks ago. What people drank and thought is always the same;
// their keys are not, so a club of one server opens on no other.
package demo

import (
	"context"
	"fmt"
	"io"
	"strings"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
	"hushcup/sync/relay"
)

// Config says where the club is made.
type Config struct {
	Store  relay.Store
	Origin string    // the address that the links lead to, as "https://cup.example"
	Now    int64     // milliseconds since 1970; the running flight is open then
	Rand   io.Reader // fit for keys
}

// Person is somebody of the club. Link opens the app as them: it is a recovery code, so whoever has it is them.
type Person struct {
	Name string
	Link string
}

const (
	minute = int64(60_000)
	hour   = 60 * minute
	day    = 24 * hour
)

// began is how long ago the club was founded.
const began = 36 * day

// club is the club while it is made.
type club struct {
	village *village.Village
	people  []*person
	id      string
	start   int64
	tasted  int   // tastings that were played
	err     error // the first thing that went wrong; nothing is done after it
}

// Make adds a demonstration club to a store.
func Make(ctx context.Context, c Config) ([]Person, error) {
	_, host, _ := strings.Cut(c.Origin, "://")
	club := &club{start: c.Now - began, village: village.New(village.Config{
		Store: c.Store, Rand: c.Rand, Now: c.Now - began, Origin: c.Origin, Host: host,
	})}
	club.found()
	club.equip()
	club.water()
	for _, evening := range evenings {
		club.taste(evening.founded)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		club.play(evening)
	}
	club.taste(present.founded)
	club.bowls()
	club.running()
	links := club.links()
	club.advanceTo(c.Now - 20_000)
	if club.err != nil {
		return nil, fmt.Errorf("make the demonstration club: %w", club.err)
	}
	return links, nil
}

// found has everybody come into the club.
func (c *club) found() {
	for i := range cast {
		p := &person{habits: cast[i], phone: c.village.Phone(cast[i].name)}
		c.people = append(c.people, p)
		do[app.Nothing](c, p, app.CmdNotebookName, app.NotebookName{Name: p.name})
		do[app.Nothing](c, p, app.CmdDeviceName, app.DeviceName{Name: "the first phone"})
	}
	vega := c.people[0]
	c.id = do[app.ClubCreated](c, vega, app.CmdClubCreate, app.ClubCreate{Name: "Observatory table"}).Club
	link := do[app.ClubInvited](c, vega, app.CmdClubInvite, app.ClubInvite{Club: c.id, Role: "taster", Uses: len(cast), Days: 7}).Link
	c.village.Advance(10_000)
	for _, p := range c.people[1:] {
		do[app.ClubJoining](c, p, app.CmdClubJoin, app.ClubJoin{Link: link})
		c.village.Advance(10_000)
	}
	members := see[app.ClubView](c, vega, app.ViewClub, app.ClubParams{Club: c.id}).Members
	if len(members) != len(cast) && c.err == nil {
		c.err = fmt.Errorf("%d of %d came into the club", len(members), len(cast))
	}
	for i := range members {
		c.people[i].member = members[i].Member
	}
}

// links makes a recovery code for everybody.
func (c *club) links() (out []Person) {
	for _, p := range c.people {
		made := do[app.RecoveryMade](c, p, app.CmdRecoveryMake, app.Nothing{})
		c.village.Advance(5000)
		out = append(out, Person{Name: p.name, Link: made.Link})
	}
	return out
}

// advanceTo lets days pass, with the phones put away.
func (c *club) advanceTo(at int64) {
	for _, p := range c.people {
		p.phone.Stop()
	}
	c.village.Advance(max(at-c.village.Now(), 0))
	for _, p := range c.people {
		p.phone.Start()
	}
	c.village.Advance(10_000)
}

func do[R any](c *club, p *person, name string, args any) (result R) {
	if c.err != nil {
		return result
	}
	result, err := village.Do[R](p.phone, name, args)
	if err != nil {
		c.err = fmt.Errorf("%s, %s of %q: %w", p.name, name, err.Field, err)
	}
	return result
}

func see[V any](c *club, p *person, name string, params any) (value V) {
	if c.err != nil {
		return value
	}
	value, err := village.See[V](p.phone, name, params)
	if err != nil {
		c.err = fmt.Errorf("%s, view %s: %w", p.name, name, err)
	}
	return value
}
