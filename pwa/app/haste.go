package app

import "hushcup/sync/replica"

// A finger beside the kettle waits for "saved". So a touch of a running brew is answered first: the brew itself is looked at, and
// everything else that follows (the digest, the lists, the housekeeping) has a turn of its own right after it.

const timerRest = "app rest"

// hasty says that touches are under way and nothing else is: no screen waits for its first value, no command for the disk.
func (a *App) hasty(kind string) bool {
	if kind != InCommand && kind != InPersisted || len(a.replies.waiting) == 0 || len(a.replies.later) > 0 {
		return false
	}
	for _, r := range a.replies.waiting {
		if !r.touch {
			return false
		}
	}
	for _, w := range a.watches.list {
		if w.fresh || w.unread {
			return false
		}
	}
	return true
}

// answerTouch shows what a touch did, and answers it, once that is durable.
func (a *App) answerTouch() {
	a.feed(replica.Nothing{})
	if a.replies.writing() {
		return
	}
	for _, w := range a.watches.list {
		if w.view.touch {
			a.lookAt(w)
		}
	}
	a.answerCommands()
	a.emit(TimerEffect{Kind: "timer", Name: timerRest, After: 0})
}
