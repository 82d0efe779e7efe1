package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"io"
	"time"

	"hushcup/server/demo"
	"hushcup/server/store"
)

// addDemo fills the demonstration club and prints who is in it.
func addDemo(ctx context.Context, _ *settings, books *store.Store, l *listeners, stdout io.Writer) error {
	people, err := demo.Make(ctx, demo.Config{
		Store: books, Origin: l.addresses()[0], Now: time.Now().UnixMilli(), Rand: rand.Reader,
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
