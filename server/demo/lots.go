package demo

import "hushcup/pwa/app"

// lot is an invented coffee of a real origin.
type lot struct {
	name, producer string
	keeper         string  // who seals it
	grams          float64 // to each home
	origin         string  // area/country/region
	process        string
	variety        []string
	decaf          string // method, empty for none
	roast          string
	low, high      int  // metres
	hearsay        bool // the variety is what somebody once said
	declared       app.Declared
	tastes         []string // what is in the cup, the plainest first
	last           bool     // the last of its evening
}

var nothing = app.Declared{Choice: "nothing"}

// evenings are the past, present the flight that is under way.
var (
	evenings = []evening{
		{
			title: "Two sides of the valley", founded: 1, questions: []string{"process", "origin"},
			note: "Our first sealed evening. One portion makes two brews; keep a little to taste again, knowing.",
			lots: []lot{
				{name: "Lower terrace", producer: "the terraces above the river", keeper: "Vega", grams: 42, origin: "africa/ethiopia/guji", process: "natural/open",
					variety: []string{"arabica/landrace/mixed"}, roast: "light", low: 1950, high: 2150, declared: nothing,
					tastes: []string{"blueberry", "ripe strawberry", "cocoa", "a little boozy"}},
				{name: "Red soil", producer: "a farmers' washing station", keeper: "Vega", grams: 42, origin: "africa/kenya/nyeri", process: "washed/tank/twice",
					variety: []string{"arabica/bourbon/sl28", "arabica/typica/sl34"}, roast: "light", low: 1700, high: 1850, declared: nothing,
					tastes: []string{"blackcurrant", "tomato leaf", "juicy", "brown sugar"}},
				{name: "Slow morning", producer: "three neighbouring farms", keeper: "Mira", grams: 40, origin: "south-america/brazil/cerrado-mineiro", process: "natural/open",
					variety: []string{"arabica/typica-bourbon/catuai"}, roast: "medium", low: 950, high: 1150, declared: nothing,
					tastes: []string{"hazelnut", "milk chocolate", "low acidity"}, last: true},
			},
		},
		{
			title: "The night shift", founded: 10, questions: []string{"process", "origin", "decaf"},
			note: "One of these lets you sleep.",
			lots: []lot{
				{name: "Quiet dome", producer: "a mountain cooperative", keeper: "Vega", grams: 40, origin: "south-america/colombia/huila", process: "washed/tank",
					variety: []string{"arabica/introgressed/catimor/castillo"}, roast: "moderately-light", decaf: "ethyl-acetate", low: 1500, high: 1800, declared: nothing,
					tastes: []string{"caramel", "orange", "thin finish"}},
				{name: "Second shutter", producer: "smallholders of two hills", keeper: "Rigel", grams: 38, origin: "central-america/guatemala/huehuetenango", process: "washed/tank",
					variety: []string{"arabica/bourbon/bourbon", "arabica/bourbon/caturra"}, roast: "light-medium", low: 1600, high: 1900, declared: nothing,
					tastes: []string{"red apple", "toffee", "almond"}},
				{name: "Long exposure", producer: "the upper washing station", keeper: "Altair", grams: 40, origin: "africa/rwanda/nyamasheke", process: "washed/tank",
					variety: []string{"arabica/bourbon/bourbon"}, roast: "light", low: 1600, high: 1850, declared: nothing,
					tastes: []string{"black tea", "lemon", "cherry"}, last: true},
			},
		},
		{
			title: "Islands and highlands", founded: 20, questions: []string{"origin", "process", "roast"},
			note: "Look at the beans before you brew.",
			lots: []lot{
				{name: "Rain gauge", producer: "a growers' group at the lake", keeper: "Lyra", grams: 45, origin: "asia/indonesia/aceh", process: "wet-hulled",
					variety: []string{"arabica/introgressed/catimor/ateng"}, roast: "moderately-dark", low: 1300, high: 1500, hearsay: true, declared: nothing,
					tastes: []string{"cedar", "dark chocolate", "damp earth", "heavy"}},
				{name: "Blue hour", producer: "a washing station by the road", keeper: "Vega", grams: 45, origin: "africa/kenya/kirinyaga", process: "washed/tank",
					variety: []string{"arabica/bourbon/sl28"}, roast: "light", low: 1650, high: 1800, declared: nothing,
					tastes: []string{"blackcurrant", "juicy", "grapefruit"}},
				{name: "Fruit store", producer: "one farm, two tanks", keeper: "Mira", grams: 40, origin: "central-america/costa-rica/tarrazu", process: "additions/fruit",
					variety: []string{"arabica/bourbon/caturra"}, roast: "light", low: 1550, high: 1750,
					declared: app.Declared{Choice: "something", Additives: []string{"fruit", "yeast"}, Note: "fermented with passion fruit; grind it last and clean the grinder"},
					tastes:   []string{"passion fruit", "tropical", "candy"}, last: true},
			},
		},
	}
	present = evening{
		title: "Clear sky", founded: 34, questions: []string{"process", "origin", "decaf"},
		note: "Four portions, one week. Sit down with each of them alone before you talk.",
		lots: []lot{
			{name: "First light", producer: "a family farm", keeper: "Vega", grams: 42, origin: "central-america/panama/boquete", process: "washed/tank",
				variety: []string{"arabica/landrace/gesha"}, roast: "light", low: 1600, high: 1750, declared: nothing,
				tastes: []string{"jasmine", "bergamot", "peach"}},
			{name: "North wall", producer: "hill farms and a shared dryer", keeper: "Vega", grams: 42, origin: "africa/burundi/kayanza", process: "natural/open",
				variety: []string{"arabica/bourbon/bourbon"}, roast: "light", low: 1700, high: 1900, declared: nothing,
				tastes: []string{"red cherry", "raisin", "spice"}},
			{name: "Half moon", producer: "the valley's own importer", keeper: "Mira", grams: 40, origin: "south-america/colombia/narino", process: "honey/honey/red",
				variety: []string{"arabica/bourbon/caturra"}, roast: "moderately-light", low: 1800, high: 2100, declared: nothing,
				tastes: []string{"panela", "red apple", "orange"}},
			{name: "Dew point", producer: "an estate under shade trees", keeper: "Deneb", grams: 40, origin: "asia/india/chikmagalur", process: "washed/tank",
				variety: []string{"arabica/introgressed/s795"}, roast: "medium", low: 1000, high: 1200, declared: nothing,
				tastes: []string{"cardamom", "cocoa", "soft"}},
		},
	}
)

// answer is what is sealed of a lot.
func (l lot) answer() app.Answer {
	known := func(source string, nodes ...string) *app.Known { return &app.Known{Nodes: nodes, Source: source} }
	variety := "grower"
	if l.hearsay {
		variety = "hearsay"
	}
	a := app.Answer{
		Origin: known("label", "origin/"+l.origin), Process: known("label", "process/"+l.process),
		Decaf: known("label", "decaf/no"), Roast: known("roaster", "roast/"+l.roast),
		Variety: &app.Known{Source: variety}, AltLow: l.low, AltHigh: l.high, Lot: l.name, Producer: l.producer,
	}
	for _, v := range l.variety {
		a.Variety.Nodes = append(a.Variety.Nodes, "variety/"+v)
	}
	if l.decaf != "" {
		a.Decaf = known("label", "decaf/yes/"+l.decaf)
	}
	return a
}

// countries that somebody takes another one for.
var countries = map[string]string{
	"ethiopia": "africa/ethiopia", "guatemala": "central-america/guatemala", "colombia": "south-america/colombia",
}

// neighbour is where somebody lands who is off.
func neighbour(country string) string {
	switch country {
	case "africa/ethiopia":
		return "africa/kenya"
	case "africa/kenya", "africa/burundi":
		return "africa/rwanda"
	case "africa/rwanda":
		return "central-america/el-salvador"
	case "south-america/brazil":
		return "asia/india"
	case "asia/india", "asia/indonesia":
		return "south-america/brazil"
	case "central-america/panama":
		return "africa/ethiopia"
	}
	return "south-america/peru"
}
