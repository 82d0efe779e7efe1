package cup

import (
	_ "embed"
	"strings"
	"sync"
)

//go:embed words.txt
var wordsText string

// A Drawer holds words that stand near each other in a kitchen.
type Drawer struct {
	ID    string
	Label string
	Words []Word
}

// A Word is a plain food word. Its ID is the word itself; a word that a person
// brings along has none and is kept as it was typed.
type Word struct {
	ID  string
	Aka []string // words that find it
}

// Drawers returns the list, in the order of the kitchen.
func Drawers() []Drawer { return drawers() }

var drawers = sync.OnceValue(func() (out []Drawer) {
	for line := range strings.SplitSeq(wordsText, "\n") {
		if line == "" || line[0] == '#' {
			continue
		}
		first, rest, _ := strings.Cut(line, "|")
		if name, ok := strings.CutPrefix(first, "= "); ok {
			out = append(out, Drawer{ID: strings.ReplaceAll(name, " ", "-"), Label: rest})
			continue
		}
		w := Word{ID: first}
		if rest != "" {
			w.Aka = strings.Split(rest, ";")
		}
		last := &out[len(out)-1]
		last.Words = append(last.Words, w)
	}
	return out
})

// Find returns the words that begin, or have another word that begins, with what
// was typed, those that begin with it first.
func Find(typed string) []Word {
	want := strings.ToLower(strings.TrimSpace(typed))
	if want == "" {
		return nil
	}
	var first, rest []Word
	for _, d := range drawers() {
		for _, w := range d.Words {
			switch {
			case strings.HasPrefix(w.ID, want):
				first = append(first, w)
			case w.contains(want):
				rest = append(rest, w)
			}
		}
	}
	return append(first, rest...)
}

func (w Word) contains(want string) bool {
	for _, name := range append([]string{w.ID}, w.Aka...) {
		if strings.Contains(" "+name, " "+want) {
			return true
		}
	}
	return false
}

// longestWord bounds a person's own word.
const longestWord = 60

// Own tidies a word that a person typed: spaces joined, lower case for a word
// of the list, which is returned with true; anything else stays as it is. It is
// "" for nothing and for what is too long to be a word.
func Own(typed string) (word string, listed bool) {
	word = strings.Join(strings.Fields(typed), " ")
	if len(word) > longestWord {
		return "", false
	}
	lower := strings.ToLower(word)
	for _, d := range drawers() {
		for _, w := range d.Words {
			if w.ID == lower {
				return w.ID, true
			}
			for _, aka := range w.Aka {
				if aka == lower {
					return w.ID, true
				}
			}
		}
	}
	return word, false
}
