package app

import (
	"hushcup/sync/codec"
	"hushcup/sync/replica"
)

// takeItem keeps an item under the id that it has in the file: brews speak of it by that.
func (a *App) takeItem(record *DataRecord) (key string, taken taking, err *Error) {
	if _, ok := itemParts[record.Kind]; !ok {
		return "", taken, unknown("kind")
	}
	item, id := record.given()
	if item == nil {
		return "", taken, refuse(CodeRequired, record.Kind, "there is nothing in it")
	}
	doc, err := itemID(record.Kind, *id)
	if err = first(err, item.check()); err != nil {
		return "", taken, err
	}
	key = record.Kind + " " + *id
	if part, ok := a.replica.Doc(a.notebook(), a.mine(a.notebook(), doc, itemParts[record.Kind])); ok {
		return key, taking{known: !part.Erased, gone: part.Erased}, nil
	}
	if err := a.roomFor(record.Kind); err != nil {
		return key, taken, err
	}
	return key, taking{write: func() *Error {
		*id = ""
		return a.write(a.notebook(), doc, itemParts[record.Kind], replica.UnderEpoch, itemContent{Away: record.Away, Item: codec.MustMarshal(item)})
	}}, nil
}

// takeHome keeps the kitchen when none was told here.
func (a *App) takeHome(home *Home) (taken taking, err *Error) {
	if err := home.check(); err != nil {
		return taken, err
	}
	if _, told := a.replica.Doc(a.notebook(), a.mine(a.notebook(), settingsDoc, partHome)); told {
		return taking{known: true}, nil
	}
	return taking{write: func() *Error {
		return a.write(a.notebook(), settingsDoc, partHome, replica.UnderEpoch, homeContent{home})
	}}, nil
}
