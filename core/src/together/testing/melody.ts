/**
 * Pitches for voices whose rhythm stands already: each moves mostly by step within its tenth, and chooses what is
 * concordant with the lowest voice, nearly always where perfections begin, less strictly elsewhere.
 */
import type { LawfulPractice } from "../../reading/testing/kinds.js"
import type { Random } from "../../reading/testing/random.js"

/** A note or rest that sounds from `start` up to `end`, in ticks. */
export interface Event {
  readonly start: number
  readonly end: number
  readonly rest: boolean
}

export interface Line {
  readonly events: readonly Event[]
  /** Lowest pitch in steps above c0. */
  readonly low: number
  /** Ticks of the larger unit of this voice: the recta breve, later the semibreve. */
  readonly unit: number
}

export interface Style {
  /** Ticks of a perfection: a long of three tempora, later a breve. */
  readonly perfection: number
  /** Semitones, less whole octaves. */
  readonly concords: ReadonlySet<number>
  /** All b are flat. */
  readonly flat: boolean
  readonly random: Random
}

/** Unison, thirds, fourth, fifth; from the fourteenth century on sixths in place of the fourth. */
export function concordsOf(practice: LawfulPractice): ReadonlySet<number> {
  const old = practice === "ars-antiqua" || practice === "divided-breves"
  return new Set(old ? [0, 3, 4, 5, 7] : [0, 3, 4, 7, 8, 9])
}
const PERFECT: ReadonlySet<number> = new Set([0, 7])

const SEMITONES = [0, 2, 4, 5, 7, 9, 11]
export function semitones(height: number, flat: boolean): number {
  const step = ((height % 7) + 7) % 7
  return Math.floor(height / 7) * 12 + SEMITONES[step]! - (flat && step === 6 ? 1 : 0)
}

/** How little a melody likes to move by so many steps. */
const MOVES = [0.9, 0, 1.4, 2.7, 2.9, 4, 6, 4, 7, 7]
const RANGE = 9
/** How little a clash with the lowest voice is liked where concord is looked for, and one between upper voices. */
const CLASH = 9
const UPPER_CLASH = 0.6

/** Heights of every event by voice, in steps above c0; undefined for rests. The first voice chooses first. */
export function melodies(lines: readonly Line[], style: Style): (readonly (number | undefined)[])[] {
  return new Composer(lines, style).run()
}

class Composer {
  private readonly heights: (number | undefined)[][]
  /** What every voice sings now, and sang last. */
  private readonly now: (number | undefined)[]
  private readonly last: number[]
  private readonly final: number

  constructor(
    private readonly lines: readonly Line[],
    private readonly style: Style,
  ) {
    this.heights = lines.map(() => [])
    this.now = lines.map(() => undefined)
    this.last = lines.map(line => line.low + 3 + style.random.below(4))
    this.final = Math.max(...lines.map(line => line.events.at(-1)?.start ?? 0))
  }

  run(): (number | undefined)[][] {
    const next = this.lines.map(() => 0)
    const starts = new Set(this.lines.flatMap(line => line.events.map(event => event.start)))
    for (const time of [...starts].toSorted((a, b) => a - b)) {
      const beginning = this.lines.flatMap((line, v) => (line.events[next[v]!]?.start === time ? [v] : []))
      for (const v of beginning) this.now[v] = undefined
      for (const v of beginning) this.begin(v, this.lines[v]!.events[next[v]!++]!)
    }
    return this.heights
  }

  private begin(v: number, event: Event): void {
    if (!event.rest) this.last[v] = this.now[v] = this.choose(v, event.start)
    this.heights[v]!.push(this.now[v])
  }

  private choose(v: number, time: number): number {
    const { low } = this.lines[v]!
    const isFinal = time === this.final
    const concords = isFinal
      ? PERFECT
      : this.style.random.chance(this.strictness(v, time))
        ? this.style.concords
        : undefined
    const costs = Array.from({ length: RANGE + 1 }, (_, i) => this.cost(v, low + i, concords))
    return low + this.draw(costs)
  }

  /** Chance that concord is looked for; by chance alone rather more than half of all intervals are concords. */
  private strictness(v: number, time: number): number {
    if (time % this.style.perfection === 0) return 0.91
    return time % this.lines[v]!.unit === 0 ? 0.5 : 0.1
  }

  private cost(v: number, height: number, concords: ReadonlySet<number> | undefined): number {
    const { low } = this.lines[v]!
    const moved = Math.abs(height - this.last[v]!)
    const centre = low + RANGE / 2
    const melodic = (MOVES[moved] ?? 7) + 0.05 * (height - centre) ** 2
    return concords === undefined ? melodic : melodic + this.harmonic(v, height, concords)
  }

  private harmonic(v: number, height: number, concords: ReadonlySet<number>): number {
    const sounding = this.now.map((other, w) => (w === v ? height : other)).filter(other => other !== undefined)
    const tones = sounding.map(other => semitones(other, this.style.flat)).toSorted((a, b) => a - b)
    let cost = 0
    tones.forEach((tone, i) => {
      if (i > 0 && !concords.has((tone - tones[0]!) % 12)) cost += CLASH
      for (const lower of tones.slice(1, i))
        if ((tone - lower) % 12 !== 5 && !concords.has((tone - lower) % 12)) cost += UPPER_CLASH
    })
    return cost
  }

  /** The cheaper the likelier. */
  private draw(costs: readonly number[]): number {
    const weights = costs.map(cost => Math.exp(-cost))
    let left = this.style.random.next() * weights.reduce((sum, weight) => sum + weight, 0)
    const found = weights.findIndex(weight => (left -= weight) < 0)
    return found < 0 ? costs.indexOf(Math.min(...costs)) : found
  }
}
