/** The first and the last of so many lengths that lie between two heights of the list; at least one. */
export function reached(lengths: number, high: (length: number) => number, from: number, until: number): [number, number] {
  let [first, last, top] = [-1, 0, 0];
  for (let length = 0; length < lengths; length++) {
    const bottom = top + high(length);
    if (bottom > from && first < 0) first = length;
    if (top < until) last = length;
    top = bottom;
  }
  return [first < 0 ? last : first, Math.max(first, last)];
}
