package app

// Handlers that are not built yet. This file goes when the last of them has moved to its own.

var errUnbuilt = &Error{Code: CodeNotYet, Text: "this is not built yet"}

func (a *App) planBrew(BrewPlan) (BrewPlanned, *Error)      { return BrewPlanned{}, errUnbuilt }
func (a *App) holdBrew(BrewHold) *Error                     { return errUnbuilt }
func (a *App) abandonBrew(BrewAbandon) *Error               { return errUnbuilt }
func (a *App) countBrew(BrewCount) *Error                   { return errUnbuilt }
func (a *App) readCup(BrewReading) *Error                   { return errUnbuilt }
func (a *App) startBowls(BowlsStart) (BowlsStarted, *Error) { return BowlsStarted{}, errUnbuilt }
func (a *App) lookTable(TableParams) (TableView, *Error)    { return TableView{}, errUnbuilt }
