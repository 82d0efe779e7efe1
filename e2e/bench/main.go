// Command bench measures what the design sets budgets for, and prints it:
//
//	go run ./e2e/bench              # everything, a few minutes
//	go run ./e2e/bench -only ingest,fold
//
// Machines differ, so wherever it can it measures a ratio within one run: the
// server's ingest against bare inserts into the same PostgreSQL, and a phone's
// slowness by Chromium's processor throttle. That throttle slows the page but
// not its workers; the worker's part is therefore counted four times.
//
// It ends with 1 when a budget is missed or something could not be measured. A
// busy machine is no fault of the code: it says how busy the machine was.
package main

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"hushcup/e2e/proc"
)

// figure is one measured thing beside its budget.
type figure struct {
	name     string
	measured string
	budget   string
	within   bool
	note     string
}

// section is a group of figures that are measured together.
type section struct {
	name    string
	measure func() ([]figure, error)
}

var sections = []section{
	{"sizes", sizes},
	{"ingest", ingest},
	{"idle", idle},
	{"fold", fold},
	{"openings", openings},
	{"log", log},
	{"file", file},
	{"start", start}, // this and the next come after what counts or compares brews: they leave some behind, that run
	{"tap", tap},
	{"unseal", unseal},
	{"response", response},
}

var verbose = flag.Bool("v", false, "print what every start consists of")

func main() {
	only := flag.String("only", "", "comma-separated sections to measure: "+names())
	flag.Parse()
	failed := run(chosen(*only))
	for _, remove := range removals {
		remove()
	}
	proc.Clean()
	if failed {
		os.Exit(1)
	}
}

func run(list []section) (failed bool) {
	fmt.Println(machine())
	table := tabwriter.NewWriter(os.Stdout, 0, 0, 3, ' ', 0)
	for _, s := range list {
		began := time.Now()
		figures, err := s.measure()
		if err != nil {
			failed = true
			fmt.Fprintf(table, "%s\tNOT MEASURED\t%v\t\n", s.name, err)
		}
		for _, f := range figures {
			failed = failed || f.budget != "" && !f.within
			verdict := "within"
			if !f.within {
				verdict = "OVER"
			}
			if f.budget == "" {
				verdict = ""
			}
			fmt.Fprintf(table, "%s\t%s\t%s\t%s\t%s\n", f.name, f.measured, f.budget, verdict, f.note)
		}
		table.Flush()
		fmt.Printf("  (%s: %.0f s)\n", s.name, time.Since(began).Seconds())
	}
	return failed
}

// chosen are the sections that were asked for, in their own order: some leave brews behind.
func chosen(only string) (list []section) {
	if only == "" {
		return sections
	}
	asked := strings.Split(only, ",")
	for _, name := range asked {
		if !slices.ContainsFunc(sections, func(s section) bool { return s.name == name }) {
			fmt.Fprintf(os.Stderr, "bench: there is no section %q; there are %s\n", name, names())
			os.Exit(2)
		}
	}
	for _, s := range sections {
		if slices.Contains(asked, s.name) {
			list = append(list, s)
		}
	}
	return list
}

func names() string {
	var list []string
	for _, s := range sections {
		list = append(list, s.name)
	}
	return strings.Join(list, ", ")
}

// quantile of durations, which it sorts.
func quantile(list []time.Duration, q float64) time.Duration {
	slices.Sort(list)
	return list[min(len(list)-1, int(q*float64(len(list))))]
}

func milliseconds(d time.Duration) string {
	return fmt.Sprintf("%.1f ms", float64(d)/float64(time.Millisecond))
}
