/** Numbers that look random and are the same for the same seed, on every machine. */
export interface Random {
  /** From 0 up to, but not including, 1. */
  next(): number
  /** A whole number from 0 to n - 1. */
  below(n: number): number
  chance(p: number): boolean
  /** One of the names, each as often as its weight says. */
  weighted<T extends string>(weights: Readonly<Record<T, number>>): T
  of<T>(all: readonly T[]): T
}

/** A generator with 32 bits of state (add a constant, mix by multiplying and shifting). */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
  const below = (n: number): number => Math.floor(next() * n)
  return {
    next,
    below,
    chance: p => next() < p,
    weighted: weights => choose(next(), weights),
    of: all => all[below(all.length)]!,
  }
}

function choose<T extends string>(at: number, weights: Readonly<Record<T, number>>): T {
  const names = Object.keys(weights) as T[]
  let left = at * names.reduce((total, name) => total + weights[name], 0)
  for (const name of names) if (weights[name] > 0 && (left -= weights[name]) < 0) return name
  return names.findLast(name => weights[name] > 0) ?? names[0]!
}
