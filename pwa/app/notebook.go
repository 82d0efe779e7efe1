package app

import (
	"slices"
	"sort"

	"hushcup/sync/replica"
)

const (
	mostName  = 40
	mostTitle = 60
	mostNote  = 2000
)

func (a *App) settings() (content settingsContent, status replica.BodyStatus) {
	status = a.read(a.notebook(), a.mine(a.notebook(), settingsDoc, partSettings), &content)
	return content, status
}

func (a *App) changeSettings(change func(*settingsContent)) *Error {
	content, status := a.settings()
	if status == replica.BodyLoading {
		return errReading
	}
	change(&content)
	return a.write(a.notebook(), settingsDoc, partSettings, replica.UnderEpoch, content)
}

func (a *App) setName(args NotebookName) *Error {
	if err := text("name", &args.Name, mostName, true); err != nil {
		return err
	}
	return a.changeSettings(func(c *settingsContent) { c.Name = args.Name })
}

func (a *App) seeSafety(args SafetySeen) *Error {
	if err := oneOf("caution", args.Caution, "Caution"); err != nil {
		return err
	}
	return a.changeSettings(func(c *settingsContent) {
		if !slices.Contains(c.Seen, args.Caution) {
			c.Seen = append(c.Seen, args.Caution)
			sort.Strings(c.Seen)
		}
	})
}

func (a *App) storageReport(args StorageReport) *Error {
	a.page = args
	a.watches.touch(needPage)
	return nil
}

func (a *App) lookNotebook(Nothing) (NotebookView, *Error) {
	content, _ := a.settings()
	ready := a.replica.Sync().Identity
	home := a.home()
	v := NotebookView{Ready: ready, Name: content.Name, Seen: content.Seen, Weight: home.Weight, Temperature: home.Temperature}
	if ready {
		v.Book = a.notebook().String()
	}
	return v, nil
}

// keepHouse does what follows from the state of the books without anybody asking: it tells each club the person's name. It
// says whether it wrote something.
func (a *App) keepHouse() bool {
	content, status := a.settings()
	if status == replica.BodyLoading {
		return false // Changed follows, and this is asked again
	}
	a.untidy = false
	if content.Name == "" {
		return false
	}
	wrote := false
	for _, club := range a.clubs() {
		if club.in() && a.tellName(club, content.Name) {
			wrote = true
		}
	}
	return wrote
}

func (a *App) tellName(c clubBook, name string) bool {
	var told nameContent
	status := a.read(c.ID, replica.DocKey{Member: c.Member, Doc: profileDoc(c.Member), Part: partName}, &told)
	if status == replica.BodyLoading || told.Name == name {
		return false
	}
	return a.write(c.ID, profileDoc(c.Member), partName, replica.UnderEpoch, nameContent{Name: name}) == nil
}
