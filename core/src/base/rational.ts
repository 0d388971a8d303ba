/** Exact time. A rational is in lowest terms with a positive denominator and is never altered. */
export interface Rational {
  readonly num: number
  readonly den: number
}

/** Of two whole numbers; not negative. */
export function greatestCommonDivisor(a: number, b: number): number {
  a = Math.abs(a)
  b = Math.abs(b)
  while (b !== 0) [a, b] = [b, a % b]
  return a
}
/** Of two whole numbers, both at least 1. */
export function leastCommonMultiple(a: number, b: number): number {
  return (a / greatestCommonDivisor(a, b)) * b
}

/** The fraction num/den. Throws a RangeError when either is no safe whole number or den is 0. */
export function ratio(num: number, den = 1): Rational {
  if (!Number.isSafeInteger(num) || !Number.isSafeInteger(den) || den === 0)
    throw new RangeError(`ratio(${num}, ${den}): both must be whole numbers of safe size, the second not 0`)
  if (den === 1) return { num: num + 0, den: 1 }
  const divisor = greatestCommonDivisor(num, den) * Math.sign(den)
  return { num: num / divisor + 0, den: den / divisor }
}

export const ZERO: Rational = ratio(0)
export const ONE: Rational = ratio(1)

/** a + b. Throws a RangeError, as do `minus`, `times` and `sum`, when the result is cut too fine for safe whole numbers. */
export function plus(a: Rational, b: Rational): Rational {
  return a.den === b.den ? ratio(a.num + b.num, a.den) : ratio(a.num * b.den + b.num * a.den, a.den * b.den)
}
/** a - b. */
export function minus(a: Rational, b: Rational): Rational {
  return plus(a, { num: -b.num, den: b.den })
}
/** a · b. */
export function times(a: Rational, b: Rational): Rational {
  return ratio(a.num * b.num, a.den * b.den)
}
/** a / b. Throws a RangeError when b is 0. */
export function over(a: Rational, b: Rational): Rational {
  return ratio(a.num * b.den, a.den * b.num)
}
/** Whether they are the same number. */
export function equals(a: Rational, b: Rational): boolean {
  return a.num === b.num && a.den === b.den
}
/** Negative, 0 or positive, as a sorts before, with or after b. */
export function compare(a: Rational, b: Rational): number {
  return a.num * b.den - b.num * a.den
}
/** The larger one. */
export function max(a: Rational, b: Rational): Rational {
  return compare(a, b) >= 0 ? a : b
}
/** Of all of them; 0 where there is none. */
export function sum(all: Iterable<Rational>): Rational {
  let total = ZERO
  for (const one of all) total = plus(total, one)
  return total
}
/** Rounded to a floating number: for seconds and staff spaces, not for time that is counted on with. */
export function toNumber(a: Rational): number {
  return a.num / a.den
}
/** "3/2", or "4" for a whole number: the form in which time is saved. */
export function toText(a: Rational): string {
  return a.den === 1 ? String(a.num) : `${a.num}/${a.den}`
}
/** Reads "4", "3/2", "-1/2"; undefined for anything else. */
export function fromText(text: string): Rational | undefined {
  const found = /^(-?\d{1,15})(?:\/(\d{1,15}))?$/.exec(text.trim())
  if (!found || Number(found[2] ?? 1) === 0) return undefined
  return ratio(Number(found[1]), Number(found[2] ?? 1))
}
/** Reads a time above 0, as text; undefined for anything else. */
export function timeFromText(text: string): Rational | undefined {
  const time = fromText(text)
  return time !== undefined && time.num > 0 ? time : undefined
}
