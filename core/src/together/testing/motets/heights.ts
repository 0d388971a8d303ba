/** Pitches for voices whose rhythm is written already, as freely discordant between the beginnings of perfections as motets are. */
import { plus, toNumber, ZERO, type Rational } from "../../../base/index.js"
import type { Random } from "../../../reading/testing/random.js"
import type { Motet, MotetVoice } from "./figures.js"

interface Moment {
  readonly voice: number
  readonly at: number
  readonly until: number
}

/** How little a melody likes to move by so many steps. */
const MOVES = [1, 0, 1.2, 2.4, 2.8, 3.6, 6, 5]
const TONES = [0, 2, 4, 5, 7, 9, 11]
const RANGE = 9
const DISCORD = 5
/** How often concord is sought where a perfection begins, where a larger unit does, and elsewhere. */
const SOUGHT = { perfection: 0.95, unit: 0.6, small: 0.25 }

/** Steps above c0 for every note of every voice, undefined for rests; the last voice, the tenor, goes first. */
export function heightsOf(motet: Motet, random: Random): readonly (readonly (number | undefined)[])[] {
  const old = motet.practice === "ars-antiqua"
  const { tempus = 2, prolatio = 2 } = motet.voices[0]!.mensuration
  const [perfection, unit] = old ? [3, 1] : [tempus * prolatio, prolatio]
  const heights: (number | undefined)[][] = motet.voices.map(() => [])
  const sounding: { height: number; until: number }[] = motet.voices.map(() => ({ height: 0, until: 0 }))
  for (const { voice, at, until } of momentsOf(motet)) {
    const line = motet.voices[voice]!
    const mine = heights[voice]!
    if (line.figures[mine.length]!.rest) {
      mine.push(undefined)
      continue
    }
    const sung = mine.filter(one => one !== undefined)
    const others = sounding.filter((one, v) => v !== voice && one.until > at + 1e-9).map(one => one.height)
    const sought = at % perfection === 0 ? SOUGHT.perfection : at % unit === 0 ? SOUGHT.unit : SOUGHT.small
    const repeated = line.color === undefined ? undefined : sung.at(-line.color)
    const height = repeated ?? chosen(line, sung.at(-1), random.chance(sought) ? others : [], old, random)
    mine.push(height)
    sounding[voice] = { height, until }
  }
  return heights
}

function momentsOf(motet: Motet): Moment[] {
  const moments = motet.voices.flatMap(({ figures }, voice) => {
    let time: Rational = ZERO
    return figures.map(figure => {
      const at = toNumber(time)
      time = plus(time, figure.lasts)
      return { voice, at, until: toNumber(time) }
    })
  })
  return moments.toSorted((a, b) => a.at - b.at || b.voice - a.voice)
}

function chosen(
  { low }: MotetVoice,
  last: number | undefined,
  others: readonly number[],
  old: boolean,
  random: Random,
): number {
  const from = last ?? low + 3 + random.below(4)
  let best = from
  let least = Infinity
  for (let height = low; height <= low + RANGE; height++) {
    const clashes = others.filter(other => !concord(height, other, old)).length
    const cost = (MOVES[Math.abs(height - from)] ?? 8) + clashes * DISCORD - Math.log(random.next() + 1e-6) * 0.9
    if (cost < least) [best, least] = [height, cost]
  }
  return best
}

function concord(one: number, other: number, old: boolean): boolean {
  const tone = (height: number): number => 12 * Math.floor(height / 7) + TONES[height % 7]!
  const between = Math.abs(tone(one) - tone(other)) % 12
  return old ? [0, 3, 4, 5, 7].includes(between) : [0, 3, 4, 7, 8, 9].includes(between)
}
