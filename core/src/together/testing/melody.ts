/**
 * Pitches for voices whose rhythm stands already: each moves mostly by step within its tenth, and sounds with the others
 * in the manner of its time. What all voices do that begin at one moment is chosen together.
 */
import type { Random } from "../../reading/testing/random.js"
import type { Manner } from "./manners.js"

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
  /** Its pitches come again after so many notes. */
  readonly color: number | undefined
  /** Ticks of the larger unit of this voice: the recta breve, later the semibreve. */
  readonly unit: number
}

export interface Style {
  readonly manner: Manner
  /** Ticks of a perfection: a long of three tempora, later a breve. */
  readonly perfection: number
  /** All b are flat. */
  readonly flat: boolean
  readonly random: Random
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
/** How little a clash with the lowest voice is liked where concord is looked for. */
const CLASH = 9
/** The same of a discord that passes, or is suspended. */
const PASSING = 1
/** How little a final is liked that is not reached by step. */
const FINAL_LEAP = 1.5

/** Heights of every event by voice, in steps above c0; undefined for rests. The first voice chooses first. */
export function melodies(lines: readonly Line[], style: Style): (readonly (number | undefined)[])[] {
  return new Composer(lines, style).run()
}

/** What a voice sings at a moment, and what it owes: a discord that passes goes on by step, a suspended one falls. */
interface Sung {
  readonly height: number | undefined
  readonly last: number
  readonly event: Event
  readonly owes: "step" | "fall" | undefined
}

class Composer {
  private readonly heights: (number | undefined)[][]
  /** The same without rests. */
  private readonly melody: number[][]
  private sung: readonly Sung[]
  private readonly final: number
  private readonly next: number[]

  constructor(
    private readonly lines: readonly Line[],
    private readonly style: Style,
  ) {
    this.heights = lines.map(() => [])
    this.melody = lines.map(() => [])
    this.next = lines.map(() => 0)
    const silent: Event = { start: 0, end: 0, rest: true }
    this.sung = lines.map(line => {
      const last = line.low + 3 + style.random.below(4)
      return { height: undefined, last, event: silent, owes: undefined }
    })
    this.final = Math.max(...lines.map(line => line.events.at(-1)?.start ?? 0))
  }

  run(): (number | undefined)[][] {
    const starts = new Set(this.lines.flatMap(line => line.events.map(event => event.start)))
    for (const time of [...starts].toSorted((a, b) => a - b)) {
      const beginning = this.lines.flatMap((line, v) => (line.events[this.next[v]!]?.start === time ? [v] : []))
      this.begin(beginning, time)
      for (const v of beginning) {
        this.next[v]!++
        const { height } = this.sung[v]!
        this.heights[v]!.push(height)
        if (height !== undefined) this.melody[v]!.push(height)
      }
    }
    return this.heights
  }

  private begin(beginning: readonly number[], time: number): void {
    const strict = beginning.map(v => this.style.random.chance(this.sought(v, time)))
    let best: { readonly sung: readonly Sung[]; readonly cost: number } | undefined
    for (let i = 0; i < (beginning.length > 1 ? this.style.manner.tries : 1); i++) {
      const tried = this.tried(beginning, strict, time)
      if (best === undefined || tried.cost < best.cost) best = tried
    }
    this.sung = best!.sung
  }

  /** One way for all voices that begin now. */
  private tried(
    beginning: readonly number[],
    strict: readonly boolean[],
    time: number,
  ): { readonly sung: readonly Sung[]; readonly cost: number } {
    const sung = [...this.sung]
    for (const v of beginning)
      sung[v] = { ...sung[v]!, height: undefined, event: this.lines[v]!.events[this.next[v]!]! }
    let sum = 0
    beginning.forEach((v, i) => {
      const { event } = sung[v]!
      if (event.rest) return void (sung[v] = { ...sung[v]!, owes: undefined })
      const { low } = this.lines[v]!
      const given = this.given(v)
      const heights = given === undefined ? Array.from({ length: RANGE + 1 }, (_, k) => low + k) : [given]
      const options = heights.map(height => this.option(sung, v, height, strict[i]!, time))
      const chosen = options[this.draw(options.map(one => one.cost))]!
      sum += chosen.cost
      sung[v] = { height: chosen.height, last: chosen.height, event, owes: chosen.passes ? "step" : undefined }
      for (const u of chosen.suspends) sung[u] = { ...sung[u]!, owes: "fall" }
    })
    return { sung, cost: sum }
  }

  /** What the voice sang a color before. */
  private given(v: number): number | undefined {
    const { color } = this.lines[v]!
    return color === undefined ? undefined : this.melody[v]!.at(-color)
  }

  private sought(v: number, time: number): number {
    const [perfection, unit, small] = this.style.manner.sought
    return time % this.style.perfection === 0 ? perfection : time % this.lines[v]!.unit === 0 ? unit : small
  }

  private option(sung: readonly Sung[], v: number, height: number, strict: boolean, time: number): Option {
    const { last, owes } = sung[v]!
    const moved = height - last
    const centre = this.lines[v]!.low + RANGE / 2
    let cost = (MOVES[Math.abs(moved)] ?? 7) + 0.05 * (height - centre) ** 2
    if (owes === "step" && Math.abs(moved) !== 1) cost += CLASH
    if (owes === "fall" && moved !== -1) cost += CLASH
    cost += (this.style.manner.parallels ?? 0) * this.parallels(sung, v, height)
    if (time === this.final) {
      if (Math.abs(moved) !== 1) cost += FINAL_LEAP
      return { height, cost: cost + this.clashes(sung, v, height, PERFECT), passes: false, suspends: [] }
    }
    return { height, ...this.sounding(sung, v, height, strict, cost, time) }
  }

  /** With what the note sounds, and at what cost. */
  private sounding(
    sung: readonly Sung[],
    v: number,
    height: number,
    strict: boolean,
    melodic: number,
    time: number,
  ): Omit<Option, "height"> {
    const { manner } = this.style
    const clash = this.clashes(sung, v, height, manner.concords)
    const plain = { passes: false, suspends: [] as number[] }
    if (clash === 0) return { cost: melodic, ...plain }
    if (!strict) return { cost: melodic + (Math.abs(height - sung[v]!.last) === 1 ? 0 : manner.leapt), ...plain }
    if (manner.passing && this.mayPass(sung, v, height, time))
      return { cost: melodic + PASSING, passes: true, suspends: [] }
    const suspends = manner.passing ? this.suspended(sung, v, height, time) : []
    if (suspends.length > 0) return { cost: melodic + PASSING, passes: false, suspends }
    return { cost: melodic + clash, ...plain }
  }

  /** How many of the voices that begin with this one go with it from one perfect concord to the same again. */
  private parallels(sung: readonly Sung[], v: number, height: number): number {
    const was = this.sung[v]!.height
    if (was === undefined || was === height) return 0
    return sung.filter((other, u) => {
      const before = this.sung[u]!.height
      const isMove = u !== v && before !== undefined && other.height !== undefined && other.height !== before
      if (!isMove || other.event === this.sung[u]!.event) return false
      const steps = height - other.height!
      return (Math.abs(steps) % 7 === 0 || Math.abs(steps) % 7 === 4) && (steps - (was - before)) % 7 === 0
    }).length
  }

  /** A small note off the beat, reached by step, that can go on by step. */
  private mayPass(sung: readonly Sung[], v: number, height: number, time: number): boolean {
    const { event, last, owes } = sung[v]!
    const { unit, events } = this.lines[v]!
    const following = events[this.next[v]! + 1]
    if (owes !== undefined || time % unit === 0 || event.end - event.start > unit / 2) return false
    return Math.abs(height - last) === 1 && following !== undefined && !following.rest
  }

  /** Voices that hold a note against which this one clashes, if each of them can resolve a step lower while this lasts. */
  private suspended(sung: readonly Sung[], v: number, height: number, time: number): number[] {
    if (sung[v]!.owes !== undefined || time % this.lines[v]!.unit !== 0) return []
    const held = sung.flatMap((one, u) => (u !== v && this.isHeld(one, u, sung[v]!.event, time) ? [u] : []))
    const after = sung.map((one, u) => (held.includes(u) ? { ...one, height: one.height! - 1 } : one))
    const without = sung.map((one, u) => (held.includes(u) ? { ...one, height: undefined } : one))
    const { concords } = this.style.manner
    const isGood = this.clashes(without, v, height, concords) === 0 && this.clashes(after, v, height, concords) === 0
    return isGood ? held : []
  }

  private isHeld({ height, event, owes }: Sung, u: number, by: Event, time: number): boolean {
    if (height === undefined || event.start >= time || event.end <= time || owes !== undefined) return false
    const following = this.lines[u]!.events[this.next[u]!]
    return event.end < by.end && event.end - time <= this.lines[u]!.unit && following !== undefined && !following.rest
  }

  /** How little the others like the height: with the lowest voice a concord is asked, between upper ones a fourth will do. */
  private clashes(sung: readonly Sung[], v: number, height: number, concords: ReadonlySet<number>): number {
    const heights = sung.flatMap((one, w) => (w === v ? [height] : one.height === undefined ? [] : [one.height]))
    const tones = heights.map(one => semitones(one, this.style.flat)).toSorted((a, b) => a - b)
    let cost = 0
    tones.forEach((tone, i) => {
      if (i > 0 && !concords.has((tone - tones[0]!) % 12)) cost += CLASH
      for (const lower of tones.slice(1, i))
        if ((tone - lower) % 12 !== 5 && !concords.has((tone - lower) % 12)) cost += this.style.manner.upper
    })
    return cost
  }

  /** The cheaper the likelier. */
  private draw(costs: readonly number[]): number {
    const least = Math.min(...costs)
    const weights = costs.map(cost => Math.exp(least - cost))
    let left = this.style.random.next() * weights.reduce((sum, weight) => sum + weight, 0)
    const found = weights.findIndex(weight => (left -= weight) < 0)
    return found < 0 ? costs.indexOf(least) : found
  }
}

interface Option {
  readonly height: number
  readonly cost: number
  /** It passes as a discord. */
  readonly passes: boolean
  /** Voices that it makes resolve. */
  readonly suspends: readonly number[]
}
