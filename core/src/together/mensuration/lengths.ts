/** How long a voice is under the mensurations that may be right, by the rules themselves. */
import { ratio, times, toText, type Rational } from "../../base/index.js"
import type { Voice } from "../../page/index.js"
import { readVoice } from "../../reading/index.js"
import type { ReadOptions } from "../../reading/settings.js"
import { hasColouredLongs, MEANINGS_OF_LONGS } from "../colours.js"
import { countsAlike, type Trial } from "./candidates.js"
import { LENGTHS } from "./weights.js"

interface Known {
  readonly trial: Trial
  readonly unit: string
  readonly time: Rational
}

/**
 * By trial: unit and time up to the final, as the voice read by itself has it. Only likely trials are read; those that count
 * alike are as long in their own scale. `chances`: of each trial, with those that no note tells from it.
 */
export function lengthsUnder(
  voice: Voice,
  options: ReadOptions,
  trials: readonly Trial[],
  chances: readonly number[],
  { leastChance, most }: { readonly leastChance: number; readonly most: number } = LENGTHS,
): (string | undefined)[] {
  const lengths = trials.map((): string | undefined => undefined)
  const order = trials.map((_, c) => c).sort((a, b) => chances[b]! - chances[a]!)
  const known: Known[] = []
  for (const c of order) {
    const trial = trials[c]!
    // a rest has as many spaces as breves, whatever a long holds
    let same = known.find(one => countsAlike(one.trial, trial) && one.trial.breves === trial.breves)
    if (same === undefined) {
      if (chances[c]! < leastChance || known.length >= most) continue
      known.push((same = { trial, ...lengthUnder(voice, options, trial) }))
    }
    const time = times(same.time, ratio(trial.scale, same.trial.scale))
    lengths[c] = `${same.unit} ${toText(time)}`
  }
  return lengths
}

/**
 * Of all voices: one that is as long as no other under any of its likely mensurations is asked for unlikely ones as well. (A
 * voice of a file that is read by itself, or before the Ars nova, is not asked.)
 */
export function lengthsTogether(voices: readonly Asked[], options: ReadOptions): (string | undefined)[][] {
  const first = voices.map(({ voice, trials, chances }) => lengthsUnder(voice, options, trials, chances))
  return voices.map(({ voice, trials, chances }, v) => {
    const others = new Set(first.flatMap((lengths, o) => (o === v ? [] : lengths)))
    if (trials.length === 0 || first[v]!.some(one => one !== undefined && others.has(one))) return first[v]!
    const more = { leastChance: LENGTHS.leastOfMore, most: LENGTHS.mostOfMore }
    return lengthsUnder(voice, options, trials, chances, more)
  })
}

/** `chances`: as of `lengthsUnder`. */
export interface Asked {
  readonly voice: Voice
  readonly trials: readonly Trial[]
  readonly chances: readonly number[]
}

function lengthUnder(voice: Voice, options: ReadOptions, { divisions }: Trial): Omit<Known, "trial"> {
  const before = options.assumed?.get(voice.id)
  const assumed = new Map([[voice.id, { ...before, divisions: { ...divisions, doubt: 0 } }]])
  const { unit, signs, duration } = readVoice(voice, { ...options, assumed })
  const last = signs.findLast(sign => sign.kind === "note" || sign.kind === "rest")
  return { unit, time: last?.kind === "note" ? last.onset : duration }
}

/** By trial, the lengths that the voice has besides those, if colour means something else in it; undefined where none is open. */
export function lengthsByColour(
  voice: Voice,
  options: ReadOptions,
  trials: readonly Trial[],
  chances: readonly number[],
  usual: readonly (string | undefined)[],
): (readonly string[])[] | undefined {
  if (!hasColouredLongs(voice)) return undefined
  const others = MEANINGS_OF_LONGS.map(meaning =>
    lengthsUnder(voice, { ...options, colours: new Map([[voice.id, meaning]]) }, trials, chances),
  )
  return usual.map((own, c) => {
    const all = new Set(others.flatMap(lengths => lengths[c] ?? []))
    return [...all].filter(length => length !== own)
  })
}
