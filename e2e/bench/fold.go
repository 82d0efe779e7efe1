package main

import (
	"fmt"
	"os"
	"time"

	"hushcup/e2e/native"
	"hushcup/e2e/proc"
	"hushcup/pwa/app"
)

const (
	foldRounds = 200
	foldBudget = 20 * time.Millisecond
)

// fold measures how long it takes until another phone has folded what one phone
// commits, both and the server on this machine. It counts from before the first
// phone seals and saves it, so it is more than was asked for.
func fold() ([]figure, error) {
	folder, err := os.MkdirTemp("", "hushcup-bench-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	server, err := proc.Run(folder)
	if err != nil {
		return nil, err
	}
	defer server.Kill()

	vega := native.Open(server.URL(""), native.NewDisk())
	defer vega.Close()
	mira := native.Open(server.URL(""), native.NewDisk())
	defer mira.Close()
	club, err := meet(vega, mira)
	if err != nil {
		return nil, err
	}
	var took []time.Duration
	for i := range foldRounds {
		name := fmt.Sprintf("Observatory %d", i)
		began := time.Now()
		if _, err := native.Do[app.Nothing](vega, app.CmdClubRename, app.ClubRename{Club: club, Name: name}); err != nil {
			return nil, err
		}
		if _, err := native.See(mira, app.ViewClub, app.ClubParams{Club: club}, func(c app.ClubView) bool { return c.Name == name }); err != nil {
			return nil, err
		}
		took = append(took, time.Since(began))
	}
	median := quantile(took, 0.5)
	return []figure{{name: "command to the other phone's fold", measured: milliseconds(median), budget: "<= " + milliseconds(foldBudget),
		within: median <= foldBudget, note: fmt.Sprintf("median of %d; 95 %% within %s", foldRounds, milliseconds(quantile(took, 0.95)))}}, nil
}

// meet makes a club of the first phone's and brings the second into it.
func meet(first, second *native.Phone) (club string, err error) {
	if _, err := native.Do[app.Nothing](first, app.CmdNotebookName, app.NotebookName{Name: "Vega"}); err != nil {
		return "", err
	}
	made, err := native.Do[app.ClubCreated](first, app.CmdClubCreate, app.ClubCreate{Name: "Observatory"})
	if err != nil {
		return "", err
	}
	invited, err := native.Do[app.ClubInvited](first, app.CmdClubInvite, app.ClubInvite{Club: made.Club, Role: "taster", Uses: 1, Days: 1})
	if err != nil {
		return "", err
	}
	if _, err := native.Do[app.ClubJoining](second, app.CmdClubJoin, app.ClubJoin{Link: invited.Link, Name: "Mira"}); err != nil {
		return "", err
	}
	_, err = native.See(second, app.ViewClub, app.ClubParams(made), func(c app.ClubView) bool { return len(c.Members) == 2 })
	return made.Club, err
}
