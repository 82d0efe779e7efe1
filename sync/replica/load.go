package replica

import (
	"sort"

	"hushcup/sync/oplog"
)

// load takes what the phone stored. A book whose log does not hold together is fetched anew; what only this phone has is
// never thrown away.
func (r *Replica) load(records []Record) {
	if r.loaded {
		return
	}
	r.loaded = true
	logs := map[oplog.BookID]*ledgerRecords{}
	var logKeys = map[oplog.BookID][]string{}
	for _, rec := range records {
		parts := keyParts(rec.Key)
		switch {
		case parts[0]+"/" == ownPrefix:
			r.disk.own[rec.Key] = rec.Value
		case parts[0] == "log" && len(parts) >= 3:
			if id, ok := parseID[oplog.BookID](parts[1]); ok {
				logKeys[id] = append(logKeys[id], rec.Key)
				if logs[id] == nil {
					logs[id] = &ledgerRecords{chain: map[uint64][]byte{}}
				}
				logs[id].take(parts[2:], rec.Value)
			}
		}
	}
	r.restoreOwn()
	for _, b := range r.order {
		if stored := logs[b.id]; stored != nil {
			r.loadLog(b, stored, logKeys[b.id])
		}
	}
	for _, b := range r.order {
		r.learnKeys(b)
		r.tidy(b)
	}
}

func (l *ledgerRecords) take(parts []string, value []byte) {
	switch {
	case len(parts) == 1 && parts[0] == "head":
		l.headValue = value
	case len(parts) == 1 && parts[0] == "keys":
		l.keys = value
	case len(parts) == 1 && parts[0] == "snap":
		l.snap = value
	case len(parts) == 2 && parts[0] == "tail":
		if n, ok := parseNumber(parts[1]); ok {
			l.tail = append(l.tail, tailRun{n, value})
		}
	case len(parts) == 2 && parts[0] == "chain":
		if n, ok := parseNumber(parts[1]); ok {
			l.chain[n] = value
		}
	}
}

func (r *Replica) loadLog(b *book, stored *ledgerRecords, keys []string) {
	sort.Slice(stored.tail, func(i, j int) bool { return stored.tail[i].first < stored.tail[j].first })
	log := r.newLedger()
	err := log.load(stored)
	if err == nil {
		b.log = log
		b.removed, b.code, b.text = stored.head.Removed, stored.head.Code, stored.head.Text
		b.written, b.writing = log.order.Pos, log.order.Pos
		return
	}
	b.log = r.newLedger()
	_ = b.log.loadKeys(stored.keys)
	for _, key := range keys {
		if key != keysKey(b.id) {
			r.disk.del(key)
		}
	}
}
