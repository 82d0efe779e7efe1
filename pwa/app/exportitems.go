package app

import (
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// emptyRecord gives a record of a kind with an empty item.
func emptyRecord(kind string) DataRecord {
	r := DataRecord{Kind: kind}
	switch kind {
	case "coffee":
		r.Coffee = &Coffee{}
	case "brewer":
		r.Brewer = &Brewer{}
	case "grinder":
		r.Grinder = &Grinder{}
	case "water":
		r.Water = &Water{}
	case "concentrate":
		r.Concentrate = &Concentrate{}
	case "instrument":
		r.Instrument = &Instrument{}
	case "recipe":
		r.Recipe = &Recipe{}
	}
	return r
}

// given is the item that a record holds, with what checks it and where its id stands; nil when it holds none.
func (r *DataRecord) given() (item checked, id *string) {
	switch {
	case r.Kind == "coffee" && r.Coffee != nil:
		return r.Coffee, &r.Coffee.ID
	case r.Kind == "brewer" && r.Brewer != nil:
		return r.Brewer, &r.Brewer.ID
	case r.Kind == "grinder" && r.Grinder != nil:
		return r.Grinder, &r.Grinder.ID
	case r.Kind == "water" && r.Water != nil:
		return r.Water, &r.Water.ID
	case r.Kind == "concentrate" && r.Concentrate != nil:
		return r.Concentrate, &r.Concentrate.ID
	case r.Kind == "instrument" && r.Instrument != nil:
		return r.Instrument, &r.Instrument.ID
	case r.Kind == "recipe" && r.Recipe != nil:
		return r.Recipe, &r.Recipe.ID
	}
	return nil, nil
}

// checked is what says by itself whether it can be.
type checked interface{ check() *Error }

// exportedItems are the kitchen and what stands in the Cupboard, put away or not.
func (a *App) exportedItems() (all []exported) {
	for _, kind := range words("ItemKind") {
		a.replica.OwnParts(a.notebook(), itemParts[kind], func(part replica.OwnPart) {
			if !part.Erased {
				all = append(all, exported{"item/" + kind + "/" + part.Doc.String(), func() (DataRecord, leftOut) { return a.itemRecord(kind, part.Doc) }})
			}
		})
	}
	return all
}

func (a *App) itemRecord(kind string, doc oplog.DocID) (DataRecord, leftOut) {
	record := emptyRecord(kind)
	item, id := record.given()
	_, content, err := a.item(kind, doc.String())
	if err != nil || codec.UnmarshalOpen(content.Item, item) != nil {
		return record, isUnread
	}
	*id, record.Away = doc.String(), content.Away
	return record, isThere
}

// exportedHome is the kitchen, once something was said of it.
func (a *App) exportedHome() (all []exported) {
	if _, said := a.replica.Doc(a.notebook(), a.mine(a.notebook(), settingsDoc, partHome)); !said {
		return nil
	}
	return []exported{{"home", func() (DataRecord, leftOut) {
		home := a.home()
		return DataRecord{Kind: "home", Home: &home}, isThere
	}}}
}
