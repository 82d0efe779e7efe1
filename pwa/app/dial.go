package app

import "strings"

// network is the one socket that there is. At a start it may be kept waiting.
type network struct {
	held   bool // the screens come first
	wanted bool // while held
}

// A notebook with years of brews keeps the network waiting: proving to the server who one is takes as long as a search does, and
// whoever opens the app wants the screens first.
const (
	holdFrom  = 500   // brews
	holdFor   = 1_000 // milliseconds
	timerDial = "app dial"
)

func (n *network) hold(a *App) {
	if a.index.bench.Count >= holdFrom {
		*n = network{held: true}
		a.emit(TimerEffect{Kind: "timer", Name: timerDial, After: holdFor})
	}
}

func (n *network) free(a *App) {
	wanted := n.wanted
	*n = network{}
	if wanted {
		a.connect()
	}
}

// dial opens the socket. A book on another server stays as it is: the page may not reach that server, and the command that would
// lead there is refused (see link.go).
func (a *App) dial(host string) {
	switch {
	case host != a.host || host == "":
	case a.network.held:
		a.network.wanted = true
	default:
		a.connect()
	}
}

func (a *App) connect() {
	scheme := "wss://"
	if strings.HasPrefix(a.origin, "http://") {
		scheme = "ws://"
	}
	a.emit(ConnectEffect{Kind: "connect", URL: scheme + a.host + "/socket"})
}

func (a *App) hangUp(host string) {
	if host == a.host {
		a.network.wanted = false
		a.emit(CloseEffect{Kind: "close"})
	}
}
