/** The plica's own note: which pitch, and by option which share of its note's time. */
import { minus, ratio, times, type Rational } from "../base/index.js"
import type { FlatSign, Note } from "../page/index.js"
import type { Settings } from "../practices/index.js"
import { pitchAtStep, pitchName, plicaStep, stepNumber } from "./pitches.js"
import type { Chosen } from "./settings.js"
import { traitsOf } from "./traits.js"
import type { SignReading } from "./types.js"

export function withPlicas(signs: readonly SignReading[], flat: readonly FlatSign[], chosen: Chosen): SignReading[] {
  const places = traitsOf(flat).plicated
  if (places.length === 0 || !chosen.practice.rules.some(rule => rule.id === "plica")) return signs as SignReading[]
  const plicated = new Map<string, { note: Note; next: Note | undefined }>()
  for (const i of places) {
    const { sign } = flat[i]!
    if (sign.kind === "note") plicated.set(sign.id, { note: sign, next: nextNote(flat, i) })
  }
  return signs.map(sign => {
    const found = sign.kind === "note" ? plicated.get(sign.id) : undefined
    return found === undefined ? sign : withPlica(sign, found.note, found.next, chosen.settings)
  })
}

/** The note that follows at once; a rest or division between leaves the pitch unknown. */
function nextNote(flat: readonly FlatSign[], from: number): Note | undefined {
  for (let i = from + 1; i < flat.length; i++) {
    const { sign } = flat[i]!
    if (sign.kind === "note") return sign
    if (sign.kind === "rest" || (sign.kind === "stroke" && sign.form === "finis-punctorum")) return undefined
  }
  return undefined
}

function withPlica(sign: SignReading, note: Note, next: Note | undefined, settings: Settings): SignReading {
  const share = shareOf(sign.duration, sign.quality, settings["plica"] ?? "none")
  const direction = note.plica!.direction
  const also = sign.also.includes("plica") ? sign.also : [...sign.also, "plica"]
  if (note.pitch === undefined || direction === undefined)
    return { ...sign, also, plica: { duration: share, pitch: null, certain: false } }
  const { step, certain } = plicaStep(direction, note.pitch, next?.pitch)
  return {
    ...sign,
    also,
    plica: { duration: share, pitch: pitchName(pitchAtStep(stepNumber(note.pitch) + step), ""), certain },
  }
}

/** Ticks of the limb, by treatise; null where the plicated note is not split. */
function shareOf(duration: Rational, quality: SignReading["quality"], option: string): Rational | null {
  if (option === "none") return null
  const tempora = duration.num / duration.den
  if (option === "regule-1326") return regule1326(duration, tempora)
  if (option === "handbook") return handbook(duration, tempora, quality)
  if (tempora >= 2) return ratio(1)
  if (tempora === 1) return option === "mensurata-1279" ? ratio(2, 3) : ratio(1, 2)
  return times(duration, ratio(1, 2))
}

/** Regule cum maximis, 1326: a third of a tempus from longs and alterae, two ninths from a recta. */
function regule1326(duration: Rational, tempora: number): Rational {
  if (tempora >= 6) return ratio(2, 3)
  if (tempora >= 2) return ratio(1, 3)
  return tempora === 1 ? ratio(2, 9) : times(duration, ratio(1, 3))
}

/** Common practice: a third of what is perfect or a recta, half of what is imperfect. */
function handbook(duration: Rational, tempora: number, quality: SignReading["quality"]): Rational {
  if (quality === "duplex") return ratio(1)
  const third = quality === "perfecta" || tempora === 1
  return third ? times(duration, ratio(1, 3)) : minus(duration, times(duration, ratio(1, 2)))
}
