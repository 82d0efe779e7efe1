package app

import (
	"hushcup/sync/codec"
	"hushcup/sync/oplog"
	"hushcup/sync/replica"
)

// Items of the Cupboard are documents of the notebook with one part each; the part's number says what it is.
const (
	partCoffee      uint32 = 30
	partBrewer      uint32 = 31
	partGrinder     uint32 = 32
	partWater       uint32 = 33
	partConcentrate uint32 = 34
	partInstrument  uint32 = 35
	partRecipe      uint32 = 36
)

var itemParts = map[string]uint32{
	"coffee": partCoffee, "brewer": partBrewer, "grinder": partGrinder, "water": partWater, "concentrate": partConcentrate,
	"instrument": partInstrument, "recipe": partRecipe,
}

// itemContent is an item as it is kept. Item is the struct of item.go as it crosses the bridge, so a field there may be added
// and none may change its meaning; one that this version does not know stays.
type itemContent struct {
	Away bool      `cbor:"1,keyasint"`
	Item codec.Raw `cbor:"2,keyasint"`
}

// mostItems of one kind is more than a cupboard holds, and less than a screen or a loop would suffer from.
const mostItems = 500

// item is one item as it is kept.
func (a *App) item(what, id string) (doc oplog.DocID, content itemContent, err *Error) {
	if doc, err = itemID(what, id); err != nil {
		return doc, content, err
	}
	switch a.read(a.notebook(), a.mine(a.notebook(), doc, itemParts[what]), &content) {
	case replica.BodyReady:
		return doc, content, nil
	case replica.BodyLoading:
		return doc, content, errReading
	}
	return doc, content, unknown(what)
}

// has says whether an item stands in the Cupboard, without reading it.
func (a *App) has(what, id string) bool {
	doc, err := itemID(what, id)
	if err != nil {
		return false
	}
	part, ok := a.replica.Doc(a.notebook(), a.mine(a.notebook(), doc, itemParts[what]))
	return ok && !part.Erased
}

func itemID(what, text string) (oplog.DocID, *Error) { return id[oplog.DocID](what, text) }

// open reads an item of the Cupboard by its id; false when there is none, or while it is being read.
func open[T any](a *App, what, id string, into *T) bool {
	if id == "" {
		return false
	}
	_, content, err := a.item(what, id)
	return err == nil && codec.UnmarshalOpen(content.Item, into) == nil
}

// saveItem keeps an item, a new one without an id.
func (a *App) saveItem(what, id string, item any) (Saved, *Error) {
	doc, before, err := a.place(what, id)
	if err != nil {
		return Saved{}, err
	}
	after := itemContent{Away: before.Away, Item: keepUnknownWords(before.Item, codec.MustMarshal(item))}
	if err := a.write(a.notebook(), doc, itemParts[what], replica.UnderEpoch, after); err != nil {
		return Saved{}, err
	}
	return Saved{ID: doc.String()}, nil
}

// place is where an item stands: its own document, or a new one.
func (a *App) place(what, id string) (doc oplog.DocID, before itemContent, err *Error) {
	if id != "" {
		return a.item(what, id)
	}
	if err := a.roomFor(what); err != nil {
		return doc, before, err
	}
	doc, err = a.randomDoc()
	return doc, before, err
}

// roomFor refuses one more than a cupboard holds.
func (a *App) roomFor(what string) *Error {
	count := 0
	a.replica.OwnParts(a.notebook(), itemParts[what], func(part replica.OwnPart) {
		if !part.Erased {
			count++
		}
	})
	return tooMany(what, count+1, mostItems)
}

// keepUnknownWords carries fields over that an older revision has and this version does not know.
func keepUnknownWords(old, plain codec.Raw) codec.Raw {
	var before, after map[string]codec.Raw
	if len(old) == 0 || codec.UnmarshalOpen(old, &before) != nil || codec.UnmarshalOpen(plain, &after) != nil {
		return plain
	}
	for field, value := range before {
		if _, known := after[field]; !known {
			after[field] = value
		}
	}
	return codec.MustMarshal(after)
}

// eachItem calls f for every item of a kind with its id, and with what reads it.
func eachItem[T any](a *App, what string, f func(id string, away bool, item T)) {
	seen := map[oplog.DocID]bool{}
	a.replica.OwnParts(a.notebook(), itemParts[what], func(part replica.OwnPart) {
		if part.Erased || seen[part.Doc] {
			return
		}
		seen[part.Doc] = true
		var content itemContent
		var item T
		if a.read(a.notebook(), a.mine(a.notebook(), part.Doc, itemParts[what]), &content) != replica.BodyReady ||
			codec.UnmarshalOpen(content.Item, &item) != nil {
			return
		}
		f(part.Doc.String(), content.Away, item)
	})
}

// removeItem puts an item away that brews refer to, and forgets any other everywhere.
func (a *App) removeItem(args ItemName) (ItemRemoved, *Error) {
	if err := oneOf("what", args.What, "ItemKind"); err != nil {
		return ItemRemoved{}, err
	}
	doc, content, err := a.item(args.What, args.ID)
	if err != nil {
		return ItemRemoved{}, err
	}
	if brews, _, _ := a.index.used(a, args.What, args.ID); brews > 0 {
		content.Away = true
		return ItemRemoved{Away: true}, a.write(a.notebook(), doc, itemParts[args.What], replica.UnderEpoch, content)
	}
	return ItemRemoved{}, a.wait(a.replica.Erase(a.now, a.notebook(), []oplog.DocID{doc}))
}

// bringBack takes an item out again that was put away.
func (a *App) bringBack(args ItemName) *Error {
	if err := oneOf("what", args.What, "ItemKind"); err != nil {
		return err
	}
	doc, content, err := a.item(args.What, args.ID)
	if err != nil {
		return err
	}
	content.Away = false
	return a.write(a.notebook(), doc, itemParts[args.What], replica.UnderEpoch, content)
}
