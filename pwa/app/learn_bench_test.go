package app

import (
	"math"
	"math/rand/v2"
	"testing"

	"hushcup/pwa/core/grinder"
	"hushcup/sync/codec"
)

// manyBrews is an application whose index holds so many brews of four coffees and two brewers, six hours apart, as if all had
// been read.
func manyBrews(count int) *App {
	a := New(rand.NewChaCha8([32]byte{1}))
	a.StepBytes(codec.MustMarshal(Input{Kind: InStart, Origin: "https://hushcup.test", Now: 1_790_000_000_000}))
	random := rand.New(rand.NewPCG(1, 1))
	a.index.pages, a.index.known, a.index.later = map[int64]page{}, map[brewRef]bool{}, nil
	for i := range count {
		e := &entry{Created: a.now - int64(i+1)*6*hour, Facts: someFacts(random, i)}
		e.Book, e.Doc = a.notebook(), [16]byte{1, byte(i), byte(i >> 8)}
		e.Digest = BrewDigest{Book: e.Book.String(), Brew: e.Doc.String(), State: "done", Method: "drip", Began: e.Created}
		bucket := bucketOf(e.Created)
		a.index.bench.addBucket(bucket)
		a.index.pages[bucket] = append(a.index.pages[bucket], e.line())
		a.index.known[e.ref()] = true
	}
	return a
}

func someFacts(random *rand.Rand, i int) brewFacts {
	grind, dose := float64(20+i%9), float64(12+2*(i%5))
	f := brewFacts{
		Coffee: string(rune('a' + i/40%4)), Brewer: string(rune('c' + i%2)), Grinder: "conical", Geometry: "cone", Recipe: string(rune('0' + i%9)),
		Grind: grind, GrindSet: true, Dose: dose, Water: 16 * dose, Kettle: float64(86 + i%6), Stirs: float64(i % 4), Counts: i%17 != 0, Bowl: i%23 == 0,
		Seconds: 180 * math.Exp(0.06*(24-grind)+0.04*random.NormFloat64()), Beverage: 13.9 * dose, TDS: 0.0135 + 0.0004*random.NormFloat64(), EY: 0.19,
	}
	for _, of := range attributeNames {
		f.Balance = append(f.Balance, balanceContent{Of: of, Mark: int(200 * random.NormFloat64())})
	}
	return f
}

// BenchmarkLearning is what each answer costs with 5,000 brews in the index, when nothing is kept from the last one.
func BenchmarkLearning(b *testing.B) {
	a := manyBrews(5000)
	asked, _ := a.facts(1, func(e *entry) bool { return !e.Facts.Bowl })
	setup := &BrewSetup{Brewer: "c", Grinder: "conical", Geometry: "cone", Method: "drip", Dose: 15, Ratio: 16, Grind: "24", Steps: []RecipeStep{{Kind: "pour", Until: 180, Water: 1}}}
	for name, answer := range map[string]func(){
		"repeat": func() { _, _ = a.lookRepeat(BrewParams{}) },
		"trend":  func() { _, _ = a.lookTrend(TrendParams{Limit: 500}) },
		"time":   func() { a.predictTime(setup) },
		"grind": func() {
			_, _ = a.curve(grinder.Place{Grinder: "conical", Brewer: "c", Dose: 15}, setup, nil, anyRecipe)
		},
		"purge":    func() { a.advisePurge(setup, "", nil) },
		"caffeine": func() { a.caffeine(setup, "", "", 1) },
		"evening":  func() { a.evening(asked[0]) },
		"compare":  func() { own, _ := a.ownOf(asked[0], asked[0]); new(CompareView).judge(own, asked[0], asked[0]) },
		"advice": func() {
			q := tasteQuestion{coffee: asked[0].Facts.Coffee, held: heldBy(asked[0], true)}
			cups, _ := a.tasted(asked[0])
			cups = pickCups(cups, q)
			a.taste = tasteModel{}
			a.taste.of(a.space(cups, q.held), cups).Propose(q.coffee)
		},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				answer()
			}
		})
	}
}
