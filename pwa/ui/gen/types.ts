// Made by go run ./pwa/app/tsgen from the Go sources. Do not edit.

/** What a member may do in a club. */
export type Role = "taster" | "organiser";

/** device: on this device only, no server. waiting: on this device, goes out by itself. sending: on its way. shared: all is. trouble: see problem. */
export type SyncMark = "device" | "waiting" | "sending" | "shared" | "trouble";

/** Why things do not go out, empty when they do. The first four pass by themselves. recovering: this phone speaks for a recovery code meanwhile. update: a book needs a newer app. old-app, old-server: the server speaks another version. */
export type Problem = "" | "offline" | "clock" | "slow-down" | "word-needed" | "recovering" | "restored" | "update" | "old-app" | "old-server" | "tampering" | "refused" | "storage" | "bad-host";

/** Why a server is not connected, empty when it is. silent: nobody answers. The others answered, and hung up. */
export type NoAnswer = "" | "silent" | "old-app" | "old-server" | "bad-host";

/** How far something has come: on this device, on its way, shared (ordered by the server), refused. */
export type Share = "device" | "onItsWay" | "shared" | "refused";

/** A newcomer's first things. */
export type First = "name" | "club" | "kitchen" | "practice-cup" | "recovery";

/** The one thing to do with a sample: look and smell and guess in ten seconds, brew, guess, revise, wait for the close; for those who know it, close or unseal; once open, ask first, or look. */
export type Next = "look" | "brew" | "guess" | "revise" | "wait" | "close" | "unseal" | "ask" | "result" | "kept";

/** planned: the clock has not started. going: it runs. done: saved. */
export type BrewState = "planned" | "going" | "done";

/** How water and coffee meet. */
export type Method = "drip" | "steep" | "press" | "bowl" | "other";

/** What can be recorded while the clock runs. bloom and pour: it began (a scale's weight may come with it). poured: the pour ended. hold and on: the plan was held and went on. end: the bed is dry, or it was pressed or decanted; it stops the clock. */
export type Mark = "start" | "bloom" | "pour" | "poured" | "stir" | "swirl" | "break" | "skim" | "cap" | "flip" | "open-valve" | "press" | "drain" | "decant" | "bypass" | "taste" | "hold" | "on" | "end";

/** After an absence: as planned, roughly (times are corrected by hand), unknown; empty when nothing is asked. */
export type Asked = "" | "planned" | "roughly" | "unknown";

/** in: a member. out: left. removed: taken out by an organiser. entering: on the way in. stopped: this phone stopped reading (tampering). update: needs a newer app. restored: the server came back older, an organiser must say resume. */
export type BookStatus = "in" | "out" | "removed" | "entering" | "stopped" | "update" | "restored";

/** What I may do in a club now. */
export type ClubMay = "invite" | "rename" | "flight" | "role" | "remove" | "leave" | "resume";

/** open, closed (no guess scores any more), opening (some samples are open), opened (all are). */
export type FlightState = "open" | "closed" | "opening" | "opened";

/** What I may do with a flight now. */
export type FlightMay = "edit" | "closing" | "seal" | "close" | "unseal";

/** open: sealed, and guesses count. closed: sealed, and later guesses are late. unsealed: the answer is there. */
export type SampleState = "open" | "closed" | "unsealed";

/** What I may do with a sample now. */
export type SampleMay = "brew" | "first" | "guess" | "close" | "unseal" | "keep" | "show";

/** How a sample was closed: by hand, at its time, or by being opened early; empty while it is open. */
export type ClosedHow = "" | "hand" | "time" | "opened-early";

/** What a guess is about. */
export type Facet = "origin" | "process" | "variety" | "decaf" | "altitude" | "roast";

/** How an answer is known: printed with the coffee, told by the roaster, told by who grew or traded it, measured, hearsay (shown, not scored). */
export type Source = "label" | "roaster" | "grower" | "measured" | "hearsay";

/** A level of a facet's tree. */
export type Level = "area" | "country" | "region" | "family" | "process" | "detail" | "species" | "group" | "variety" | "decaf" | "method" | "band";

/** Does this phone have the atlas, prior and scoring that the flight names: yes, not yet (the prior is still to be read), no (made by another version of the app), altered (the prior does not have its hash). */
export type Pinned = "yes" | "waiting" | "other-version" | "altered";

/** sealed: not open. away: not open when I went out of the club, and what came after is not for me. asks: open, and it asks me first. kept: I keep it closed. reading: open, and something is still being read. open. unreadable: the answer does not open. */
export type ResultState = "sealed" | "away" | "asks" | "kept" | "reading" | "open" | "unreadable";

/** scored. late: after the close, shown, not scored. holder: knew the answer. none: no guess. reading: still being read. unreadable: its guess does not open. unstated: the answer states nothing that scores. */
export type TableStatus = "scored" | "late" | "holder" | "none" | "reading" | "unreadable" | "unstated";

/** What was refused. */
export type RefusedWhat = "name" | "brew" | "guess" | "flight" | "sample" | "close" | "unseal" | "invite" | "member" | "device" | "other";

/** What is declared in the open. nothing: nothing added, no allergen known. something: see the lists. unknown: nobody could say. */
export type Choice = "nothing" | "something" | "unknown";

/** What food law wants named. */
export type Allergen = "milk" | "egg" | "fish" | "crustaceans" | "molluscs" | "nuts" | "peanuts" | "soya" | "gluten" | "sesame" | "celery" | "mustard" | "lupin" | "sulphites";

/** What may have been added to a coffee on its way. */
export type Additive = "fruit" | "spice" | "herb" | "flower" | "alcohol" | "dairy-culture" | "yeast" | "sugar" | "flavouring" | "other";

/** What is to be read once. */
export type Caution = "hot-water" | "caffeine" | "allergens" | "data";

/** What stands in the Cupboard. */
export type ItemKind = "coffee" | "brewer" | "grinder" | "water" | "concentrate" | "instrument" | "recipe";

/** What is known of a coffee's caffeine. */
export type CoffeeKind = "regular" | "arabica" | "canephora" | "decaf";

/** What a brewer is. */
export type Geometry = "cone" | "flat-bed" | "steep-and-drain" | "press-inverted" | "press-upright" | "cupping-bowl" | "other";

/** What a filter is made of; none where there is none. */
export type Filter = "" | "paper" | "metal" | "cloth" | "none";

/** What grinds. */
export type Burr = "" | "conical" | "flat" | "blade" | "other";

/** How a grinder shows its setting: clicks from zero, whole turns and clicks, a dial of numbers, letters, or in one's own words. */
export type GrinderScale = "clicks" | "turns" | "numbers" | "letters" | "words";

/** Why a setting can't be read; empty when it can. words: the scale is in one's own words. scale: not all of it is described yet. setting: it is none of that scale. past-stop: it is beyond a stop. */
export type GrinderFault = "" | "words" | "scale" | "setting" | "past-stop";

/** How a water's numbers are known. */
export type WaterSource = "label" | "test" | "mixed";

/** A food-grade salt, in the hydrate that its formula states. */
export type Salt = "magnesium-sulphate" | "magnesium-chloride" | "calcium-chloride" | "calcium-sulphate" | "sodium-bicarbonate" | "potassium-bicarbonate";

/** What may go into a blend. pure: distilled, or as good as that. */
export type MixKind = "pure" | "water" | "concentrate" | "salt";

/** What a blend is to reach. */
export type WaterQuantity = "hardness" | "alkalinity" | "magnesium";

/** What is hardly meant, or will not work. balance: the ions do not balance. undissolved: more salt than the water takes up. falls-out: it comes out as chalk or gypsum. */
export type WaterDoubtCode = "balance" | "undissolved" | "falls-out";

/** What a member says of the club's water; empty: nothing yet. */
export type WaterReach = "" | "yes" | "no";

/** What a record of a file is. */
export type DataKind = "home" | "coffee" | "brewer" | "grinder" | "water" | "concentrate" | "instrument" | "recipe" | "brew" | "cup";

/** What somebody decided about an opened sample: nothing, kept closed for oneself, looked at. */
export type DataKeeps = "" | "closed" | "looked";

/** What measures. */
export type InstrumentKind = "scale" | "refractometer" | "thermometer";

/** How fine, in words that every grinder has. */
export type GrindWord = "" | "fine" | "medium-fine" | "medium" | "medium-coarse" | "coarse";

/** What hands do. */
export type StepKind = "preheat" | "rinse" | "add" | "bloom" | "pour" | "stir" | "swirl" | "break" | "skim" | "cap" | "flip" | "open-valve" | "wait" | "press" | "drain" | "decant" | "bypass" | "taste";

/** How a pour moves; empty for any way. */
export type PourPattern = "" | "centre" | "spiral" | "evenly";

/** A unit of hardness or alkalinity; mg/L is as CaCO3. */
export type HardnessUnit = "mg/L" | "°dH" | "°fH" | "°Clark" | "gpg" | "mmol/L";

/** What to know before a plan is made. */
export type BrewCaution = "hot-water" | "hot-glass" | "flip-scalds" | "press-gently" | "valve-drips" | "wait-to-taste";

/** under: even the high end of the estimate is within the limit. maybe: only the low end is. over: it is past it. */
export type CaffeineLevel = "under" | "maybe" | "over";

/** repeated: nothing changed. one: its effect can be read. several: no cause can be read. unsure: not all is known. */
export type ChangeVerdict = "repeated" | "one" | "several" | "unsure";

/** What can differ between two setups. */
export type ChangeField = "coffee" | "brewer" | "filter" | "grinder" | "grind" | "since-grinding" | "scoops" | "dose" | "ratio" | "water" | "water-kind" | "temperature" | "step" | "step-to" | "step-seconds" | "step-temperature" | "step-times" | "step-manner";

/** followed: it had to, because of another change. */
export type ChangeKind = "changed" | "unknown" | "added" | "removed" | "followed";

/** A side of a cup's balance. */
export type Attribute = "acid" | "sweet" | "bitter" | "body" | "finish";

/** What repeats from brew to brew, or does not. */
export type Quantity = "seconds" | "beverage" | "tds" | "ey" | "acid" | "sweet" | "bitter" | "body" | "finish";

/** What hands can change. */
export type Variable = "" | "grind" | "ratio" | "temperature" | "agitation";

/** What to do next. few: not enough brews yet. unsure: the cups do not say what would help. keep: it is in agreement. change: change one thing. */
export type AdviceVerdict = "few" | "unsure" | "keep" | "change";

/** What a difference between two cups can be. few: not enough brews yet. methods: a brewed cup and a bowl are never compared. none: no more than two cups of one recipe differ. brewing: they were not brewed alike. same-coffee: it is one coffee, so it is something else. coffee: it can be the coffee. */
export type CompareVerdict = "few" | "methods" | "none" | "brewing" | "same-coffee" | "coffee";

/** A range on the brewing control chart that the trade published. */
export type TradeRange = "trade-2015" | "trade-europe" | "trade-norway";

/** Where a value lies against a range. */
export type Side = "below" | "within" | "above";

/** A step of a sitting: look and smell before the brew, the wet grounds, the cup, the guess. */
export type SittingStep = "look" | "smell" | "brew" | "wet" | "cup" | "guess";

/** One look, smell or sip. */
export type CupStage = "beans" | "fragrance" | "aroma" | "hot" | "warm" | "cool";

/** Every command with its arguments and its result. */
export interface Commands {
  "notebook.name": { args: NotebookName; result: Nothing };
  "safety.seen": { args: SafetySeen; result: Nothing };
  "storage.report": { args: StorageReport; result: Nothing };
  "link.read": { args: LinkRead; result: LinkMeaning };
  "club.create": { args: ClubCreate; result: ClubCreated };
  "club.rename": { args: ClubRename; result: Nothing };
  "club.invite": { args: ClubInvite; result: ClubInvited };
  "club.revoke": { args: ClubRevoke; result: Nothing };
  "club.join": { args: ClubJoin; result: ClubJoining };
  "club.role": { args: ClubRole; result: Nothing };
  "club.remove": { args: ClubRemove; result: Nothing };
  "club.leave": { args: ClubLeave; result: Nothing };
  "book.resume": { args: BookResume; result: Nothing };
  "flight.create": { args: FlightCreate; result: FlightCreated };
  "flight.edit": { args: FlightEdit; result: Nothing };
  "flight.closing": { args: FlightClosing; result: Nothing };
  "flight.close": { args: FlightClose; result: Nothing };
  "sample.seal": { args: SampleSeal; result: SampleSealed };
  "sample.unseal": { args: SampleUnseal; result: Nothing };
  "sample.keep": { args: SampleKeep; result: Nothing };
  "brew.start": { args: BrewStart; result: BrewStarted };
  "brew.mark": { args: BrewMark; result: Nothing };
  "brew.unmark": { args: BrewUnmark; result: Nothing };
  "brew.save": { args: BrewSave; result: Nothing };
  "brew.edit": { args: BrewEdit; result: Nothing };
  "brew.discard": { args: BrewDiscard; result: Nothing };
  "brew.plan": { args: BrewPlan; result: BrewPlanned };
  "brew.hold": { args: BrewHold; result: Nothing };
  "brew.abandon": { args: BrewAbandon; result: Nothing };
  "brew.count": { args: BrewCount; result: Nothing };
  "brew.time": { args: BrewTime; result: Nothing };
  "brew.reading": { args: BrewReading; result: Nothing };
  "bowls.start": { args: BowlsStart; result: BowlsStarted };
  "cup.notice": { args: CupNotice; result: Nothing };
  "sitting.step": { args: SittingReached; result: Nothing };
  "coffee.save": { args: Coffee; result: Saved };
  "brewer.save": { args: Brewer; result: Saved };
  "grinder.save": { args: Grinder; result: Saved };
  "grinder.read": { args: GrinderRead; result: GrinderReads };
  "home.read": { args: Home; result: HomeReads };
  "water.save": { args: Water; result: Saved };
  "concentrate.save": { args: Concentrate; result: Saved };
  "water.read": { args: Water; result: WaterReading };
  "concentrate.read": { args: Concentrate; result: ConcentrateReading };
  "water.mix": { args: WaterMix; result: WaterMixed };
  "club.water": { args: ClubWaterSet; result: Nothing };
  "club.reach": { args: ClubWaterSay; result: Nothing };
  "data.page": { args: DataPageAsk; result: DataPage };
  "data.take": { args: DataTake; result: DataTaken };
  "instrument.save": { args: Instrument; result: Saved };
  "recipe.save": { args: Recipe; result: Saved };
  "item.remove": { args: ItemName; result: ItemRemoved };
  "item.back": { args: ItemName; result: Nothing };
  "home.save": { args: Home; result: Nothing };
  "person.save": { args: Person; result: Nothing };
  "recipe.link": { args: ItemName; result: RecipeLink };
  "recipe.read": { args: RecipeText; result: Recipe };
  "guess.preview": { args: GuessPreview; result: GuessView };
  "guess.save": { args: GuessSave; result: Nothing };
  "device.name": { args: DeviceName; result: Nothing };
  "device.pair": { args: DevicePair; result: DevicePairing };
  "device.remove": { args: DeviceRemove; result: Nothing };
  "recovery.make": { args: Nothing; result: RecoveryMade };
  "recovery.confirm": { args: RecoveryConfirm; result: Nothing };
  "recover": { args: Recover; result: ClubJoining };
  "refused.retry": { args: RefusedRetry; result: Nothing };
  "refused.discard": { args: RefusedDiscard; result: Nothing };
}

/** Every view with its parameters and its value. */
export interface Views {
  "sync": { params: Nothing; value: SyncView };
  "notebook": { params: Nothing; value: NotebookView };
  "tonight": { params: Nothing; value: TonightView };
  "bench": { params: Nothing; value: BenchView };
  "brew": { params: BrewParams; value: BrewView };
  "brews": { params: BrewsParams; value: BrewsView };
  "table": { params: TableParams; value: TableView };
  "cupboard": { params: Nothing; value: CupboardView };
  "person": { params: Nothing; value: Person };
  "water": { params: Nothing; value: WaterView };
  "clubwater": { params: ClubParams; value: ClubWaterView };
  "data": { params: Nothing; value: DataView };
  "advice": { params: BrewParams; value: AdviceView };
  "compare": { params: CompareParams; value: CompareView };
  "repeat": { params: BrewParams; value: RepeatView };
  "trials": { params: BrewParams; value: TrialsView };
  "trend": { params: TrendParams; value: TrendView };
  "clubs": { params: Nothing; value: ClubsView };
  "club": { params: ClubParams; value: ClubView };
  "flight": { params: FlightParams; value: FlightView };
  "sample": { params: SampleParams; value: SampleView };
  "sitting": { params: SampleParams; value: SittingView };
  "noticed": { params: NoticedParams; value: NoticedView };
  "cup-words": { params: CupWordsParams; value: CupWordsView };
  "guess": { params: GuessParams; value: GuessView };
  "result": { params: SampleParams; value: ResultView };
  "practice": { params: Nothing; value: PracticeView };
  "devices": { params: Nothing; value: DevicesView };
  "refused": { params: Nothing; value: RefusedView };
  "intentions": { params: Nothing; value: IntentionsView };
  "atlas": { params: Nothing; value: AtlasView };
}

/** Everything that comes out of the core, to be carried out in order. */
export type Effect =
  | PersistEffect
  | ReadEffect
  | SendEffect
  | ConnectEffect
  | CloseEffect
  | TimerEffect
  | ViewEffect
  | DoneEffect
  | FatalEffect;

/** What to change next for the coffee of a brew. */
export interface AdviceView {
  /** false while the brews are still being read */
  ready: boolean;
  verdict: AdviceVerdict;
  /** the brew to change; empty for none */
  base: BrewParams;
  variable: Variable;
  from: number;
  to: number;
  /** grind: as the grinder's scale says */
  fromName: string;
  toName: string;
  /** chance in percent that it comes nearer to agreement */
  better: number;
  /** the base's with the change made; nil when there is nothing to brew */
  setup?: BrewSetup;
  balance: Expected[];
  /** percent */
  tds?: Expected;
  /** percent */
  ey?: Expected;
  /** Change is a factor */
  seconds?: Expected;
  /** core/response */
  reasons: Reason[];
  /** of this coffee with a noted balance */
  cups: number;
  left?: Ration;
}

/** The vocabulary: what an answer, a narrowing or a guess is made of. It changes only with the app. */
export interface AtlasView {
  facets: AtlasFacet[];
  allergens: Allergen[];
  additives: Additive[];
  sources: Source[];
  methods: Method[];
  marks: Mark[];
}

/** The Bench as it opens: the last setup to begin from, what is going, and the newest brews. */
export interface BenchView {
  last: BrewSetup;
  going: Going[];
  /** newest first, at most 12 */
  recent: BrewDigest[];
  /** all there are */
  brews: number;
  /** samples that could be brewed now */
  samples: SampleChoice[];
}

/** Lets a club whose server was restored from a copy order new things again. Organisers only. */
export interface BookResume {
  club: string;
}

/** Sets several bowls side by side, with one water: each is a brew of its own, with a number and a clock of its own that starts when it is poured. */
export interface BowlsStart {
  setup: BrewSetup;
  /** 1 to 24 */
  bowls: Bowl[];
  sure: string[];
}

/** Names the table of bowls. */
export interface BowlsStarted {
  table: string;
}

/** Ends a brew that went wrong and keeps it, with what went wrong in its notes. It stays out of repeatability, time fits and the response model. */
export interface BrewAbandon {
  book: string;
  brew: string;
  why: string;
}

/** Puts a brew back into repeatability, fits and the response model, or takes it out. */
export interface BrewCount {
  book: string;
  brew: string;
  counts: boolean;
}

/** Throws a brew away. */
export interface BrewDiscard {
  book: string;
  brew: string;
}

/** Corrects a brew, whatever state it is in. */
export interface BrewEdit {
  book: string;
  brew: string;
  setup?: BrewSetup;
  outcome?: BrewOutcome;
  sure: string[];
}

/** Stops the plan, or lets it go on: what is still to come moves by as long as it was held. The clock never stops. */
export interface BrewHold {
  book: string;
  brew: string;
  hold: boolean;
  ago: number;
}

/** Records what happened, at the moment of the touch (or Ago milliseconds before it). It is durable when done. */
export interface BrewMark {
  book: string;
  brew: string;
  mark: Mark;
  /** pour marks: what the scale shows after it; 0 when there is no scale */
  grams: number;
  /** of the plan, from 1; 0 when it belongs to none */
  step: number;
  ago: number;
}

/** Names a brew. */
export interface BrewParams {
  book: string;
  brew: string;
}

/** Asks what a setup would come to, before anything is begun. Nothing is kept. */
export interface BrewPlan {
  club: string;
  sample: string;
  setup: BrewSetup;
  parent?: BrewParams;
  /** side by side; 0 counts as 1 */
  bowls: number;
}

/** All that can be said beforehand. What cannot be said yet is nil, or says so by its reasons. */
export interface BrewPlanned {
  /** nil without a recipe or a dose */
  plan?: Plan;
  time?: Prediction;
  grind?: GrindHint;
  purge?: Purge;
  /** of a sample or a bag whose grams are known */
  ration?: Ration;
  caffeine?: Caffeine;
  cautions: BrewCaution[];
  /** declared, and this person's own */
  allergic: Allergen[];
  /** from the parent */
  changes?: Changes;
}

/** A temperature of the cup, for the cooling clock; two of one vessel calibrate it. */
export interface BrewReading {
  book: string;
  brew: string;
  celsius: number;
  ago: number;
}

/** Ends a brew and keeps what came of it. */
export interface BrewSave {
  book: string;
  brew: string;
  outcome: BrewOutcome;
  sure: string[];
}

/** Begins a brew, of a sample (club and sample) or of one's own coffee. With Run the clock starts now; without it starts by the first mark. */
export interface BrewStart {
  club: string;
  sample: string;
  setup: BrewSetup;
  run: boolean;
  sure: string[];
  /** the brew that it is a change of */
  parent?: BrewParams;
}

/** Names the new brew. Book is the club, or the notebook. */
export interface BrewStarted {
  book: string;
  brew: string;
}

/** Says how long a running brew has run, where the phone's clock cannot: somebody set it forward, which looks as if the phone had slept. The screen that was in sight all the time has counted. */
export interface BrewTime {
  book: string;
  brew: string;
  /** ms */
  elapsed: number;
}

/** Takes the last mark back. */
export interface BrewUnmark {
  book: string;
  brew: string;
}

/** One brew. */
export interface BrewView {
  book: string;
  brew: string;
  sample?: SampleChoice;
  state: BrewState;
  setup: BrewSetup;
  /** by this phone's clock, put right when that jumped; 0 before the start */
  began: number;
  /** in order */
  marks: BrewMarked[];
  outcome: BrewOutcome;
  /** as they count: corrected, or as marked */
  pours: Pour[];
  /** s, as it counts; 0 unknown */
  drawdown: number;
  /** the phone slept or was started anew while it ran: ask what happened */
  absent: boolean;
  /** false: stays out of repeatability and fits */
  counts: boolean;
  /** EY in percent, with what the instruments leave open */
  yield?: Interval;
  /** TDS in percent, with what the refractometer leaves open */
  strength?: Interval;
  share: Share;
  /** phone time of the last change */
  edited: number;
  /** as it stands now, holds included; nil without a recipe */
  plan?: Plan;
  /** the brew that it was a change of */
  parent?: BrewParams;
  /** from the parent; nil while that is being read */
  changes?: Changes;
  /** s from the start at which the plan was held, 0 when it is not */
  held: number;
  abandoned: boolean;
  /** of bowls; empty for none */
  table: string;
  bowl: number;
  place?: ChartPlace;
  cooling?: Cooling;
  /** of the cup */
  readings: Reading[];
  /** °C at home */
  boiling: number;
  used: BrewUsed;
}

/** A brewer by its geometry. */
export interface Brewer {
  id: string;
  name: string;
  geometry: Geometry;
  filter: Filter;
  /** g of water */
  holds: number;
  /** g of liquid a g of coffee, as its owner measured it; 0: as the geometry has it */
  retained: number;
  note: string;
}

/** Asks for a page of the log: the Limit newest, those after a page's More, or those after the Skip newest. */
export interface BrewsParams {
  after?: string;
  /** of those that are found, so that a long list can be entered anywhere */
  skip?: number;
  /** 1 to 200 */
  limit: number;
  search: BrewSearch;
}

/** A page of the log, newest first. More is what to ask the next page after, empty at the end. */
export interface BrewsView {
  brews: BrewDigest[];
  /** brews there are */
  all: number;
  /** of them, those that the search finds */
  found: number;
  /** false while older brews are still being read; what is found so far is there */
  ready: boolean;
  more: string;
}

/** Closes the socket. */
export interface CloseEffect {
  kind: "close";
}

/** Makes a club with its creator as organiser. */
export interface ClubCreate {
  /** of the club, 1 to 60 letters */
  name: string;
}

/** Names the new club. */
export interface ClubCreated {
  club: string;
}

/** Opens an invitation. Organisers only. */
export interface ClubInvite {
  club: string;
  role: Role;
  /** 1 to 50 persons */
  uses: number;
  /** 1 to 60 */
  days: number;
}

/** The invitation to hand over. Link is also what the QR code holds; Text is its secret part, to paste. They are shown this once and kept on this phone as long as the invitation is open. */
export interface ClubInvited {
  invite: string;
  link: string;
  text: string;
  expires: number;
}

/** Comes in by a link or its text. It is done when kept on this phone; being in follows when the server answers (the clubs view shows it), also after a restart. */
export interface ClubJoin {
  link: string;
  /** how one is called, when the notebook has no name yet */
  name?: string;
}

/** Names what is under way. */
export interface ClubJoining {
  joining: string;
}

/** Takes oneself out. */
export interface ClubLeave {
  club: string;
}

/** Names a club. */
export interface ClubParams {
  club: string;
}

/** Takes a member out. Organisers only; "last-organiser" is refused. */
export interface ClubRemove {
  club: string;
  member: string;
}

/** Changes a club's name. Organisers only. */
export interface ClubRename {
  club: string;
  name: string;
}

/** Ends an invitation. Organisers only. */
export interface ClubRevoke {
  club: string;
  invite: string;
}

/** Makes a member an organiser or a taster. Organisers only. */
export interface ClubRole {
  club: string;
  member: string;
  role: Role;
}

/** A club. */
export interface ClubView {
  club: string;
  name: string;
  host: string;
  status: BookStatus;
  /** my member id */
  me: string;
  role: Role;
  may: ClubMay[];
  /** in the order in which they came */
  members: Member[];
  invites: InviteLine[];
  /** newest first */
  flights: FlightLine[];
}

/** Tells the club whether one can make its water. */
export interface ClubWaterSay {
  club: string;
  says: WaterReach;
}

/** Sets the water that everybody in a club is to brew with, or with no target takes it back. */
export interface ClubWaterSet {
  club: string;
  target?: WaterTarget;
  /** how to make it, in the organiser's words */
  note: string;
}

/** A club's common water, and who can make it. */
export interface ClubWaterView {
  club: string;
  name: string;
  /** nil: none is set */
  target?: WaterTarget;
  note: string;
  /** I may set it */
  may: boolean;
  unit: HardnessUnit;
  /** a litre of what my Cupboard comes nearest with; nil: no water stands there */
  mine?: WaterMixed;
  says: WaterReach;
  members: ClubWaterLine[];
}

/** Lists the clubs one is in or was in, and what is under way. */
export interface ClubsView {
  clubs: ClubLine[];
  joining: Joining[];
}

/** A bag of one's own. */
export interface Coffee {
  /** empty for a new one */
  id: string;
  name: string;
  /** who roasted it or where it was bought, in one's own words */
  from: string;
  caffeine: CoffeeKind;
  /** in the bag when it was new */
  grams: number;
  /** g put aside to taste again */
  kept: number;
  /** a day, as 2026-11-03 */
  roasted: string;
  frozen: string;
  thawed: string;
  batch: string;
  /** % of the roasted coffee's mass, as its roaster states it; 0: not known */
  moisture: number;
  declared: Declared;
  note: string;
}

/** Names two brews. */
export interface CompareParams {
  first: BrewParams;
  second: BrewParams;
}

/** Two brews side by side, the earlier first. */
export interface CompareView {
  ready: boolean;
  /** nil while it is being read */
  first?: BrewView;
  second?: BrewView;
  changes?: Changes;
  verdict: CompareVerdict;
  /** of what is known on both sides */
  by: Difference[];
  /** core/repeat */
  reasons: Reason[];
  /** repeated brews that it is judged by */
  brews: number;
  /** ratio at which the second would be as strong as the first, extracted alike; nil: no TDS, or no further apart than the refractometer tells */
  match?: Interval;
}

/** Minerals dissolved in pure water, to be dosed by the millilitre and never drunk. */
export interface Concentrate {
  id: string;
  name: string;
  litres: number;
  salts: SaltGrams[];
  note: string;
}

/** What a millilitre of a concentrate brings to a litre, in mg/L as CaCO3. Nothing is kept. */
export interface ConcentrateReading {
  hardness: number;
  alkalinity: number;
  doubts: WaterDoubt[];
}

/** Opens a socket (in place of an open one); answered by connected or disconnected. */
export interface ConnectEffect {
  kind: "connect";
  url: string;
}

/** Keeps what was noticed of a coffee at one stage: of a brew (book and brew), or of a sample before it is brewed (club and sample). It is added to what was noticed before; nothing is ever changed or taken away, so a first impression stays. */
export interface CupNotice {
  book: string;
  brew: string;
  club: string;
  sample: string;
  stage: CupStage;
  /** 1 to 30, in the order in which they came; of core/cup's list or one's own */
  words: string[];
}

/** Asks for words that begin with what was typed. */
export interface CupWordsParams {
  typed: string;
}

/** Are words of core/cup's list, at most 8, those that begin with it first; none for nothing typed. */
export interface CupWordsView {
  words: string[];
}

/** All of it, each list by name; what was put away comes last. */
export interface CupboardView {
  coffees: CoffeeItem[];
  brewers: BrewerItem[];
  grinders: GrinderItem[];
  waters: WaterItem[];
  concentrates: ConcentrateItem[];
  instruments: InstrumentItem[];
  /** one's own, then the starting points */
  recipes: RecipeItem[];
  home: Home;
  /** °C at home */
  boiling: number;
}

/** So much of it. */
export interface DataPage {
  records: DataRecord[];
  /** what to ask the next page after, empty at the end */
  more: string;
  /** records there are, running brews included */
  all: number;
  /** brews of this page that are left out: their clock runs */
  going: number;
  /** things of this page that are left out: they do not open on this device */
  unread: number;
}

/** Asks for a page of all that a file carries: the first, or the one after a page's More. */
export interface DataPageAsk {
  after: string;
  /** 1 to 200 */
  limit: number;
}

/** Hands records over, to be checked as if they were typed. What is here already stays as it is. */
export interface DataTake {
  /** at most 100 */
  records: DataRecord[];
}

/** Says what became of them. */
export interface DataTaken {
  taken: number;
  /** were here already */
  known: number;
  /** were thrown away here, and stay away */
  gone: number;
  /** of the taken: brews and cups of clubs that one is not in */
  history: number;
  /** of the taken: had fields that this version does not know, which were left out */
  less: number;
  refused: DataRefused[];
}

/** What a file would carry. */
export interface DataView {
  items: number;
  brews: number;
  /** cups that came from a file */
  history: DataCup[];
}

/** Names this device for oneself. */
export interface DeviceName {
  name: string;
}

/** Makes a link by which one more device of one's own comes in. */
export type DevicePair = Record<string, never>;

/** The link to open, scan or paste on the other device; it works once, for ten minutes. */
export interface DevicePairing {
  link: string;
  text: string;
  expires: number;
}

/** Takes one of one's own devices out, everywhere. */
export interface DeviceRemove {
  device: string;
}

/** This device, one's others, and the way back after losing them. */
export interface DevicesView {
  /** this one first */
  devices: Device[];
  recovery: Recovery;
  /** an open pairing */
  pairing?: DevicePairing;
  joining: Joining[];
}

/** Answers a command: with an error nothing of it was done, else what it wrote is durable. */
export interface DoneEffect {
  kind: "done";
  id: number;
  error?: Error;
  result?: unknown;
}

/** Says that the core cannot go on. What is on the disk is whole; a fresh start goes on from there. */
export interface FatalEffect {
  kind: "fatal";
  code: string;
  text: string;
}

/** Closes samples by hand: guesses that are ordered later do not score. */
export interface FlightClose {
  club: string;
  flight: string;
  /** empty: all that are open */
  samples: string[];
}

/** Moves a closing time that is not reached. Organisers only. */
export interface FlightClosing {
  club: string;
  flight: string;
  /** server time; 0: by hand */
  closes: number;
}

/** Opens a flight. Organisers only. The prior is made and declared now: from the atlas, what the club has opened so far, and the narrowing. */
export interface FlightCreate {
  club: string;
  /** 1 to 60 letters */
  title: string;
  note: string;
  /** server time; 0: closed by hand */
  closes: number;
  /** facets asked first, in order; empty: process, origin, roast */
  questions: string[];
  narrowing: Narrowing[];
}

/** Names the new flight. */
export interface FlightCreated {
  flight: string;
}

/** Changes a flight's words. Organisers only. */
export interface FlightEdit {
  club: string;
  flight: string;
  title: string;
  note: string;
}

/** Names a flight. */
export interface FlightParams {
  club: string;
  flight: string;
}

/** A flight: its samples, and who has guessed, not what. */
export interface FlightView {
  club: string;
  clubName: string;
  flight: string;
  title: string;
  note: string;
  closes: number;
  state: FlightState;
  questions: Facet[];
  narrowing: Narrowing[];
  /** can this phone score it as everybody does */
  pinned: Pinned;
  may: FlightMay[];
  /** in the order in which they were sealed */
  samples: SampleLine[];
  /** those the guessed lists speak of */
  members: Member[];
  share: Share;
  /** mine, in its club */
  standing: BookStatus;
}

/** A grinder with its own scale. */
export interface Grinder {
  id: string;
  name: string;
  burr: Burr;
  scale: GrinderScale;
  /** turns: clicks in a turn; letters: clicks from letter to letter */
  perTurn: number;
  /** numbers: the smallest step; 0 for a dial without steps */
  step: number;
  /** letters: in order; none for A to Z */
  marks: string[];
  /** settings at the two stops, as the scale says */
  finest: string;
  coarse: string;
  /** g that stay in it, when measured */
  stays: number;
  /** others grind in it too */
  shared: boolean;
  note: string;
}

/** Tries how a scale that is being described reads a setting. Nothing is kept. */
export interface GrinderRead {
  grinder: Grinder;
  setting: string;
}

/** How it reads it. */
export interface GrinderReads {
  fault: GrinderFault;
  /** of the smallest size, from zero */
  steps: number;
  /** as it is written from now on */
  says: string;
  /** one step towards zero */
  less: string;
  /** one step on */
  more: string;
}

/** Names a sample, and which of the two guesses. */
export interface GuessParams {
  club: string;
  sample: string;
  first: boolean;
}

/** Asks what one would think if one said this. Nothing is kept. */
export interface GuessPreview {
  club: string;
  sample: string;
  facets: SaidFacet[];
}

/** Keeps a guess. First is the ten-second guess before brewing: it is written once and never scored. */
export interface GuessSave {
  club: string;
  sample: string;
  first: boolean;
  facets: SaidFacet[];
}

/** The guess as it is kept, with what follows from it. guess.preview gives the same for what is not kept yet. */
export interface GuessView {
  club: string;
  sample: string;
  code: number;
  state: SampleState;
  closes: number;
  guess: GuessState;
  pinned: Pinned;
  /** the flight's first, then the others */
  questions: GuessQuestion[];
  /** what was said, as guess.save takes it */
  facets: SaidFacet[];
  /** it can (still) be written, if only late */
  may: boolean;
}

/** The kitchen, the same on all of one's devices. */
export interface Home {
  /** m; decides where water boils */
  altitude: number;
  /** °C, for cooling cups; 0: 21 */
  room: number;
  /** ids of the instruments that are used unless a brew says otherwise */
  scale: string;
  refractometer: string;
  /** id */
  water: string;
  weight: "g" | "oz";
  temperature: "C" | "F";
  hardness: HardnessUnit;
  /** a TradeRange, or one that only a later version knows; empty and unknown count as the first */
  range: string;
}

/** What a home comes to while it is being written down, and what can be chosen in it. */
export interface HomeReads {
  /** °C */
  boiling: number;
  ranges: ChartRange[];
}

/** A scale, a refractometer or a thermometer with its precision, in its unit (g, % TDS, °C): plus or minus. */
export interface Instrument {
  id: string;
  name: string;
  what: InstrumentKind;
  precision: number;
  note: string;
}

/** Lists what waits for something to be ordered. */
export interface IntentionsView {
  unseals: UnsealIntention[];
  joining: Joining[];
}

/** Names an item of the Cupboard. */
export interface ItemName {
  what: ItemKind;
  id: string;
}

/** Says what became of it: put away, as brews refer to it, or gone. */
export interface ItemRemoved {
  away: boolean;
}

/** What a link is for. */
export interface LinkMeaning {
  purpose: "join" | "device" | "recovery";
  /** where its book lives */
  host: string;
  /** join: the club's id when one is in it already, else "" */
  known: string;
}

/** Asks what a link, or pasted text, or the content of a QR code is for. Nothing is done with it yet. */
export interface LinkRead {
  text: string;
}

/** Says how one is called, here and in every club one is in. */
export interface NotebookName {
  /** 1 to 40 letters */
  name: string;
}

/** Who one is, and what was read. */
export interface NotebookView {
  /** a notebook exists */
  ready: boolean;
  book: string;
  name: string;
  /** cautions that were read */
  seen: string[];
  /** units of every screen, as Home has them */
  weight: "g" | "oz";
  temperature: "C" | "F";
}

/** The result, or the arguments, of what has none. */
export type Nothing = Record<string, never>;

/** Names a brew (book and brew), or a sample and all brews of it (club and sample). */
export interface NoticedParams {
  book: string;
  brew: string;
  club: string;
  sample: string;
}

/** What this person noticed, by stage, in the order in which a coffee passes them. A stage that was skipped is missing. */
export interface NoticedView {
  stages: NoticedStage[];
  /** of the brew, or of the sample's newest brew */
  cooling?: Cooling;
}

/** One atomic, durable write; it is answered by persisted or persist-failed. */
export interface PersistEffect {
  kind: "persist";
  tx: number;
  puts: StoredRecord[];
  deletes: string[];
}

/** What stays on this device and only warns, or suits a hand. */
export interface Person {
  /** or breast-feeding, or told to have less caffeine */
  pregnant: boolean;
  /** tastes as the trade tastes */
  spits: boolean;
  allergens: Allergen[];
  /** the big button under the left thumb */
  left: boolean;
  /** a house that sleeps: no sound */
  quiet: boolean;
}

/** What one has learned so far. With few cups it is concrete memory, not statistics. */
export interface PracticeView {
  /** samples that are open to me */
  opened: number;
  scored: number;
  /** newest first */
  results: PracticeLine[];
  /** one pair I confused */
  pair?: ConfusedPair;
  /** the mean over samples with both guesses: before brewing, */
  first?: Factor;
  /** and after tasting */
  tasted?: Factor;
  /** how many samples those are */
  both: number;
  /** the first six scored samples are mine alone */
  private: boolean;
  /** results that are still being read */
  pending: number;
}

/** Asks for records: those with Keys, or with Prefix all whose key begins so, in key order; with Last as well, all from there up to those whose key begins with Last. It is answered by got. */
export interface ReadEffect {
  kind: "read";
  id: number;
  keys: string[];
  prefix?: string;
  last?: string;
}

/** A timeline, relative to dose and ratio. */
export interface Recipe {
  id: string;
  title: string;
  geometry: Geometry;
  dose: number;
  ratio: number;
  /** °C at the sea; a home's boiling point caps it */
  kettle: number;
  grind: GrindWord;
  filter: Filter;
  steps: RecipeStep[];
  note: string;
}

/** A recipe as a link that anybody may open, club or not. Nothing is stored anywhere: the recipe stands in it. */
export interface RecipeLink {
  link: string;
}

/** A link or pasted text that may hold a recipe. */
export interface RecipeText {
  text: string;
}

/** Makes this fresh notebook the person's whose code it is. */
export interface Recover {
  /** the code or its link */
  code: string;
}

/** Says that the code was written down: Last is its last group, typed from the paper. */
export interface RecoveryConfirm {
  last: string;
}

/** A new recovery code: shown this once, kept nowhere on this phone. Link opens the app with it. */
export interface RecoveryMade {
  code: string;
  link: string;
}

/** Gives up what the server refused. */
export interface RefusedDiscard {
  id: string;
}

/** Tries once more to share what the server refused. */
export interface RefusedRetry {
  id: string;
}

/** Lists what could not be shared. It is safe on this phone. */
export interface RefusedView {
  refused: Refused[];
}

/** How equal the brews of one recipe are, brewed cups and bowls each by themselves. */
export interface RepeatView {
  ready: boolean;
  brewed: Spread[];
  bowls: Spread[];
}

/** An opened sample: the group's guesses, the answer, and what each person saw. */
export interface ResultView {
  club: string;
  flight: string;
  sample: string;
  code: number;
  title: string;
  state: ResultState;
  /** mine, in its club */
  standing: BookStatus;
  closedHow: ClosedHow;
  /** server time */
  opened: number;
  answer?: Answer;
  /** the answer's nodes by name, finest, with what is not scored said */
  truth: TruthNode[];
  mine?: Factor;
  /** mine, level by level, the nearest success first */
  lines: ResultLine[];
  /** the one cause that cost most */
  cost?: ResultCost;
  /** of my ten-second guess: what tasting added is Mine against it */
  first?: Factor;
  /** everybody, nearest first, then those without a score */
  table: TableLine[];
  /** all scored guesses pooled evenly */
  together?: Factor;
  /** the group's guesses: think is the even pool, said is how many named it as likeliest */
  pool: GuessQuestion[];
  /** everybody's brews and notes of this sample */
  brews: TableBrew[];
  /** what everybody noticed of it, stage by stage */
  noticed: MemberNoticed[];
}

/** Keeps that a caution was read, so that it is not shown again. */
export interface SafetySeen {
  caution: Caution;
}

/** Keeps an opened sample closed for oneself, or (Keep false) looks at it now; a screen that shows a result says so too, and tonight lists the sample no more. */
export interface SampleKeep {
  club: string;
  sample: string;
  keep: boolean;
}

/** Names a sample. */
export interface SampleParams {
  club: string;
  sample: string;
}

/** Seals a sample; its author is its keeper. The blind code is drawn. */
export interface SampleSeal {
  club: string;
  flight: string;
  /** handed to each home */
  grams: number;
  declared: Declared;
  /** members beside oneself who may open it after the close, and are not scored */
  holders: string[];
  answer: Answer;
  /** fields whose surprising value was confirmed */
  sure: string[];
}

/** Names the new sample and its code. */
export interface SampleSealed {
  sample: string;
  code: number;
}

/** Publishes the keys of samples that one keeps or holds. What is not closed yet waits as an intention until the close is ordered (a keeper's own is closed by it, when Close is set). */
export interface SampleUnseal {
  club: string;
  samples: string[];
  /** also close what is open */
  close: boolean;
}

/** The sitting: all there is to one sample, for me. */
export interface SampleView {
  club: string;
  flight: string;
  sample: string;
  code: number;
  title: string;
  place: number;
  of: number;
  state: SampleState;
  closedHow: ClosedHow;
  closes: number;
  grams: number;
  left: number;
  declared: Declared;
  declaredReadable: boolean;
  keeper: Member;
  holders: Member[];
  /** how many members have, in before the close */
  guessed: number;
  questions: Facet[];
  /** mine, newest first */
  brews: BrewDigest[];
  guess: GuessState;
  next: Next;
  kept: boolean;
  asks: boolean;
  may: SampleMay[];
  /** the answer, for its keeper and holders who can read it, and for all once open to them */
  sealed?: Answer;
  /** it is to be unsealed as soon as the close is ordered */
  intention: boolean;
  share: Share;
  /** mine, in its club */
  standing: BookStatus;
}

/** Names an item that was saved. */
export interface Saved {
  id: string;
}

/** Sends one frame on the open socket. */
export interface SendEffect {
  kind: "send";
  bytes: Uint8Array;
}

/** Keeps how far a sitting has come, so that it goes on there. */
export interface SittingReached {
  club: string;
  sample: string;
  step: SittingStep;
}

/** How far a person has come with a sample. Steps may be skipped, and taken up again. */
export interface SittingView {
  club: string;
  sample: string;
  code: number;
  /** no sitting: this person knows the answer, or it is not open for guesses */
  out: boolean;
  done: SittingStep[];
  /** where it goes on */
  at: SittingStep;
  /** the newest brew of it */
  brew?: BrewParams;
  /** of that brew */
  state: BrewState | "";
}

/** Tells what the page knows of this browser's storage. */
export interface StorageReport {
  /** navigator.storage.persisted() */
  persisted: boolean;
  /** runs as an installed app */
  installed: boolean;
  /** little room left */
  low: boolean;
}

/** The mark at the top of every screen, and what stands behind it. */
export interface SyncView {
  mark: SyncMark;
  /** things on this device only */
  waiting: number;
  /** sent, not answered */
  onItsWay: number;
  /** could not be shared: see the refused view */
  refused: number;
  connected: boolean;
  noAnswer: NoAnswer;
  host: string;
  /** server's clock minus this phone's, ms */
  offset: number;
  /** a server has told its time since the start */
  offsetSet: boolean;
  problem: Problem;
  storage: "ok" | "disk-full" | "storage-failed";
  /** the browser promised not to delete by itself */
  persisted: boolean;
  installed: boolean;
}

/** Names a table of bowls. */
export interface TableParams {
  table: string;
}

/** Bowls side by side, by their numbers. */
export interface TableView {
  ready: boolean;
  bowls: BrewView[];
}

/** Asks for a timer input of this name after so many milliseconds. One timer a name: a new one replaces it, a negative After ends it. */
export interface TimerEffect {
  kind: "timer";
  name: string;
  after: number;
}

/** The first screen: one thing that matters most, and what is running or cooling. */
export interface TonightView {
  sample?: TonightSample;
  /** further samples that wait for me */
  more: number;
  /** opened, and not yet looked at; newest first */
  opened: OpenedSample[];
  /** running brews and cooling cups, oldest first */
  going: Going[];
  /** a newcomer's first things still to do, in order; empty when none */
  firsts: First[];
  joining: Joining[];
  clubs: number;
  brews: number;
  /** the coffee that was brewed last, of one's own; empty for none */
  last: string;
}

/** Asks for brews over time, or on the chart: the newest of those that the search finds. */
export interface TrendParams {
  search: BrewSearch;
  /** 1 to 500 */
  limit: number;
}

/** Has a point for each brew, oldest first. */
export interface TrendView {
  ready: boolean;
  points: TrendPoint[];
  /** that the search finds */
  all: number;
  ranges: ChartRange[];
  /** the one that was chosen at home */
  range: TradeRange;
  lines: RatioLine[];
}

/** The tree of an evening's trials of one coffee: those within 18 hours of the brew that was asked about. */
export interface TrialsView {
  ready: boolean;
  rows: Trial[];
}

/** Carries the new value of a watched view, or why it cannot be shown (an id of nothing: "unknown"). */
export interface ViewEffect {
  kind: "view";
  watch: number;
  value?: unknown;
  error?: Error;
}

/** A water from a label or a test. Ions are mg/L. A test gives hardness and alkalinity only, in mg/L as CaCO3. */
export interface Water {
  id: string;
  name: string;
  source: WaterSource;
  calcium: number;
  magnesium: number;
  sodium: number;
  potassium: number;
  bicarbonate: number;
  chloride: number;
  sulphate: number;
  /** test */
  hardness: number;
  /** test */
  alkalinity: number;
  note: string;
}

/** Asks for the blend that comes nearest to a target. Nothing is kept. */
export interface WaterMix {
  /** at most 20, one of them a water or pure */
  sources: MixSource[];
  target: WaterTarget;
  litres: number;
}

/** A blend. */
export interface WaterMixed {
  /** what is used of the sources, in their order */
  parts: MixPart[];
  /** the blend, as it would be saved, without a name */
  gives: Water;
  /** of the blend */
  reads: WaterRead;
  /** what these sources cannot reach */
  misses: MixMiss[];
  /** magnesium matters, and a source's is not known: it came from a test */
  unsure: boolean;
}

/** What a label or a test would come to. Nothing is kept. */
export interface WaterReading {
  reads: WaterRead;
  doubts: WaterDoubt[];
}

/** All that the screens of water work with. */
export interface WaterView {
  waters: WaterItem[];
  concentrates: ConcentrateItem[];
  salts: SaltFacts[];
  units: UnitFacts[];
  /** newest first */
  ranges: WaterRange[];
  /** those that set a common water */
  clubs: ClubTarget[];
  unit: HardnessUnit;
  /** g: the usual scale is right within plus or minus this */
  scale: number;
}

/** What a sample is. What is not stated is null, and not scored. */
export interface Answer {
  /** country or region */
  origin?: Known;
  process?: Known;
  /** a set */
  variety?: Known;
  /** the node "decaf.none" or a method */
  decaf?: Known;
  /** the roaster's word */
  roast?: Known;
  /** a band; filled from altitudeLow and altitudeHigh when those are given */
  altitude?: Known;
  /** a meter's number as typed, with its scale */
  roastMeter: string;
  /** m, 0 when not stated */
  altitudeLow: number;
  /** m */
  altitudeHigh: number;
  /** the lot's or coffee's name */
  lot: string;
  producer: string;
  /** date as typed */
  roasted: string;
  note: string;
}

/** One facet's tree. */
export interface AtlasFacet {
  facet: Facet;
  ordered: boolean;
  /** depth first */
  nodes: AtlasNode[];
}

/** What is in one bowl: a sample, or one's own coffee. */
export interface Bowl {
  club: string;
  sample: string;
  coffee: string;
  coffeeID: string;
  /** 0: the setup's */
  dose: number;
}

/** A brew in a list. */
export interface BrewDigest {
  book: string;
  brew: string;
  /** empty for one's own coffee */
  sample: string;
  code: number;
  coffee: string;
  /** by this phone's clock; when it was planned, until it started */
  began: number;
  state: BrewState;
  method: Method;
  dose: number;
  /** where there is no scale */
  scoops: number;
  water: number;
  grind: string;
  /** s */
  drawdown: number;
  /** percent */
  tds: number;
  brewer: string;
  recipe: string;
  /** EY, percent */
  yield: number;
  /** of bowls; empty for none */
  table: string;
  bowl: number;
  abandoned: boolean;
}

/** Something that happened during a brew. */
export interface BrewMarked {
  mark: Mark;
  /** s from the start */
  at: number;
  grams: number;
  /** of the plan, from 1; 0 none */
  step: number;
}

/** What came of a brew. Numbers that were not measured are 0. */
export interface BrewOutcome {
  /** as corrected by hand; empty: as marked */
  pours: Pour[];
  /** s from the start until the bed is dry; 0: as marked */
  drawdown: number;
  /** g in the cup */
  beverage: number;
  /** percent, of filtered, cooled, covered beverage */
  tds: number;
  notes: string;
  /** after an absence: what happened meanwhile */
  asked: Asked;
  /** °C in the bed, as measured */
  slurry: number;
  /** g added to the cup afterwards, within Beverage */
  bypass: number;
  /** how the cup stood; what was not touched is missing */
  balance: BalanceMark[];
}

/** Narrows the log; what is empty or 0 narrows nothing. */
export interface BrewSearch {
  /** each word begins some word of the brew or its notes; accents and case do not matter */
  words?: string;
  /** a coffee's id, or the very name where there is none */
  coffee?: string;
  /** id */
  sample?: string;
  /** id or name */
  brewer?: string;
  /** id or name */
  grinder?: string;
  /** id */
  recipe?: string;
  /** began at or after */
  from?: number;
  /** began before */
  until?: number;
  /** bowls only */
  bowls?: boolean;
  /** with TDS only */
  measured?: boolean;
}

/** What a brew is made with. Numbers that were not measured are 0. */
export interface BrewSetup {
  /** one's own coffee, in one's own words; empty with a sample */
  coffee: string;
  method: Method;
  /** in one's own words */
  brewer: string;
  /** g */
  dose: number;
  /** g, with the bloom; when 0, dose × ratio */
  water: number;
  /** g of water a g of coffee; when 0, water / dose */
  ratio: number;
  /** °C */
  kettle: number;
  /** in one's own words */
  grinder: string;
  /** the setting, as the grinder's scale says */
  grind: string;
  filter: string;
  /** What of the Cupboard it is made with, by id; empty for none. Names above and steps below are copied from there, and a brew keeps a copy of everything, so a later edit there rewrites no history. */
  coffeeID: string;
  brewerID: string;
  grinderID: string;
  waterID: string;
  recipeID: string;
  /** decides Method when it is known */
  geometry: Geometry | "";
  waterName: string;
  /** its title */
  recipe: string;
  /** what is planned; empty without a recipe */
  steps: RecipeStep[];
  /** where there is no scale */
  scoops: number;
  /** minutes */
  sinceGrinding: number;
}

/** The brew's own copy of what of the Cupboard it was made with, as that was then. */
export interface BrewUsed {
  coffee?: Coffee;
  brewer?: Brewer;
  grinder?: Grinder;
  water?: Water;
  scale?: Instrument;
  refractometer?: Instrument;
  altitude: number;
}

/** A brewer with what its owner's brews say that its grounds keep. */
export interface BrewerItem {
  brewer: Brewer;
  kept: Kept;
  /** g/g: measured by its owner, learned from brews, or the geometry's start value */
  retained: Interval;
  /** brews that it was learned from */
  learned: number;
}

/** An estimate in mg, with the brews of the last 16 hours. */
export interface Caffeine {
  /** of what is planned */
  low: number;
  high: number;
  /** with what was brewed before */
  todayLow: number;
  todayHigh: number;
  atOnce: CaffeineLevel;
  inADay: CaffeineLevel;
  pregnant: CaffeineLevel;
  sleep: CaffeineLevel;
  /** counted as tasted and spat out */
  spits: boolean;
}

/** What differs from one setup to a later one, and whether a cause can be read from it. */
export interface Changes {
  verdict: ChangeVerdict;
  list: Change[];
  causes: number;
  /** one move that changed dose and ratio */
  mixed: boolean;
}

/** Where a brew lies on the control chart against the chosen range. */
export interface ChartPlace {
  range: ChartRange;
  strength: Side;
  /** all that the refractometer leaves open lies on that side */
  strengthSure: boolean;
  extraction: Side;
  /** the whole interval of the extraction does */
  sure: boolean;
}

/** A range of the brewing control chart, in percent. */
export interface ChartRange {
  id: TradeRange;
  tdsLow: number;
  tdsHigh: number;
  eyLow: number;
  eyHigh: number;
}

/** A club in the list. */
export interface ClubLine {
  club: string;
  /** empty until it can be read */
  name: string;
  role: Role;
  members: number;
  host: string;
  status: BookStatus;
  /** samples that wait for me */
  waitingSamples: number;
}

/** The common water of a club that one is in. */
export interface ClubTarget {
  club: string;
  name: string;
  target: WaterTarget;
}

/** What a member says of this target; of an earlier one it does not count. */
export interface ClubWaterLine {
  member: string;
  name: string;
  me: boolean;
  says: WaterReach;
}

/** A coffee with what is left of it. */
export interface CoffeeItem {
  coffee: Coffee;
  kept: Kept;
  /** g, counted down by brews; 0 also when Coffee.Grams is not known */
  left: number;
  /** days since roasting that count; -1 not known */
  rest: number;
}

/** A concentrate. */
export interface ConcentrateItem {
  concentrate: Concentrate;
  kept: Kept;
  reads: ConcentrateReading;
}

/** The country or process that I took for another, and the cups it happened with. */
export interface ConfusedPair {
  facet: Facet;
  was: string;
  wasName: string;
  said: string;
  saidName: string;
  times: number;
  /** cups that were it */
  of: number;
  cups: PracticeLine[];
}

/** When a cup is how warm, a guide. Without any reading of the vessel there is none. */
export interface Cooling {
  room: number;
  /** a second; the cup is Room + (Start - Room) exp(-Rate t), t seconds after From */
  rate: number;
  from: number;
  /** °C at From */
  start: number;
  calls: Call[];
}

/** What one thought of a club's sample, and what it was once that is open to oneself. In a file it is history: it is never taken back as a guess, which only a club can order. */
export interface DataCup {
  of: DataOf;
  clubName: string;
  grams: number;
  declared?: Declared;
  keeps: DataKeeps;
  /** the guess before brewing */
  first: SaidFacet[];
  guess: SaidFacet[];
  late: boolean;
  /** one knew the answer */
  knew: boolean;
  /** server time; 0: sealed */
  opened: number;
  answer?: Answer;
  /** the score, in 1/1,000 bit */
  bits?: number;
  /** before any brew */
  noticed: DataNote[];
}

/** One thing, as a file carries it (see pwa/ui/model/FILE.md): of the fields below Away the one that Kind names. */
export interface DataRecord {
  kind: DataKind;
  /** items: put away */
  away?: boolean;
  home?: Home;
  coffee?: Coffee;
  brewer?: Brewer;
  grinder?: Grinder;
  water?: Water;
  concentrate?: Concentrate;
  instrument?: Instrument;
  recipe?: Recipe;
  brew?: DataBrew;
  cup?: DataCup;
}

/** A record that cannot be, and why. */
export interface DataRefused {
  /** among those handed over */
  index: number;
  error: Error;
}

/** What everybody may know before opening the bag. A choice must be made; "nothing" is a statement, and goes with empty lists. */
export interface Declared {
  choice: Choice;
  allergens: Allergen[];
  additives: Additive[];
  note: string;
}

/** One installation of one's own. */
export interface Device {
  device: string;
  name: string;
  this: boolean;
  /** that it is in */
  clubs: number;
  /** clubs that it is still to come into */
  missing: number;
}

/** That of one quantity, the second less the first. For what is measured it is a share: 0.1 is a tenth more. */
export interface Difference {
  of: Quantity;
  /** there are repeated brews to judge it by */
  enough: boolean;
  /** 90 % */
  by: Interval;
  /** percent: of a difference as large between brews of one recipe */
  chance: number;
  /** more than cups of one recipe differ: By is all on one side of 0 */
  beyond: boolean;
}

/** A refusal for a person: what happened and what to do. Code is stable, kebab-case; Field names the argument that was wrong, as "dose" or "answer.process" or "pours.2.grams"; a code "surprising" may be repeated with that field in `sure`. */
export interface Error {
  code: string;
  text: string;
  hint?: string;
  field?: string;
  /** of numbers: what is wrong with it, a code of core/brewing */
  why?: string;
  /** and what it went past, in the field's unit */
  limit?: number;
}

/** What a change is expected to do, each with its 90 % interval. */
export interface Expected {
  of: Attribute | "tds" | "ey" | "seconds";
  before: Interval;
  change: Interval;
  next: Interval;
}

/** A score against a blind guess: up "x Times", else "/ Times"; Times is at least 1. Bits is the same in 1/1,000 bit. */
export interface Factor {
  up: boolean;
  /** two or three digits */
  times: number;
  bits: number;
}

/** A flight in a list. */
export interface FlightLine {
  flight: string;
  title: string;
  closes: number;
  state: FlightState;
  samples: number;
  /** samples on which I have guessed */
  guessed: number;
  opened: number;
  share: Share;
}

/** A running brew or a cooling cup. */
export interface Going {
  book: string;
  brew: string;
  /** left: hours ago, and nobody ended it */
  what: "brewing" | "cooling" | "left";
  /** of its sample, 0 for one's own coffee */
  code: number;
  coffee: string;
  /** by this phone's clock: the start of the brew, or when it was done */
  began: number;
  /** brewing: the next step but waiting; empty without a plan, and after the last */
  next: StepKind | "";
  /** when it is due, or when the plan ends; by this phone's clock, 0 unknown */
  at: number;
  /** what the scale shows after it; 0 for steps without water */
  to: number;
  held: boolean;
  /** of bowls; empty for none */
  table: string;
  bowl: number;
  /** once its vessel was read */
  cooling?: Cooling;
}

/** A setting of the grinder for the wanted time. */
export interface GrindHint {
  /** false: it can't be told yet, see the reasons */
  known: boolean;
  setting: string;
  /** 90 % interval */
  low: string;
  high: string;
  /** what the brew may take there */
  seconds: Interval;
  /** core/grinder */
  reasons: Reason[];
}

/** A grinder. */
export interface GrinderItem {
  grinder: Grinder;
  kept: Kept;
}

/** One facet with its tree. */
export interface GuessQuestion {
  facet: Facet;
  /** one of the flight's questions */
  asked: boolean;
  ordered: boolean;
  /** depth first, parents before children */
  nodes: GuessNode[];
  /** null while the facet is as it was before tasting */
  preview?: Preview;
}

/** Where my guess on a sample stands. */
export interface GuessState {
  made: boolean;
  /** the ten-second guess is kept */
  first: boolean;
  share: Share;
  /** once shared: in before the close, or late */
  timing: "" | "in" | "late";
  /** I know the answer: not scored */
  holder: boolean;
}

/** An instrument. */
export interface InstrumentItem {
  instrument: Instrument;
  kept: Kept;
}

/** A number and how far it may be off: two standard uncertainties each way. */
export interface Interval {
  value: number;
  low: number;
  high: number;
}

/** An invitation. Link and Text are there on the phone that made it. */
export interface InviteLine {
  invite: string;
  role: Role;
  uses: number;
  used: number;
  expires: number;
  open: boolean;
  link: string;
  text: string;
  /** it works from "shared" on */
  share: Share;
}

/** A coming in that is under way. Code says why it stands still, empty when it does not. */
export interface Joining {
  joining: string;
  purpose: "join" | "device" | "recovery";
  host: string;
  state: "waiting" | "reading" | "entering" | "in" | "failed";
  code: string;
}

/** A person in a club. */
export interface Member {
  member: string;
  /** empty until it can be read */
  name: string;
  role: Role;
  /** without the recovery device */
  devices: number;
  me: boolean;
  gone: boolean;
  /** gone, taken out by an organiser */
  removed: boolean;
}

/** What a member noticed of an opened sample. */
export interface MemberNoticed {
  member: string;
  name: string;
  stages: NoticedStage[];
}

/** A quantity that the sources cannot reach, in mg/L as CaCO3. */
export interface MixMiss {
  quantity: WaterQuantity;
  want: number;
  gets: number;
  /** every source brings it; else none brings enough */
  tooMuch: boolean;
}

/** So much of a source. */
export interface MixPart {
  what: MixKind;
  id: string;
  /** of an item of one's own */
  name: string;
  /** waters: of the blend */
  share: number;
  /** waters */
  litres: number;
  /** concentrates */
  millilitres: number;
  /** salts */
  grams: number;
  /** this scale cannot weigh so little within a twentieth */
  tooFine: boolean;
  instead?: MixDilution;
}

/** What may go into a blend. ID is the item's, or the salt's; empty for pure water. */
export interface MixSource {
  what: MixKind;
  id: string;
}

/** Says in the open that the samples of a flight lie within some nodes of a facet. */
export interface Narrowing {
  facet: string;
  nodes: string[];
}

/** What was noticed at one stage, oldest first. */
export interface NoticedStage {
  stage: CupStage;
  times: Noticed[];
}

/** A sample whose answer is there to be looked at. Asks: I had not guessed, so it asks before it shows. */
export interface OpenedSample {
  club: string;
  flight: string;
  sample: string;
  code: number;
  title: string;
  asks: boolean;
}

/** A recipe worked out for a dose, in a home. Times are seconds from the start, holds that are over included; while the plan is held (BrewView.Held) it stands where it was. */
export interface Plan {
  steps: PlanStep[];
  dose: number;
  /** on the coffee */
  water: number;
  bypass: number;
  /** expected in the cup */
  beverage: number;
  /** °C, at most what water can reach here */
  kettle: number;
  /** the recipe wants it hotter than water gets here */
  capped: boolean;
  ends: number;
}

/** One pour: when it began, in seconds from the start, and to what weight. */
export interface Pour {
  at: number;
  grams: number;
}

/** One result. */
export interface PracticeLine {
  club: string;
  flight: string;
  sample: string;
  code: number;
  title: string;
  opened: number;
  score?: Factor;
  status: TableStatus;
  /** the answer, a facet each */
  was: TopNode[];
  /** what I thought likeliest */
  said: TopNode[];
  /** of my last brew of it */
  notes: string;
}

/** A time in seconds that a brew may take, with its 90 % interval. Factor is against the recipe's own. */
export interface Prediction {
  seconds: Interval;
  /** of the dose */
  exponent: Interval;
  /** factor on the size of the grounds that would keep the recipe's time */
  coarser: Interval;
  /** one's own brews decided it */
  enough: boolean;
  /** core/scaling */
  reasons: Reason[];
}

/** What to grind away before this coffee. */
export interface Purge {
  grams: number;
  /** core/grinder */
  reasons: Reason[];
}

/** A line of equal ratio on the brewing control chart, for water that passes through: it begins where nothing is extracted. */
export interface RatioLine {
  /** g of water a g of coffee */
  ratio: number;
  /** TDS by EY */
  slope: number;
}

/** How many honest attempts are left. */
export interface Ration {
  /** g now */
  left: number;
  /** g to taste again knowing */
  kept: number;
  attempts: number;
  each: number;
  /** g that remain after them */
  over: number;
  /** dose whose brew is still reliable with this scale */
  smallest: number;
  /** the planned dose is at least that */
  reliable: boolean;
  /** attempts with the smallest reliable dose */
  most: number;
}

/** A temperature of the cup. */
export interface Reading {
  /** by this phone's clock */
  at: number;
  celsius: number;
}

/** One part of the sentence that explains a figure; the words stand in pwa/ui/words. Code is one of package From's. */
export interface Reason {
  code: string;
  n: number;
  /** the quantity, variable or attribute that it is about; empty for none */
  of: string;
  /** response: the variable, when Of is the attribute */
  by: string;
}

/** A recipe. A starting point is not edited; saving a changed one makes a recipe of one's own. */
export interface RecipeItem {
  recipe: Recipe;
  kept: Kept;
  starting: boolean;
  cautions: BrewCaution[];
}

/** A line of a recipe. Times are seconds from the start; before 0 it is before the clock. */
export interface RecipeStep {
  kind: StepKind;
  at: number;
  /** 0 for what takes no time worth noting */
  until: number;
  /** pours: share of the recipe's water on the scale after it; bypass: share added */
  water: number;
  /** bloom, instead of Water: g of water a g of coffee */
  dose: number;
  pattern: PourPattern;
  /** strokes of stir, swirl, break */
  times: number;
}

/** Where the recovery code stands. */
export interface Recovery {
  made: boolean;
  /** by the phone that made it */
  at: number;
  confirmed: boolean;
}

/** One thing that the server refused. What says which thing it is, Code why. */
export interface Refused {
  id: string;
  book: string;
  /** of the club, empty for the notebook */
  name: string;
  what: RefusedWhat;
  code: string;
  text: string;
  /** it can be tried again */
  retry: boolean;
  /** that it is about */
  sample: string;
  sampleCode: number;
}

/** Says what cost most: so much said on a node that was wrong, and how much less a more careful share would have cost. */
export interface ResultCost {
  facet: Facet;
  node: string;
  name: string;
  share: number;
  cost: Factor;
  /** a share that would have cost less */
  better: number;
  /** what that would have cost */
  less: Factor;
}

/** One level of one facet: given all above it, what I gave the truth against a blind guess. */
export interface ResultLine {
  facet: Facet;
  /** "area", "country", "region"; else the facet */
  level: Level | Facet;
  node: string;
  name: string;
  /** I gave the truth more than a blind guess does */
  right: boolean;
  /** my share of the truth at this level, outright */
  mine: number;
  /** the same before tasting */
  before: number;
  factor: Factor;
}

/** What was said on one facet; nothing said leaves it at what the rest implies. */
export interface SaidFacet {
  facet: string;
  said: Said[];
}

/** A food-grade salt, in the hydrate that its formula states. */
export interface SaltFacts {
  salt: Salt;
  formula: string;
  /** g that a litre surely takes up */
  dissolves: number;
}

/** So much of a salt of core/water. */
export interface SaltGrams {
  salt: Salt;
  grams: number;
}

/** A sample one has, to pick for a brew. */
export interface SampleChoice {
  club: string;
  sample: string;
  code: number;
  title: string;
  left: number;
  declared: Declared;
  /** unsealed: what is left is to be tasted again, knowing */
  opened: boolean;
}

/** A sample in its flight. */
export interface SampleLine {
  sample: string;
  code: number;
  grams: number;
  state: SampleState;
  /** opened by its keeper before the close */
  early: boolean;
  /** member */
  keeper: string;
  /** members, the keeper among them */
  holders: string[];
  /** members, in before the close */
  guessed: string[];
  /** members */
  late: string[];
  /** mine */
  guess: GuessState;
  /** I keep it closed for me */
  kept: boolean;
  /** opened, and it asks me first */
  asks: boolean;
  may: SampleMay[];
  /** the node of the finest origin stated, when open to me */
  answer: string;
  /** its name */
  label: string;
  /** my score, when open to me */
  mine?: Factor;
  share: Share;
}

/** How far brews of one recipe differ in a quantity. For what is measured it is a share of the value. */
export interface Spread {
  of: Quantity;
  /** 90 % */
  deviation: Interval;
  /** two brews differ by more than this once in ten times */
  limit: number;
  brews: number;
  recipes: number;
  enough: boolean;
}

/** One thing on the phone's disk. */
export interface StoredRecord {
  key: string;
  value: Uint8Array;
}

/** Somebody's brew of an opened sample. */
export interface TableBrew {
  member: string;
  name: string;
  brew: BrewDigest;
  notes: string;
}

/** One person at the unsealing. */
export interface TableLine {
  member: string;
  name: string;
  me: boolean;
  status: TableStatus;
  /** of those in before the close */
  score?: Factor;
  /** what they thought likeliest, a facet each */
  top: TopNode[];
}

/** The sample on the table. Next is the one thing to do with it. */
export interface TonightSample {
  club: string;
  flight: string;
  sample: string;
  code: number;
  clubName: string;
  /** of the flight */
  title: string;
  /** the how-manieth of the flight, from 1 */
  place: number;
  of: number;
  /** handed out */
  grams: number;
  /** after my own brews */
  left: number;
  closes: number;
  declared: Declared;
  declaredReadable: boolean;
  next: Next;
  guess: GuessState;
  /** where its sitting goes on */
  sitting?: SittingView;
  /** honest attempts left with the last dose; nil without one */
  ration?: Ration;
}

/** A brew in a plot. What was not measured is 0 or missing. */
export interface TrendPoint {
  book: string;
  brew: string;
  began: number;
  seconds: number;
  /** percent */
  tds: number;
  /** what the refractometer leaves open of it, percent to either side */
  open: number;
  yield?: Interval;
  ratio: number;
  balance: BalanceMark[];
  /** a cupping bowl: never pooled with brewed cups */
  bowl: boolean;
  counts: boolean;
}

/** A row of the tree. Parent is a row from 0, or -1. */
export interface Trial {
  brew: BrewDigest;
  parent: number;
  lane: number;
  depth: number;
  since?: Changes;
  balance: BalanceMark[];
  yield?: Interval;
  /** its parent is not of this evening */
  orphan: boolean;
}

/** What the answer states on a facet. */
export interface TruthNode {
  facet: Facet;
  nodes: string[];
  /** from the top of the tree down to the finest, for one node; else the nodes' names */
  names: string[];
  source: Source;
  scored: boolean;
}

/** A unit of hardness and alkalinity. */
export interface UnitFacts {
  unit: HardnessUnit;
  /** mg/L as CaCO3 in one */
  factor: number;
}

/** A sample that this phone opens as soon as it has verified the close. */
export interface UnsealIntention {
  club: string;
  flight: string;
  sample: string;
  code: number;
}

/** Something that is hardly meant, or will not work. It is a question at its field and hinders nobody. */
export interface WaterDoubt {
  code: WaterDoubtCode;
  salt: Salt | "";
  /** balance: cations less anions over their sum, in percent; undissolved: g that this volume takes up */
  value: number;
}

/** A water with what its numbers come to. */
export interface WaterItem {
  water: Water;
  kept: Kept;
  reads: WaterRead;
}

/** What the trade published for brewing water, in mg/L as CaCO3. */
export interface WaterRange {
  id: string;
  year: number;
  hardnessLow: number;
  hardnessHigh: number;
  /** the hardness is of calcium alone */
  calciumOnly: boolean;
  alkalinityLow: number;
  alkalinityHigh: number;
  /** the publication was read; else it is told at second hand */
  read: boolean;
}

/** What a water's numbers come to, in mg/L as CaCO3. */
export interface WaterRead {
  hardness: number;
  /** hardness by calcium alone */
  calcium: number;
  alkalinity: number;
  /** false: a number was misread, or the label leaves ions out */
  balanced: boolean;
  /** calcium and magnesium are known apart; a test does not tell them */
  split: boolean;
  ranges: WaterWithin[];
}

/** What a water should have, in mg/L as CaCO3. Magnesium is its part of the hardness, 0 to 1; -1: any. */
export interface WaterTarget {
  hardness: number;
  alkalinity: number;
  magnesium: number;
}

/** A node of a tree. */
export interface AtlasNode {
  node: string;
  name: string;
  /** other names, for searching */
  also: string[];
  parent: string;
  depth: number;
  leaf: boolean;
}

/** How one side of a cup stood: from -1000, far too little, over 0, in agreement, to 1000, far too much. */
export interface BalanceMark {
  of: Attribute;
  mark: number;
}

/** A moment to taste. Nobody is told to drink above 65 °C. */
export interface Call {
  stage: CupStage;
  celsius: number;
  at: number;
}

/** One thing that differs. Numbers are in Field's unit (see core/evening); names are as the brews have them. */
export interface Change {
  field: ChangeField;
  kind: ChangeKind;
  from: number;
  to: number;
  fromKnown: boolean;
  toKnown: boolean;
  /** for what has a name instead of a number, and for grinds as the scale says them */
  fromName: string;
  toName: string;
  /** from 1 */
  step: number;
  stepKind: StepKind | "";
}

/** A brew with all that was kept of it. Times are milliseconds since 1970. */
export interface DataBrew {
  id: string;
  /** when it was planned */
  created: number;
  state: BrewState;
  /** 0: the clock never started */
  began: number;
  ended: number;
  setup: BrewSetup;
  used: BrewUsed;
  /** in order */
  marks: DataMark[];
  outcome: BrewOutcome;
  /** of the cup */
  readings: DataHeat[];
  kitchen: DataKitchen;
  /** the phone slept or was started anew while it ran */
  absent: boolean;
  counts: boolean;
  abandoned: boolean;
  /** id of the brew that it was a change of */
  parent: string;
  /** of bowls */
  table: string;
  bowl: number;
  /** in the order in which it came */
  noticed: DataNote[];
  /** the club's sample that it was of */
  of?: DataOf;
  /** EY in percent, worked out for who reads the file; not read back */
  yield?: Interval;
}

/** What was noticed at one time. */
export interface DataNote {
  stage: CupStage;
  at: number;
  words: string[];
}

/** Names a club's sample, with the words that are left of it where nobody is in that club. */
export interface DataOf {
  club: string;
  sample: string;
  code: number;
  /** of its flight */
  title: string;
}

/** One candidate. Shares are 1/10,000. What the narrowing rules out is left out. */
export interface GuessNode {
  node: string;
  name: string;
  /** empty at the top */
  parent: string;
  /** from 0 */
  depth: number;
  leaf: boolean;
  /** likely before tasting */
  before: number;
  /** what I think, all that I said taken together */
  think: number;
  /** what I said on this very node, -1 for nothing */
  said: number;
}

/** What is known of every item beside what its owner typed. */
export interface Kept {
  /** put away: offered nowhere, kept for the brews that used it */
  away: boolean;
  /** that used it */
  brews: number;
  /** when one last did; 0 never */
  last: number;
}

/** One thing an answer states, and how it is known: from the label, told by the roaster or the grower, measured, or by hearsay (kept and shown, not scored). */
export interface Known {
  /** one, or several when the lot is several (then any of them is right) */
  nodes: string[];
  source: Source;
}

/** A concentrate of one salt that this scale can weigh, and how much of it the blend needs. */
export interface MixDilution {
  /** of the salt */
  grams: number;
  /** of pure water */
  litres: number;
  millilitres: number;
}

/** What was noticed at one moment. */
export interface Noticed {
  /** by the clock of the phone that kept it */
  at: number;
  /** empty before brewing */
  brew: string;
  words: string[];
}

/** A step with its weights worked out. */
export interface PlanStep {
  kind: StepKind;
  at: number;
  /** 0 for what takes no time worth noting */
  until: number;
  /** g of water */
  adds: number;
  /** what the scale shows after it, 0 for steps without water */
  to: number;
  /** g/s that a pour needs, 0 without an end */
  flow: number;
  pattern: PourPattern;
  times: number;
}

/** What a guess would bring on one facet: when my likeliest node is right, when it is only near (its siblings), and when it is far off (the worst). */
export interface Preview {
  node: string;
  hit: Factor;
  near: Factor;
  far: Factor;
}

/** What a person said about one node: a share of all, in 1/10,000. */
export interface Said {
  node: string;
  share: number;
}

/** Somebody's likeliest node of a facet. */
export interface TopNode {
  facet: Facet;
  node: string;
  name: string;
  share: number;
  right: boolean;
}

/** How a water lies to a range that the trade published. */
export interface WaterWithin {
  id: string;
  year: number;
  hardness: boolean;
  alkalinity: boolean;
  /** the publication was read; else it is told at second hand */
  read: boolean;
  /** false: the range is of calcium alone, which this water's test does not tell */
  known: boolean;
}

/** A temperature of a cup. */
export interface DataHeat {
  /** milliseconds from the start */
  at: number;
  celsius: number;
}

/** What numbers of a brew depend on, as it was then. What is not known is 0. */
export interface DataKitchen {
  /** g, plus or minus */
  scale: number;
  /** % TDS, plus or minus */
  meter: number;
  /** m */
  altitude: number;
  /** g of liquid that a g of coffee keeps */
  retained: number;
  /** position on the grinder's own scale, in its smallest steps */
  grind: number;
  /** Grind is known */
  grindSet: boolean;
  infused: boolean;
  allergens: boolean;
  /** % of the dose */
  moisture?: number;
}

/** Something that happened during a brew. */
export interface DataMark {
  mark: Mark;
  /** milliseconds from the start */
  at: number;
  grams: number;
  /** of the plan, from 1; 0 when it belongs to none */
  step: number;
}

