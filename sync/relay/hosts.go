package relay

import "strings"

// Hosts are the names that a server answers to, as they stand in a phone's address bar. A name without a port stands for
// any port. A session's proof is bound to the name that the phone dialled, so that a server in the middle, which has another
// name, cannot pass a proof on.
type Hosts map[string]bool

// NewHosts takes names such as "club.example", "club.example:8443", "127.0.0.1:8080" or "[::1]:8080".
func NewHosts(names ...string) Hosts {
	h := Hosts{}
	for _, name := range names {
		h[strings.ToLower(name)] = true
	}
	return h
}

// Has says whether the server answers to a name.
func (h Hosts) Has(name string) bool {
	name = strings.ToLower(name)
	return name != "" && (h[name] || h[withoutPort(name)])
}

func withoutPort(name string) string {
	colon := strings.LastIndexByte(name, ':')
	if colon < 0 || strings.HasSuffix(name, "]") { // "[::1]" has no port
		return name
	}
	return name[:colon]
}
