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
func (a *App) saveCoffee(Coffee) (Saved, *Error)            { return Saved{}, errUnbuilt }
func (a *App) saveBrewer(Brewer) (Saved, *Error)            { return Saved{}, errUnbuilt }
func (a *App) saveGrinder(Grinder) (Saved, *Error)          { return Saved{}, errUnbuilt }
func (a *App) saveWater(Water) (Saved, *Error)              { return Saved{}, errUnbuilt }
func (a *App) saveConcentrate(Concentrate) (Saved, *Error)  { return Saved{}, errUnbuilt }
func (a *App) saveInstrument(Instrument) (Saved, *Error)    { return Saved{}, errUnbuilt }
func (a *App) saveRecipe(Recipe) (Saved, *Error)            { return Saved{}, errUnbuilt }
func (a *App) removeItem(ItemName) (ItemRemoved, *Error)    { return ItemRemoved{}, errUnbuilt }
func (a *App) bringBack(ItemName) *Error                    { return errUnbuilt }
func (a *App) saveHome(Home) *Error                         { return errUnbuilt }
func (a *App) savePerson(Person) *Error                     { return errUnbuilt }
func (a *App) linkRecipe(ItemName) (RecipeLink, *Error)     { return RecipeLink{}, errUnbuilt }
func (a *App) readRecipe(RecipeText) (Recipe, *Error)       { return Recipe{}, errUnbuilt }
func (a *App) lookCupboard(Nothing) (CupboardView, *Error)  { return CupboardView{}, errUnbuilt }
func (a *App) lookAdvice(BrewParams) (AdviceView, *Error)   { return AdviceView{}, errUnbuilt }
