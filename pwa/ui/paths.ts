// The address of every screen, in one place.

const part = encodeURIComponent;

export const paths = {
  tonight: "/",
  bench: "/bench",
  brewLog: "/bench/log",
  brewNew: "/bench/new",
  brewOf: (club: string, sample: string) => `/bench/new/${part(club)}/${part(sample)}`,
  brew: (book: string, brew: string) => `/bench/brew/${part(book)}/${part(brew)}`,
  /** A saved brew, with what came of it open to be noted. */
  brewNote: (book: string, brew: string) => `/bench/brew/${part(book)}/${part(brew)}?note`,
  /** A brew like another one, or with one thing changed. */
  brewAgain: (book: string, brew: string) => `/bench/again/${part(book)}/${part(brew)}`,
  advice: (book: string, brew: string) => `/bench/next/${part(book)}/${part(brew)}`,
  trials: (book: string, brew: string) => `/bench/trials/${part(book)}/${part(brew)}`,
  repeat: (book: string, brew: string) => `/bench/repeat/${part(book)}/${part(brew)}`,
  compare: (book: string, brew: string, otherBook: string, otherBrew: string) =>
    `/bench/compare/${part(book)}/${part(brew)}/${part(otherBook)}/${part(otherBrew)}`,
  /** A cup of a brew: what is noticed in it, and how it cools. */
  cup: (book: string, brew: string) => `/bench/cup/${part(book)}/${part(brew)}`,
  /** The log, to pick what a brew is compared with. */
  compareWith: (book: string, brew: string) => `/bench/compare/${part(book)}/${part(brew)}`,
  chart: "/bench/chart",
  /** The chart of the brews that a query of the log finds. */
  chartOf: (query: string) => (query ? `/bench/chart?${query}` : "/bench/chart"),
  bowlsNew: "/bench/bowls",
  bowls: (table: string) => `/bench/bowls/${part(table)}`,
  flights: "/flights",
  flight: (club: string, flight: string) => `/flights/${part(club)}/${part(flight)}`,
  flightNew: (club: string) => `/flights/${part(club)}/new`,
  flightEdit: (club: string, flight: string) => `/flights/${part(club)}/${part(flight)}/edit`,
  seal: (club: string, flight: string) => `/flights/${part(club)}/${part(flight)}/seal`,
  sample: (club: string, sample: string) => `/sample/${part(club)}/${part(sample)}`,
  look: (club: string, sample: string) => `/sample/${part(club)}/${part(sample)}/look`,
  /** What is noticed at a step of its sitting. */
  notice: (club: string, sample: string, step: string) => `/sample/${part(club)}/${part(sample)}/notice/${part(step)}`,
  guess: (club: string, sample: string) => `/sample/${part(club)}/${part(sample)}/guess`,
  result: (club: string, sample: string) => `/sample/${part(club)}/${part(sample)}/open`,
  practice: "/practice",
  cupboard: "/cupboard",
  /** The items of one kind, one item, and a new one. */
  items: (what: string) => `/cupboard/have/${part(what)}`,
  item: (what: string, id: string) => `/cupboard/have/${part(what)}/${part(id)}`,
  itemNew: (what: string) => `/cupboard/have/${part(what)}/new`,
  recipeEdit: (id: string) => `/cupboard/have/recipe/${part(id)}/edit`,
  home: "/cupboard/home",
  mix: "/cupboard/mix",
  mixFor: (club: string) => `/cupboard/mix/${part(club)}`,
  data: "/cupboard/data",
  /** A recipe that somebody sent; it stands in the fragment. */
  recipe: "/recipe",
  you: "/cupboard/you",
  sync: "/cupboard/sync",
  refused: "/cupboard/refused",
  devices: "/cupboard/devices",
  recovery: "/cupboard/recovery",
  clubs: "/club",
  clubNew: "/club/new",
  enter: "/club/enter",
  club: (club: string) => `/club/${part(club)}`,
  clubWater: (club: string) => `/club/${part(club)}/water`,
  invite: (club: string) => `/club/${part(club)}/invite`,
  member: (club: string, member: string) => `/club/${part(club)}/member/${part(member)}`,
  join: "/join",
  pair: "/pair",
  recover: "/recover",
  about: "/about",
};
