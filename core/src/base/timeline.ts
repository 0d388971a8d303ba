/** Things that begin one after another. */

/** Index of the last that begins at this time or before; -1: none. They are in order of `onset`. */
export function lastBegun(all: readonly { readonly onset: number }[], time: number): number {
  let low = 0
  let high = all.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (all[middle]!.onset <= time) low = middle + 1
    else high = middle
  }
  return low - 1
}
