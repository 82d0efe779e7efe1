// Command server is the one binary of a Hushcup host: it serves the app and carries the club's sealed notes between phones.
// It orders, stores and forwards; it can read none of what is sealed.
//
//	go run ./server                       the address is printed; the books are kept in ./hushcup.sqlite
//	go run ./server -help                 everything that can be set
//	go run ./server verify                walks every book of a database and reports the first fault
//	go run ./server migrate               brings a database's tables to this version
//	go run ./server backup -to FILE       copies the books out of an SQLite file
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"syscall"

	"hushcup/pwa"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	p := program{env: os.Getenv, stdout: os.Stdout, stderr: os.Stderr, dist: pwa.Dist()}
	err := p.run(ctx, os.Args[1:])
	switch {
	case errors.Is(err, flag.ErrHelp):
	case err != nil:
		fmt.Fprintln(os.Stderr, "hushcup:", err)
		os.Exit(1)
	}
}
