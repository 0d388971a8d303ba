/**
 * Where a voice can stand in the search: its place in its graph, when its last note ends and when that began, and when its
 * stretch did. Many hypotheses have a voice stand alike: what follows from a stand is worked out once for all of them, and a
 * hypothesis is no more than the number of a stand for each voice.
 */
import type { Strength } from "../counterpoint/index.js"
import type { Futures } from "./futures.js"
import { roomFor } from "./grown.js"
import type { Rows } from "./rows.js"
import type { Echo } from "./sounds.js"

/** Finals have no end: their onset is kept above this. */
export const HELD = 2 ** 50

/** Step of a rest, and of what comes when all notes are sung: above all notes. */
export const SILENT = 2 ** 20

/** How the last note was entered and left, and how the next one is entered; see `flags`. */
export const LAST_BY_STEP = 1
export const LAST_FALLS = 2
export const NEXT_BY_STEP = 4

const BUCKETS = 1024
/** More stands than these are seldom of use any more. */
const MANY = 4096

/** Stands for a place and a time; seldom alike for others. */
function mixed(node: number, end: number): number {
  const x = Math.imul(Math.imul(node + 1, 0x9e3779b1) + (end | 0), 0x85ebca6b)
  return x ^ (x >>> 15)
}

export class Stands {
  count = 0
  /** The node of the graph, and the figure that comes next. */
  node = new Int32Array(MANY)
  next = new Int32Array(MANY)
  end = new Float64Array(MANY)
  onset = new Float64Array(MANY)
  /** When the next note can begin; never where there is none. */
  turn = new Float64Array(MANY)
  /** Until when the last note sounds: a gap may follow it. */
  until = new Float64Array(MANY)
  /** Staff steps of the last note and of the next. */
  last = new Int32Array(MANY)
  coming = new Int32Array(MANY)
  flags = new Uint8Array(MANY)
  /** Where in its measure the next note begins. */
  strength = new Uint8Array(MANY)
  /** The first stand with the same node and end. */
  place = new Int32Array(MANY)
  /** Stands for the place in the key of a hypothesis. */
  key = new Int32Array(MANY)
  /** Where in `child` and `echo` the ways on are found; -1 until they are asked for. */
  ways = new Int32Array(MANY)
  /** By way on: the stand it leads to, and what it says against what sounds beside the voices. */
  child = new Int32Array(MANY)
  echo = new Float64Array(MANY)
  /** By way on: whether the voice has as much still to pay as before, wherever the finals could meet. */
  alike = new Uint8Array(MANY)
  /** By place and moment at which the finals could meet: what the voice has still to pay. */
  future: Float64Array<ArrayBuffer>
  private origin = new Float64Array(MANY)
  private voice = new Uint8Array(MANY)
  private chain = new Int32Array(MANY)
  private children = 0
  private readonly first = new Int32Array(BUCKETS).fill(-1)

  constructor(
    private readonly rows: Rows,
    private readonly futures: Futures,
    private readonly echoes: Echo | undefined,
  ) {
    this.future = new Float64Array(MANY * futures.goals)
  }

  /** Where voice `v` stands at the beginning. */
  atStart(v: number): number {
    const { rows } = this
    return this.stand(v, rows.firstNode[v]!, rows.delay[rows.firstFigure[v]!]!, -1, 0)
  }

  /** Where the ways on from a stand are found in `child` and `echo`. */
  waysOf(one: number): number {
    const known = this.ways[one]!
    return known < 0 ? this.follow(one) : known
  }

  private follow(one: number): number {
    const { rows } = this
    const [node, v, figure, onset] = [this.node[one]!, this.voice[one]!, this.next[one]!, this.end[one]!]
    const from = this.children
    const [first, behind] = [rows.firstWay[node]!, rows.firstWay[node + 1]!]
    this.children += behind - first
    this.child = roomFor(this.child, this.children)
    this.echo = roomFor(this.echo, this.children)
    this.alike = roomFor(this.alike, this.children)
    this.ways[one] = from
    const origin = this.originOf(one)
    const delay = rows.delay[figure + 1]!
    for (let way = first; way < behind; way++) {
      const end = this.endsAt(figure, rows.final[v]!, onset, rows.lasts[way]! + delay)
      const child = this.stand(v, rows.to[way]!, end, onset, origin)
      this.child[from + way - first] = child
      this.alike[from + way - first] = Number(this.isAlike(one, child))
      if (this.echoes) this.echo[from + way - first] = this.echoed(this.echoes, one, way)
    }
    return from
  }

  /** The final is held; rests after it wait for nobody, and last no time. */
  private endsAt(figure: number, final: number, onset: number, lasts: number): number {
    if (final < 0 || figure < final) return onset + lasts
    return figure === final ? HELD + onset : onset
  }

  private isAlike(one: number, child: number): boolean {
    const { future, place } = this
    const { goals } = this.futures
    for (let goal = 0; goal < goals; goal++)
      if (future[place[one]! * goals + goal] !== future[place[child]! * goals + goal]) return false
    return true
  }

  /** When the stretch of the next figure began. */
  private originOf(one: number): number {
    return this.rows.opens[this.next[one]!] ? this.end[one]! : this.origin[one]!
  }

  /** What the next note says against what is sung again; the final as it begins. */
  private echoed(echoes: Echo, one: number, way: number): number {
    const { rows } = this
    const [v, figure, onset] = [this.voice[one]!, this.next[one]!, this.end[one]!]
    const end = figure === rows.final[v] ? onset + 1 : onset + rows.lasts[way]!
    const tone = rows.graphs[v]!.tones[figure - rows.firstFigure[v]!]!
    return echoes.cost(tone, onset, end, this.strength[one]! as Strength)
  }

  /** The number of a stand; a new one, if there was none like it. */
  private stand(v: number, node: number, end: number, onset: number, origin: number): number {
    const key = mixed(node, end)
    let place = -1
    let last = -1
    for (let one = this.first[key & (BUCKETS - 1)]!; one >= 0; one = this.chain[one]!) {
      last = one
      if (this.node[one] !== node || this.end[one] !== end) continue
      if (this.onset[one] === onset && this.origin[one] === origin) return one
      if (place < 0) place = one
    }
    const one = this.count++
    if (one === this.node.length) this.grow(one + 1)
    if (last < 0) this.first[key & (BUCKETS - 1)] = one
    else this.chain[last] = one
    this.node[one] = node
    this.end[one] = end
    this.onset[one] = onset
    this.origin[one] = origin
    this.voice[one] = v
    this.key[one] = key
    this.chain[one] = this.ways[one] = -1
    this.place[one] = place < 0 ? one : place
    if (place < 0) this.futures.put(this.future, one * this.futures.goals, v, node, end)
    this.describe(one)
    return one
  }

  /** What is heard of the last note, and what comes next. */
  private describe(one: number): void {
    const { rows } = this
    const next = rows.figureAt[this.node[one]!]!
    const end = this.end[one]!
    this.next[one] = next
    this.turn[one] = next === rows.endFigure[this.voice[one]!] ? Infinity : end
    this.until[one] = rows.delay[next]! > 0 ? end - rows.delay[next]! : end
    this.last[one] = audible(rows.step[next - 1])
    this.coming[one] = audible(rows.step[next])
    this.flags[one] =
      (rows.byStep[next - 1] ? LAST_BY_STEP : 0) |
      (rows.falls[next - 1] ? LAST_FALLS : 0) |
      (rows.byStep[next] ? NEXT_BY_STEP : 0)
    const time = end - this.originOf(one)
    this.strength[one] = divides(rows.strong[next]!, time) ? 2 : divides(rows.medium[next]!, time) ? 1 : 0
  }

  /** The least that all voices together have still to pay, of one stand for each. */
  least(state: Int32Array, at: number): number {
    const { place, future } = this
    const { goals } = this.futures
    const behind = at + this.rows.graphs.length
    let least = Infinity
    for (let goal = 0; goal < goals; goal++) {
      let sum = 0
      for (let i = at; i < behind && sum < least; i++) sum += future[place[state[i]!]! * goals + goal]!
      if (sum < least) least = sum
    }
    return least
  }

  private grow(count: number): void {
    for (const name of ["end", "onset", "turn", "until", "origin"] as const) this[name] = roomFor(this[name], count)
    for (const name of ["node", "next", "last", "coming", "place", "key", "ways", "chain"] as const)
      this[name] = roomFor(this[name], count)
    for (const name of ["flags", "strength", "voice"] as const) this[name] = roomFor(this[name], count)
    this.future = roomFor(this.future, count * this.futures.goals)
  }

  /** Where very many have come together, forgets all but some, which get new numbers. */
  tidy(some: Int32Array): void {
    if (this.count < MANY) return
    const [count, node, end, onset] = [this.count, this.node.slice(), this.end.slice(), this.onset.slice()]
    const [origin, voice] = [this.origin.slice(), this.voice.slice()]
    const now = new Int32Array(count).fill(-1)
    this.count = this.children = 0
    this.first.fill(-1)
    for (let i = 0; i < some.length; i++) {
      const one = some[i]!
      if (now[one]! < 0) now[one] = this.stand(voice[one]!, node[one]!, end[one]!, onset[one]!, origin[one]!)
      some[i] = now[one]!
    }
  }
}

const audible = (step: number | undefined): number => (step === undefined || Number.isNaN(step) ? SILENT : step)
const divides = (part: number, time: number): boolean => time % part === 0
