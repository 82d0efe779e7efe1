package replica_test

import (
	"context"
	"maps"
	"slices"
	"strings"
	"testing"

	"hushcup/sync/oplog"
	"hushcup/sync/replica"
	"hushcup/sync/wire"
)

// twoWithAChain are two members of a club whose chain stands in many records. The first was quiet, so its snapshot is written.
func twoWithAChain(t *testing.T) (w *world, vega, mira *phone, book oplog.BookID) {
	w = newWorld(t)
	w.segment = 8
	vega, mira = w.phone("vega"), w.phone("mira")
	book = w.found(vega, mira)
	for i := range 60 {
		mira.put(book, byte(i+1), 1, replica.UnderEpoch, "text")
		w.pass(400)
	}
	w.pass(60_000)
	return w, vega, mira, book
}

// chainKeys are the records of a book's chain that a start reads ("log/"), or those that it does not ("cold/").
func chainKeys(p *phone, room string, book oplog.BookID) (keys []string) {
	for _, key := range slices.Sorted(maps.Keys(p.disk)) {
		if strings.HasPrefix(key, room+book.String()+"/chain/") {
			keys = append(keys, key)
		}
	}
	return keys
}

func chainRecords(p *phone, book oplog.BookID) (hot, cold int) {
	return len(chainKeys(p, "log/", book)), len(chainKeys(p, "cold/", book))
}

// A start reads the newest record of a chain alone. The others are read once a server answers, and then it goes on as usual.
func TestREPLICA9_AStartReadsTheNewestOfTheChain(t *testing.T) {
	w, vega, mira, book := twoWithAChain(t)
	if hot, cold := chainRecords(vega, book); hot != 1 || cold < 7 {
		t.Fatalf("a start reads %d records of the chain, and leaves %d", hot, cold)
	}
	read := func(p *phone) (asked int) {
		for _, key := range p.asked {
			if strings.Contains(key, "/chain/") {
				asked++
			}
		}
		return asked
	}
	vega.goOffline()
	vega.asked = nil
	vega.crash(0)
	vega.put(book, 200, 1, replica.UnderEpoch, "written offline")
	w.pass(60_000)
	if n := read(vega); n != 0 {
		t.Errorf("%d records of the chain were read though no server answered", n)
	}
	mira.put(book, 201, 1, replica.UnderEpoch, "written meanwhile")
	w.pass(10_000)
	vega.goOnline()
	w.pass(10_000)
	if _, cold := chainRecords(vega, book); read(vega) < cold-1 {
		t.Errorf("%d records of the chain were read, of %d", read(vega), cold)
	}
	w.same(book, vega, mira)
	w.quiet(vega, mira)
	if got, _, _ := vega.body(book, mira.me(book), oplog.DocID{201}, 1); got != "written meanwhile" {
		t.Errorf("vega reads %q", got)
	}
	if got, _, _ := mira.body(book, vega.me(book), oplog.DocID{200}, 1); got != "written offline" {
		t.Errorf("mira reads %q", got)
	}
}

// A phone that was started anew can still tell a server what it has lost, from before the newest record of the chain on.
func TestREPLICA13_AStartedPhoneOffersFromFarBack(t *testing.T) {
	w, vega, mira, book := twoWithAChain(t)
	head, _ := w.store.Head(context.Background(), book)
	vega.goOffline()
	mira.goOffline()
	w.store.LoseTail(book, head.Order.Pos/3, enrolled(vega, book))
	w.boot()
	vega.crash(0)
	vega.goOnline()
	w.pass(40_000)
	if got, _ := w.store.Head(context.Background(), book); got.Order != head.Order {
		t.Fatalf("the server has %d of %d back; vega: %+v", got.Order.Pos, head.Order.Pos, vega.info(book))
	}
}

// A phone that was started anew still notices another history from before the newest record of the chain.
func TestREPLICA13_AStartedPhoneComparesFarBack(t *testing.T) {
	w, vega, _, book := twoWithAChain(t)
	vega.crash(0)
	w.pass(10_000)
	vega.hear(&wire.Behind{Book: book, Pos: 3, Chain: oplog.Hash{1}})
	if vega.stopped[book] != "chain-differs" {
		t.Fatalf("stopped with %q", vega.stopped[book])
	}
}

// Records of earlier versions, all of which a start read, are read, and moved by the next snapshot.
func TestREPLICA9_ChainsOfEarlierVersions(t *testing.T) {
	w, vega, mira, book := twoWithAChain(t)
	vega.goOffline()
	before := vega.r.Club(book).Order()
	for _, key := range chainKeys(vega, "cold/", book) {
		vega.disk["log"+strings.TrimPrefix(key, "cold")] = vega.disk[key]
		delete(vega.disk, key)
	}
	vega.crash(0)
	if now := vega.r.Club(book).Order(); now != before {
		t.Fatalf("at %d after the start, %d before", now.Pos, before.Pos)
	}
	vega.asked = nil
	vega.goOnline()
	for i := range 30 {
		mira.put(book, byte(100+i), 1, replica.UnderEpoch, "another")
		w.pass(400)
	}
	w.pass(60_000)
	for _, key := range vega.asked {
		if strings.Contains(key, "/chain/") {
			t.Errorf("%s is read, although the start had it", key)
		}
	}
	if hot, cold := chainRecords(vega, book); hot != 1 || cold < 11 {
		t.Errorf("a start reads %d records of the chain, and leaves %d", hot, cold)
	}
	vega.crash(0)
	w.pass(10_000)
	w.same(book, vega, mira)
	w.quiet(vega, mira)
}

// Chain records that are lost or cut, wherever they stand, cost a fetch and nothing else.
func TestREPLICA9_ADamagedChainIsFetchedAnew(t *testing.T) {
	for _, harm := range []struct {
		name string
		do   func(p *phone, key string)
	}{
		{"lost", func(p *phone, key string) { delete(p.disk, key) }},
		{"cut", func(p *phone, key string) { p.disk[key] = p.disk[key][:len(p.disk[key])/2] }},
		{"run before the book", func(p *phone, key string) { p.disk[key][32] = 9 }},
	} {
		t.Run(harm.name, func(t *testing.T) {
			w, vega, mira, book := twoWithAChain(t)
			vega.goOffline()
			harm.do(vega, chainKeys(vega, "cold/", book)[0])
			vega.crash(0)
			vega.put(book, 200, 1, replica.UnderEpoch, "only here")
			w.rest()
			vega.goOnline()
			w.pass(60_000)
			w.same(book, vega, mira)
			w.quiet(vega, mira)
			if got, _, _ := mira.body(book, vega.me(book), oplog.DocID{200}, 1); got != "only here" {
				t.Errorf("mira reads %q", got)
			}
			if hot, cold := chainRecords(vega, book); hot != 1 || cold < 7 {
				t.Errorf("after it a start reads %d records of the chain, and leaves %d", hot, cold)
			}
			vega.crash(0)
			w.pass(10_000)
			w.same(book, vega, mira)
		})
	}
}
