// Intl's formatters take longer to make than a screen to draw, so each is made once. The locale is the browser's, for as long
// as the page lives.

export function moments(options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  return once(made.moments, options, () => new Intl.DateTimeFormat(undefined, options));
}

export function numbers(options: Intl.NumberFormatOptions): Intl.NumberFormat {
  return once(made.numbers, options, () => new Intl.NumberFormat(undefined, options));
}

export function distances(): Intl.RelativeTimeFormat {
  return once(made.distances, {}, () => new Intl.RelativeTimeFormat(undefined));
}

const made = {
  moments: new Map<string, Intl.DateTimeFormat>(),
  numbers: new Map<string, Intl.NumberFormat>(),
  distances: new Map<string, Intl.RelativeTimeFormat>(),
};

function once<T>(known: Map<string, T>, options: object, make: () => T): T {
  const key = JSON.stringify(options);
  let format = known.get(key);
  if (!format) known.set(key, (format = make()));
  return format;
}
