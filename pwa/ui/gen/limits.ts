// Made by go run ./pwa/app/tsgen from the Go sources. Do not edit.

/** Of the numbers of a brew: refused outside min and max, asked about outside usual. */
export const limits = {
  beverage: { min: 1, max: 10000, usual: [15, 1500] as [number, number] },
  bypass: { min: 0.1, max: 10000, usual: [1, 800] as [number, number] },
  dose: { min: 0.3, max: 1000, usual: [4, 80] as [number, number] },
  kettle: { min: 1, max: 102, usual: [60, 102] as [number, number] },
  ratio: { min: 0.5, max: 200, usual: [9, 25] as [number, number] },
  slurry: { min: 0.1, max: 102, usual: [2, 102] as [number, number] },
  tds: { min: 0.05, max: 30, usual: [0.7, 2.5] as [number, number] },
  total: { min: 1, max: 259200, usual: [20, 1800] as [number, number] },
  water: { min: 1, max: 10000, usual: [40, 1500] as [number, number] },
};
