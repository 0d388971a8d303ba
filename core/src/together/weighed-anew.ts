/**
 * A search weighed anew: what is heard counts for less, all else for as much. All ways that have led to the end are kept,
 * step by step, so that nothing is searched again: to lay notes down, to hear them and to find ways that have come to stand
 * alike is nearly all of the work. What was let go on the way is not found again, but a way that stood so far behind when the
 * intervals counted in full would be far from likely still (`IN_FULL`).
 */
import { roomFor } from "./grown.js"
import { leaveTrail, takeTrail, type Trail } from "./hypothesis.js"
import type { Paused } from "./paused.js"
import type { Rows } from "./rows.js"
import { followed, type Joint, type Laid, type Window } from "./search.js"
import type { Way } from "./voice-graph.js"

/** Layers of the search, from one at which a single hypothesis was left; numbers are counted through all windows. */
interface KeptWindow {
  readonly firstLayer: number
  readonly lastLayer: number
  readonly end: number
  /** By hypothesis of the last layer: what is to be paid beyond the end. */
  readonly after: readonly number[]
  /** The same, where all is laid down: the finals. */
  readonly finals: readonly Joint["finals"][] | undefined
}

/** The windows of one search, without what led nowhere. */
export class KeptSearch {
  private readonly windows: KeptWindow[] = []
  /** By layer: its first hypothesis; by hypothesis: its first step. */
  private layers: number[] = [0]
  private firstStep = new Int32Array(1024)
  private count = 0
  /** By step: where it comes from, the way taken, whose it is, what it costs by rule, and what is heard with it. */
  private from = new Int32Array(1024)
  private way = new Int32Array(1024)
  private voice = new Uint8Array(1024)
  private ruled = new Float64Array(1024)
  private heard = new Float64Array(1024)
  private steps = 0
  /** By hypothesis of the trail: its number here. */
  private numbers = new Int32Array(1024)

  constructor(private readonly rows: Rows) {}

  /** Takes up a window that was looked back along: what led nowhere costs infinitely much from there on. */
  add({ trail, last, end, finals }: Window): void {
    const firstLayer = this.layers.length - 1
    const ends: number[] = []
    this.makeRoom(trail.firstOf(0), trail.endOf(last), trail)
    for (let layer = 0; layer <= last; layer++) {
      for (let one = trail.firstOf(layer); one < trail.endOf(layer); one++) {
        if (trail.after[one] === Infinity) continue
        if (layer === last) ends.push(one)
        this.numbers[one] = this.count
        this.keep(trail, one, layer > 0)
      }
      this.layers.push(this.count)
    }
    this.windows.push({
      firstLayer,
      lastLayer: firstLayer + last,
      end: this.numbers[end]!,
      after: ends.map(one => trail.after[one]!),
      finals: finals && ends.map(finals),
    })
  }

  /** For all hypotheses of the trail from one to another. */
  private makeRoom(first: number, behind: number, trail: Trail): void {
    const steps = this.steps + trail.firstStep[behind]! - trail.firstStep[first]!
    this.numbers = roomFor(this.numbers, behind)
    this.firstStep = roomFor(this.firstStep, this.count + behind - first + 1)
    this.from = roomFor(this.from, steps)
    this.way = roomFor(this.way, steps)
    this.voice = roomFor(this.voice, steps)
    this.ruled = roomFor(this.ruled, steps)
    this.heard = roomFor(this.heard, steps)
  }

  private keep(trail: Trail, one: number, withSteps: boolean): void {
    const { from, way, voice, ruled, heard } = this
    const behind = withSteps ? trail.firstStep[one + 1]! : 0
    for (let step = withSteps ? trail.firstStep[one]! : 0; step < behind; step++) {
      const at = this.steps++
      const rules = this.rows.cost[trail.way[step]!]! + trail.missed[trail.from[step]!]!
      from[at] = this.numbers[trail.from[step]!]!
      way[at] = trail.way[step]!
      voice[at] = trail.voice[step]!
      ruled[at] = rules
      heard[at] = trail.stepCost[step]! - rules
    }
    this.firstStep[++this.count] = this.steps
  }

  /** The search with what is heard counting for so much; `settle` is shown its windows. */
  *weighed(laid: Laid, by: number, settle: (window: Window) => void): Paused<Joint> {
    const trail = takeTrail()
    try {
      return yield* this.relaid(laid, by, settle, trail)
    } finally {
      leaveTrail(trail)
    }
  }

  private *relaid({ graphs, rows }: Laid, by: number, settle: (window: Window) => void, trail: Trail): Paused<Joint> {
    const chosen = graphs.map((): Way[] => [])
    let cost = 0
    let finals: Joint["finals"] = []
    for (const window of this.windows) {
      const first = this.relay(trail, window, cost, by)
      const last = trail.length - 1
      const from = trail.firstOf(last)
      // where no single hypothesis was left at the end, all after it goes on from the one that was the likeliest
      const end = window.finals ? trail.cheapest(one => trail.cost[one]!) : window.end - first
      settle({ trail, ways: rows.ways, last, end, after: one => window.after[one - from]! })
      followed(trail, rows, end, chosen)
      cost = trail.cost[end]!
      if (window.finals) finals = window.finals[end - from]!
      yield
    }
    return { chosen, cost, finals }
  }

  /** Lays a window down on the trail, and gives the number of its first hypothesis. */
  private relay(trail: Trail, { firstLayer, lastLayer }: KeptWindow, cost: number, by: number): number {
    const first = this.layers[firstLayer]!
    trail.start(cost)
    for (let layer = firstLayer + 1; layer <= lastLayer; layer++) {
      trail.beginLayer()
      for (let one = this.layers[layer]!; one < this.layers[layer + 1]!; one++) this.reach(trail, one, first, by)
      trail.endLayer()
    }
    return first
  }

  private reach(trail: Trail, one: number, first: number, by: number): void {
    let [cost, weight, best] = [Infinity, 0, -1]
    for (let step = this.firstStep[one]!; step < this.firstStep[one + 1]!; step++) {
      const from = this.from[step]! - first
      const own = this.ruled[step]! + by * this.heard[step]!
      const at = trail.step(from, this.way[step]!, this.voice[step]!, own)
      const total = trail.cost[from]! + own
      if (total < cost) {
        weight = trail.weight[from]! + (best < 0 ? 0 : weight * Math.exp(total - cost))
        cost = total
        best = at
      } else weight += trail.weight[from]! * Math.exp(cost - total)
    }
    trail.keep(cost, weight, best)
  }
}
