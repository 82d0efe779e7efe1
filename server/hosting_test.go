package main

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hushcup/server/socket"
)

func TestSlipsOfAHostAreSaidAtTheStart(t *testing.T) {
	for name, c := range map[string]struct {
		args []string
		says string
	}{
		"an address as a name":    {[]string{"-host", "mira.example,https://coffee.example.org/"}, `-host: "https://coffee.example.org/" is not a name`},
		"any name":                {[]string{"-host", "*.example.org"}, "-host"},
		"an address as a domain":  {[]string{"-tls-domain", "https://coffee.example.org"}, "-tls-domain"},
		"a number as a domain":    {[]string{"-tls-domain", "192.0.2.7"}, "-tls-domain"},
		"two domains":             {[]string{"-tls-domain", "a.example.org,b.example.org"}, "-tls-domain"},
		"a name without a domain": {[]string{"-tls-domain", "observatory"}, "-tls-domain"},
		"a proxy without a name":  {[]string{"-proxy"}, "-host"},
		"another kind of address": {[]string{"-database", "host=127.0.0.1 dbname=books"}, "postgres://"},
		"no name for a backup":    {[]string{"backup", "-database", sqlite(t)}, "-to"},
		"nothing to back up":      {[]string{"backup", "-database", sqlite(t), "-to", sqlite(t)}, "the database is not there"},
		"a backup of PostgreSQL":  {[]string{"backup", "-database", "postgres://127.0.0.1/books", "-to", sqlite(t)}, "pg_dump"},
	} {
		t.Run(name, func(t *testing.T) {
			if out, err := once(t, c.args...); err == nil || !strings.Contains(err.Error(), c.says) || out != "" {
				t.Errorf("it says %v %q, which does not contain %q", err, out, c.says)
			}
		})
	}
}

// A phone behind a proxy that was not told everything gets no connection. The log says which it is, once.
func TestAProxyThatForgetsSomethingIsSaidInTheLog(t *testing.T) {
	for name, c := range map[string]struct {
		change func(http.Header) (host string)
		status int
		says   string
	}{
		"the name": {func(http.Header) string { return "127.0.0.1:8080" }, http.StatusForbidden, "pass on Host"},
		"the upgrade": {func(h http.Header) string { h.Del("Connection"); h.Del("Upgrade"); return "coffee.example.org" },
			http.StatusBadRequest, "pass on Upgrade and Connection"},
		"the host's own name": {func(h http.Header) string { h.Set("Origin", "https://tea.example.org"); return "tea.example.org" },
			http.StatusSwitchingProtocols, "not in -host"},
		"nothing": {func(http.Header) string { return "coffee.example.org" }, http.StatusSwitchingProtocols, ""},
	} {
		t.Run(name, func(t *testing.T) {
			s := start(t, "-database", sqlite(t), "-host", "coffee.example.org", "-proxy")
			for range 3 {
				if got := asProxy(t, s, c.change); got != c.status {
					t.Errorf("answered %d, want %d", got, c.status)
				}
			}
			said := strings.Count(s.out.String(), "no connection")
			if c.says == "" && said != 0 || c.says != "" && (said != 1 || !strings.Contains(s.out.String(), c.says)) {
				t.Errorf("the log says %d times what %q: %s", said, c.says, s.out)
			}
		})
	}
}

func TestNoMetricsThroughAProxyThatForgetsEverything(t *testing.T) {
	s := start(t, "-database", sqlite(t), "-host", "coffee.example.org", "-proxy")
	if status, _ := s.get(t, "/metrics"); status != http.StatusNotFound {
		t.Errorf("/metrics is %d", status)
	}
}

// asProxy passes a phone's wish for a connection on, changed by the proxy.
func asProxy(t *testing.T, s *server, change func(http.Header) string) (status int) {
	t.Helper()
	request, err := http.NewRequest(http.MethodGet, "http://"+s.address+socket.Path, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, value := range map[string]string{"Origin": "https://coffee.example.org", "Connection": "Upgrade", "Upgrade": "websocket",
		"Sec-WebSocket-Version": "13", "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ=="} {
		request.Header.Set(name, value)
	}
	request.Host = change(request.Header)
	answer, err := (&http.Transport{}).RoundTrip(request)
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	return answer.StatusCode
}

func TestWhoIsBehindAProxy(t *testing.T) {
	behind, bare := &house{settings: &settings{proxy: true}}, &house{settings: &settings{}}
	for name, c := range map[string]struct {
		forwarded []string
		want      string
	}{
		"one":                  {[]string{"192.0.2.7"}, "192.0.2.7"},
		"what the client said": {[]string{"198.51.100.1, 192.0.2.7"}, "192.0.2.7"},
		"in a line of its own": {[]string{"198.51.100.1", "192.0.2.7"}, "192.0.2.7"},
		"with a port":          {[]string{"192.0.2.7:4711"}, "192.0.2.7"},
		"of the sixth version": {[]string{"[2001:db8:1:2::9]:4711"}, "2001:db8:1:2::/64"},
		"without a port":       {[]string{"2001:db8:1:2::9"}, "2001:db8:1:2::/64"},
		"nothing":              {nil, "203.0.113.5"},
	} {
		r := httptest.NewRequest(http.MethodGet, "/socket", nil)
		r.RemoteAddr = "203.0.113.5:1234"
		r.Header["X-Forwarded-For"] = c.forwarded
		if got := behind.address(r); got != c.want {
			t.Errorf("%s: counted as %s, want %s", name, got, c.want)
		}
		if got := bare.address(r); got != "203.0.113.5" {
			t.Errorf("%s, without a proxy: counted as %s", name, got)
		}
	}
}

// A backup is made while a phone writes, is whole, and a server goes on from it: what came after it is offered again.
func TestABackupWhileTheServerRuns(t *testing.T) {
	database, copied := sqlite(t), filepath.Join(t.TempDir(), "backup.sqlite")
	s := start(t, "-database", database)
	n := newNotebook(t, s)
	n.push(t, n.parts(5))
	out, err := once(t, "backup", "-database", database, "-to", copied)
	if err != nil || !strings.Contains(out, copied) {
		t.Fatalf("backup says %q, %v", out, err)
	}
	later := n.parts(3)
	n.push(t, later)
	if info, err := os.Stat(copied); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the backup is %v, %v", info, err)
	}
	if _, err := once(t, "backup", "-database", database, "-to", copied); err == nil || !strings.Contains(err.Error(), "there already") {
		t.Errorf("over an older backup: %v", err)
	}
	if out, err := once(t, "verify", "-database", copied); err != nil || !strings.Contains(out, "1 books with 6 entries") {
		t.Errorf("verify says %q, %v of the backup", out, err)
	}
	if left, _ := filepath.Glob(copied + ".part*"); left != nil {
		t.Errorf("left behind: %v", left)
	}
	s.stop()
	<-s.done
	restored := notebook{n.Book, dial(t, start(t, "-database", copied), n.Device)}
	if ack := restored.push(t, later); ack.First != 7 {
		t.Errorf("what the backup lacks stands at %d", ack.First)
	}
}

func TestAdviceIsGivenOnceInAWhile(t *testing.T) {
	var a advice
	now := time.Date(2026, 3, 1, 20, 0, 0, 0, time.UTC)
	if !a.due(now) || a.due(now.Add(time.Second)) || !a.due(now.Add(adviceTime)) {
		t.Error("not once in a while")
	}
}
