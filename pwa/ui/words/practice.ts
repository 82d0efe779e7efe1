// Words of Practice.

export const practice = {
  title: "Practice",
  none: "Nothing is opened yet",
  noneText: "When a sample is unsealed, what you thought stands here beside what it was.",
  opened: (count: number) => (count === 1 ? "one cup opened" : `${count} cups opened`),
  pair: (was: string, said: string) => `When it was ${was}, you said ${said}.`,
  pairCount: (times: number, of: number) => `${times} of ${of}. It is too early for numbers; this is what your notes show.`,
  wrote: "you wrote",
  said: "you said",
  was: "it was",
  changed: (count: number) => `What tasting changed, over ${count === 1 ? "one cup" : `${count} cups`}`,
  private: "Your first six scored cups are yours alone.",
  pending: (count: number) => (count === 1 ? "One result is still being read." : `${count} results are still being read.`),
  results: "Your cups",
  youSaid: (names: string) => `you said ${names}`,
};
