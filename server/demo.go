package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"io"
	"strings"
	"time"

	"hushcup/server/demo"
	"hushcup/server/store"
)

// addDemo fills the demonstration club and prints who is in it.
func addDemo(ctx context.Context, s *settings, books *store.Store, l *listeners, stdout io.Writer) error {
	people, err := demo.Make(ctx, demo.Config{
		Store: books, Origin: demoOrigin(s, l), Now: time.Now().UnixMilli(), Rand: rand.Reader,
	})
	if err != nil {
		return err
	}
	fmt.Fprintln(stdout, "\nThe demonstration club. Each link opens the app as that person; whoever has it is them.")
	for _, p := range people {
		fmt.Fprintf(stdout, "  %-8s%s\n", p.Name, p.Link)
	}
	return nil
}

// demoOrigin is the address that the links lead to.
func demoOrigin(s *settings, l *listeners) string {
	first, _, _ := strings.Cut(s.hosts, ",")
	switch {
	case s.tlsDomain != "":
		return "https://" + s.tlsDomain
	case first != "" && s.proxy:
		return "https://" + strings.TrimSpace(first)
	}
	return "http://" + l.addresses()[0]
}
