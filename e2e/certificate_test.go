package e2e

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"log"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/letsencrypt/pebble/v2/ca"
	"github.com/letsencrypt/pebble/v2/db"
	"github.com/letsencrypt/pebble/v2/va"
	"github.com/letsencrypt/pebble/v2/wfe"
	"github.com/miekg/dns"

	"hushcup/e2e/proc"
)

const domain = "cups.observatory.test"

// TestACertificateIsFetched lets the real server ask a certificate authority for
// its certificate (ACME, RFC 8555), which validates it as the public ones do.
func TestACertificateIsFetched(t *testing.T) {
	secure := freePort(t)
	authority := newAuthority(t, secure)
	t.Setenv("SSL_CERT_FILE", authority.trust)
	cache := t.TempDir()
	server := proc.Start(t, "-tls-domain", domain, "-tls-listen", loopback(secure),
		"-tls-directory", authority.directory, "-tls-cache", cache)

	browser := authority.browser(secure)
	if got := body(t, browser, "https://"+domain+"/"); !strings.Contains(got, "Hushcup") {
		t.Errorf("over https the app is not there: %.200q", got)
	}
	if kept, _ := filepath.Glob(filepath.Join(cache, domain+"*")); len(kept) == 0 {
		t.Error("the certificate is not kept for the next start")
	}

	// The plain address leads there, but keeps answering a host's health checks.
	plainly := &http.Client{Timeout: 10 * time.Second, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	answer, err := plainly.Get(server.URL("/bench?x=1"))
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	if to := answer.Header.Get("Location"); to != "https://"+domain+"/bench?x=1" {
		t.Errorf("%s, to %q", answer.Status, to)
	}
	body(t, plainly, server.URL("/healthz"))

	// A name that is not this server's gets no certificate, and the authority is not asked for one.
	stranger := &tls.Config{ServerName: "stranger.observatory.test", InsecureSkipVerify: true}
	if conn, err := tls.Dial("tcp", loopback(secure), stranger); err == nil {
		conn.Close()
		t.Error("a stranger's name got a certificate")
	}

	// Started again it uses the certificate that it kept: the authority may be gone.
	authority.Close()
	server.Restart(t)
	body(t, authority.browser(secure), "https://"+domain+"/healthz")
}

// authority is a certificate authority on this machine, with a name service that
// knows every name as this machine.
type authority struct {
	*httptest.Server
	directory string
	trust     string // a file with what the server has to trust to talk to it
	root      *x509.CertPool
}

func newAuthority(t *testing.T, secure int) *authority {
	t.Setenv("PEBBLE_VA_NOSLEEP", "1")
	quiet := log.New(io.Discard, "", 0)
	store := db.NewMemoryStore()
	issuer := ca.New(quiet, store, "", "ecdsa", 0, 1, map[string]ca.Profile{"default": {}})
	validator := va.New(quiet, freePort(t), secure, true, nameService(t), store)
	front := wfe.New(quiet, store, validator, issuer, []string{"authority.observatory.test"}, true, false, 1, 1)
	a := &authority{Server: httptest.NewTLSServer(front.Handler()), root: x509.NewCertPool()}
	t.Cleanup(a.Close)
	a.directory = a.URL + wfe.DirectoryPath
	a.trust = filepath.Join(t.TempDir(), "trust.pem")
	block := pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: a.Certificate().Raw})
	if err := os.WriteFile(a.trust, block, 0o600); err != nil {
		t.Fatal(err)
	}
	if !a.root.AppendCertsFromPEM(issuer.GetRootCert(0).PEM()) {
		t.Fatal("the authority has no root")
	}
	return a
}

// browser trusts the authority, and finds every name on this machine.
func (a *authority) browser(port int) *http.Client {
	dial := func(ctx context.Context, network, _ string) (net.Conn, error) {
		return new(net.Dialer).DialContext(ctx, network, loopback(port))
	}
	return &http.Client{Timeout: time.Minute, Transport: &http.Transport{DialContext: dial, TLSClientConfig: &tls.Config{RootCAs: a.root}}}
}

func nameService(t *testing.T) string {
	listener, err := net.Listen("tcp", "127.0.0.1:0") // as the authority asks
	if err != nil {
		t.Fatal(err)
	}
	server := &dns.Server{Listener: listener, Handler: dns.HandlerFunc(func(w dns.ResponseWriter, asked *dns.Msg) {
		answer := new(dns.Msg).SetReply(asked)
		for _, question := range asked.Question {
			if question.Qtype == dns.TypeA {
				head := dns.RR_Header{Name: question.Name, Rrtype: dns.TypeA, Class: dns.ClassINET}
				answer.Answer = append(answer.Answer, &dns.A{Hdr: head, A: net.IPv4(127, 0, 0, 1)})
			}
		}
		_ = w.WriteMsg(answer)
	})}
	go func() { _ = server.ActivateAndServe() }()
	t.Cleanup(func() { _ = server.Shutdown() })
	return listener.Addr().String()
}

func body(t *testing.T, client *http.Client, url string) string {
	t.Helper()
	answer, err := client.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s, %v", url, answer.Status, err)
	}
	return string(text)
}

func freePort(t *testing.T) int {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port
}

func loopback(port int) string { return "127.0.0.1:" + strconv.Itoa(port) }
