package replica

import (
	"hushcup/sync/club"
	"hushcup/sync/oplog"
)

// moveInto makes a notebook that this phone was let into its own. What was in the one before is copied into it.
func (r *Replica) moveInto(b *book) {
	old := r.notebook()
	if old == b {
		return
	}
	r.phone.Notebook = b.id
	r.putOwn(keyPhone, &r.phone)
	r.own = ownParts{}
	if old == nil {
		return
	}
	old.record.Former = true
	r.saveBook(old)
	for _, c := range r.order {
		if c.record.Kind == club.Club && (c.record.Member != oplog.MemberID{}) && !c.removed {
			r.listClub(c)
		}
	}
	j := &job{Kind: jobMove, Book: old.id, State: JoinReading}
	r.jobs = append(r.jobs, j)
	r.saveJob(j)
	r.advanceMove(j)
}

// advanceMove copies what the notebook lacks of a former one. It is repeated until everything could be read.
func (r *Replica) advanceMove(j *job) {
	from, to := r.books[j.Book], r.notebook()
	if from == nil || to == nil {
		r.dropJob(j)
		return
	}
	whole := true
	r.eachPart(from, func(d DocPart) bool {
		if d.Part >= firstOwnPart || d.Erased {
			return true
		}
		key := r.docKey(to, to.record.Member, partKey{d.Doc, d.Part})
		if _, there := r.Doc(to.id, key); there {
			return true
		}
		plain, status := r.Body(from.id, d)
		switch status {
		case BodyLoading:
			whole = false
		case BodyReady:
			if r.put(to, &PutArgs{Book: to.id, Doc: d.Doc, Part: d.Part, Plain: plain}) != nil {
				whole = false
			}
		}
		return true
	})
	if whole {
		r.dropJob(j)
	}
}

// choresDue goes on with what waited for bodies to be read.
func (r *Replica) bodiesCame() {
	for _, j := range append([]*job{}, r.jobs...) {
		if j.Kind == jobMove {
			r.advanceMove(j)
		}
	}
	if n := r.notebook(); n != nil && n.current() {
		r.followNotebook()
	}
}
