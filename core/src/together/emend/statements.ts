/** What the statements of the tenor say of a change: whether it brings one of them nearer to its fellows. */
import type { Page, Voice } from "../../page/index.js"
import { rereadVoice, type Reading } from "../../reading/index.js"
import type { WorkedVoice } from "../../reading/read-voice.js"
import type { ReadOptions } from "../../reading/settings.js"
import { findRepetition, namedTenor, type Repetition } from "../tenor/index.js"
import { figuresOf } from "./figures.js"
import { MOST_REPEATS, STATEMENTS_DIFFER } from "./weights.js"

/** Longer voices are no tenors that repeat themselves. */
const LONGEST = 800
/** A change is asked about where it touches a place that differs, or one beside it. */
const BESIDE = 1

export class Statements {
  private readonly tenor: Reading | undefined
  private readonly differ: number
  /** Numbers of the figures at which statements differ. */
  readonly places: readonly number[]

  constructor(
    private readonly page: Page,
    private readonly worked: readonly WorkedVoice[],
    readings: readonly Reading[],
    private readonly options: ReadOptions,
  ) {
    const tenor = namedTenor(readings)
    this.tenor = tenor !== undefined && tenor.signs.length <= LONGEST ? tenor : undefined
    const repetition = this.tenor && findRepetition(page, this.tenor)
    this.differ = repetition ? differing(repetition) : 0
    this.places = repetition && this.differ > 0 ? placesOf(page, repetition) : []
  }

  /** Whether the change stands where statements differ. */
  touches(voice: Voice, from: number, to: number): boolean {
    return voice.id === this.tenor?.voice && this.places.some(place => place >= from - BESIDE && place <= to + BESIDE)
  }

  /** What they say against the change (negative: for it), as natural logarithm of odds. */
  change(after: Voice, from: number, to: number): number {
    const { tenor, page } = this
    if (tenor === undefined || !this.touches(after, from, to)) return 0
    const changed = { ...page, voices: page.voices.map(voice => (voice.id === after.id ? after : voice)) }
    const before = this.worked.find(one => one.voice.id === after.id)!.reading
    // durations are asked about when all voices are read with the change; here the written signs alone count
    const agree = this.differ - differing(findRepetition(changed, rereadVoice(before, after, this.options)))
    return -STATEMENTS_DIFFER * Math.max(-MOST_REPEATS, Math.min(MOST_REPEATS, agree))
  }
}

/** At how many places of its series a statement stands against others: in what is written, and in pitch. */
function differing({ taleae, colores }: Repetition): number {
  const each = [...taleae, ...colores].map(
    ({ differences }) => new Set(differences.filter(({ kind }) => kind !== "duration").map(({ place }) => place)).size,
  )
  return each.reduce((sum, count) => sum + count, 0)
}

function placesOf(page: Page, { voice, taleae, colores }: Repetition): number[] {
  const own = page.voices.find(({ id }) => id === voice)!
  const numbers = new Map(figuresOf(own).map(({ sign, index }) => [sign.id, index]))
  const differences = [...taleae, ...colores].flatMap(series => series.differences)
  return differences.flatMap(({ kind, sign, fellows }) =>
    kind === "duration" ? [] : [sign, ...fellows].flatMap(id => numbers.get(id) ?? []),
  )
}
