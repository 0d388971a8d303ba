/**
 * What has to be known of a voice's signs before the first is read, found in one pass: each further walk over the signs
 * of a long voice fetches all of them again from where memory is slow.
 */
import type { FlatSign, Mark } from "../page/index.js"
import { inscriptionOf } from "../practices/index.js"

export interface Traits {
  /** A note has a syllable. */
  readonly texted: boolean
  /** Places of the notes with a plica among the flat signs. */
  readonly plicated: readonly number[]
  /** Canon inscriptions, but for those in the course of the voice that only say in what values it goes on from there. */
  readonly canons: readonly Mark[]
  readonly inCourse: ReadonlySet<Mark>
  /** Place of the first note or rest; -1 where there is none. */
  readonly first: number
  /** A note, rest or dot has a value given in the file. */
  readonly given: boolean
}

const known = new WeakMap<readonly FlatSign[], Traits>()

/** `flat` are the signs of a voice with those of ligatures one by one; the list must not change later. */
export function traitsOf(flat: readonly FlatSign[]): Traits {
  let traits = known.get(flat)
  if (traits === undefined) known.set(flat, (traits = found(flat)))
  return traits
}

function found(flat: readonly FlatSign[]): Traits {
  const plicated: number[] = []
  const all: { readonly mark: Mark; readonly at: number }[] = []
  let [texted, given, first, last] = [false, false, -1, -1]
  for (let i = 0; i < flat.length; i++) {
    const { sign } = flat[i]!
    if (sign.kind === "note" || sign.kind === "rest") {
      if (first < 0) first = i
      last = i
      if (sign.given !== undefined) given = true
      if (sign.kind === "rest") continue
      if (sign.syllables.length > 0) texted = true
      if (sign.plica !== undefined) plicated.push(i)
    } else if (sign.kind === "dot") given ||= sign.given !== undefined
    else if (sign.kind === "mark" && sign.of === "canon") all.push({ mark: sign, at: i })
  }
  const inCourse = new Set(
    all.filter(({ mark, at }) => at > first && at < last && saysValues(mark)).map(one => one.mark),
  )
  const canons = all.flatMap(({ mark }) => (inCourse.has(mark) ? [] : [mark]))
  return { texted, plicated, canons, inCourse, first, given }
}

const ANY = { modusMaior: 2, modusMinor: 2, tempus: 2, prolatio: 2 } as const

/** "Secunda vice per semi" where the voice begins a second time, as such tenors are written out (common practice). */
function saysValues({ text }: Mark): boolean {
  const { canon, ratio } = inscriptionOf(text ?? "", ANY)
  return canon === undefined && ratio !== undefined
}
