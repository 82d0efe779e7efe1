package app_test

import (
	"fmt"
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// BenchmarkPractice is from the disk's records to what sixty opened samples taught, beside 5,000 brews; BenchmarkStart is the
// part of it that every start has.
func BenchmarkPractice(b *testing.B) {
	v, vega := manyBrews(b, 5000)
	tasted(b, v, vega, 60)
	b.ResetTimer()
	for b.Loop() {
		vega.Start()
		seen, err := village.See[app.PracticeView](vega, app.ViewPractice, app.Nothing{})
		if err != nil || seen.Scored != 60 || seen.Pending != 0 {
			b.Fatalf("%d of %d are scored, %d are being read: %v", seen.Scored, seen.Opened, seen.Pending, err)
		}
	}
}

// tasted has a phone brew and guess samples of a club, each in a flight of its own, until all are open.
func tasted(b *testing.B, v *village.Village, taster *village.Phone, count int) {
	b.Helper()
	keeper := v.Phone("mira")
	club := ok[app.ClubCreated](b, keeper, app.CmdClubCreate, app.ClubCreate{Name: "Observatory"}).Club
	link := ok[app.ClubInvited](b, keeper, app.CmdClubInvite, app.ClubInvite{Club: club, Role: "taster", Uses: 2, Days: 7}).Link
	v.Advance(2000)
	ok[app.ClubJoining](b, taster, app.CmdClubJoin, app.ClubJoin{Link: link, Name: "Vega"})
	v.Advance(5000)
	for i := range count {
		flight := ok[app.FlightCreated](b, keeper, app.CmdFlightCreate, app.FlightCreate{Club: club, Title: fmt.Sprintf("evening %d", i+1)}).Flight
		sample := ok[app.SampleSealed](b, keeper, app.CmdSampleSeal, app.SampleSeal{
			Club: club, Flight: flight, Grams: 40, Declared: app.Declared{Choice: "nothing"}, Answer: ethiopia(),
		}).Sample
		v.Advance(3000)
		made := ok[app.BrewStarted](b, taster, app.CmdBrewStart, app.BrewStart{Club: club, Sample: sample, Setup: setup(), Run: true})
		ok[app.Nothing](b, taster, app.CmdBrewSave, app.BrewSave{Book: made.Book, Brew: made.Brew, Outcome: app.BrewOutcome{Notes: "plum"}})
		ok[app.Nothing](b, taster, app.CmdGuessSave, app.GuessSave{Club: club, Sample: sample, Facets: []app.SaidFacet{
			says("origin", "origin/africa/ethiopia", 2000+100*i), says("process", "process/washed", 7000-100*i),
		}})
		v.Advance(3000)
		ok[app.Nothing](b, keeper, app.CmdSampleUnseal, app.SampleUnseal{Club: club, Samples: []string{sample}, Close: true})
		v.Advance(3000)
	}
}

func ok[R any](b *testing.B, p *village.Phone, name string, args any) R {
	b.Helper()
	result, err := village.Do[R](p, name, args)
	if err != nil {
		b.Fatalf("%s: %v (field %q)", name, err, err.Field)
	}
	return result
}
