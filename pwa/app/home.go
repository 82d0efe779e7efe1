package app

import (
	"hushcup/pwa/core/brewing"
	"hushcup/sync/codec"
	"hushcup/sync/replica"
)

// partHome is a part of the settings document: the kitchen is the same on all of one's devices.
const partHome uint32 = 26

// usualRoom is taken for a kitchen whose temperature nobody has said.
const usualRoom = 21

func (a *App) home() (h Home) {
	var content homeContent
	if a.read(a.notebook(), a.mine(a.notebook(), settingsDoc, partHome), &content); content.Home != nil {
		h = *content.Home
	}
	for _, used := range h.items() {
		if !a.has(used.what, *used.id) {
			*used.id = "" // it was removed since
		}
	}
	if h.Weight == "" {
		h.Weight = "g"
	}
	if h.Temperature == "" {
		h.Temperature = "C"
	}
	if h.Hardness == "" {
		h.Hardness = "mg/L"
	}
	return h
}

// homeItem is an item that a home names, and where.
type homeItem struct {
	what, field string
	id          *string
}

func (h *Home) items() [3]homeItem {
	return [...]homeItem{{"instrument", "scale", &h.Scale}, {"instrument", "refractometer", &h.Refractometer}, {"water", "water", &h.Water}}
}

func (h *Home) check() *Error {
	err := first(within("altitude", h.Altitude, -430, 5500), within("room", h.Room, 0, 45), text("range", &h.Range, 40, false))
	if h.Hardness != "" {
		err = first(err, oneOf("hardness", h.Hardness, "HardnessUnit"))
	}
	switch {
	case err != nil:
		return err
	case h.Weight != "" && h.Weight != "g" && h.Weight != "oz":
		return refuse(CodeImpossible, "weight", "g or oz")
	case h.Temperature != "" && h.Temperature != "C" && h.Temperature != "F":
		return refuse(CodeImpossible, "temperature", "C or F")
	}
	return nil
}

func (a *App) saveHome(h Home) *Error {
	if err := h.check(); err != nil {
		return err
	}
	if h.Range != "" && h.Range != a.home().Range { // one that a later version chose stays until another is chosen
		if err := oneOf("range", h.Range, "TradeRange"); err != nil {
			return err
		}
	}
	for _, used := range h.items() {
		if *used.id != "" && !a.has(used.what, *used.id) {
			return withField(unknown(used.what), used.field)
		}
	}
	return a.write(a.notebook(), settingsDoc, partHome, replica.UnderEpoch, homeContent{&h})
}

// homeContent is a Home as it is kept: with the words of the bridge, like the items of the Cupboard.
type homeContent struct {
	Home *Home `cbor:"1,keyasint"`
}

func (a *App) boiling() float64 { return boilingAt(a.home().Altitude) }

func boilingAt(altitude float64) float64 {
	return float64(brewing.BoilingPoint(brewing.Metres(altitude)))
}

func (a *App) readHome(h Home) (HomeReads, *Error) {
	if err := h.check(); err != nil {
		return HomeReads{}, err
	}
	return HomeReads{Boiling: boilingAt(h.Altitude), Ranges: chartRanges()}, nil
}

// personKey is where what concerns nobody else stands: on this device alone, in no book.
const personKey = ownKeys + "person"

func (a *App) loadPerson(record StoredRecord) {
	var p Person
	if record.Key == personKey && codec.UnmarshalOpen(record.Value, &p) == nil {
		a.personal = p
	}
}

func (a *App) savePerson(p Person) *Error {
	for _, allergen := range p.Allergens {
		if err := oneOf("allergens", allergen, "Allergen"); err != nil {
			return err
		}
	}
	return a.keepOwn(StoredRecord{Key: personKey, Value: codec.MustMarshal(p)}, func() {
		a.personal = p
		a.watches.touch(needDocs | needPage)
	})
}

// lookPerson waits for nothing: the hand that the guide is drawn for is known when it opens.
func (a *App) lookPerson(Nothing) (Person, *Error) { return a.personal, nil }
