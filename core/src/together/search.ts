/**
 * The search over all voices at once. A hypothesis is one way through every voice up to about one moment: for each
 * voice the place in its graph and the time at which its last note ends. The voice that ends first goes on first, so
 * what sounds with the note that then begins is known in all others. Hypotheses are compared when they have laid down
 * equally many notes; those that stand at the same places at the same times are one from then on, with the chances of
 * both. Costs are logarithms of odds: the rules of each voice, the intervals, and the meeting at the finals, which is
 * known ahead of time (lengths.ts).
 */
import type { CounterpointWeights, Strength } from "../counterpoint/index.js"
import { Futures } from "./futures.js"
import { leaveTrail, takeTrail, type Trail } from "./hypothesis.js"
import { Layer } from "./layer.js"
import type { Paused } from "./paused.js"
import { Rows } from "./rows.js"
import { Sounds, type Echo } from "./sounds.js"
import { HELD, Stands } from "./stands.js"
import { Turns, type Meeting } from "./turns.js"
import type { VoiceGraph, Way } from "./voice-graph.js"

/** Hypotheses dearer than the best by so much, and more than so many, are let go. */
export interface Breadth {
  readonly beam: number
  readonly width: number
}

/**
 * What is let go too early is missed where a voice's own cheapest way does not meet the others: of long invented pieces with many
 * doubtful phrases (400 notes a voice) 14 and 64 read 3 to 8 wrong notes more in a hundred wrong ones, at a tenth less time; 40 and
 * 256 read hardly better than these.
 */
export const IN_FULL: Breadth = { beam: 24, width: 96 }
/** For a first reading of a long piece. */
export const AT_A_GLANCE: Breadth = { beam: 10, width: 16 }

/** Layers of the trail from one at which a single hypothesis was left to another, and the best at its end. */
export interface Window {
  readonly trail: Trail
  readonly ways: readonly Way[]
  /** The last layer of the window. */
  readonly last: number
  readonly end: number
  /** What the hypotheses of the last layer cost beyond the end: it may be what is still to be paid. */
  readonly after: (hypothesis: number) => number
  /** Where all is laid down: the finals of a hypothesis of the last layer. */
  readonly finals?: (hypothesis: number) => Joint["finals"]
}

export interface Joint {
  /** By voice and figure: the way taken. */
  readonly chosen: readonly (readonly Way[])[]
  readonly cost: number
  /** Onset of each voice's final; undefined where it closes with a rest. */
  readonly finals: readonly (number | undefined)[]
}

/** Voices laid out for searching, as often as one likes. */
export class Laid {
  readonly rows: Rows
  readonly futures: Futures

  constructor(readonly graphs: readonly VoiceGraph[]) {
    this.rows = new Rows(graphs)
    this.futures = new Futures(this.rows)
  }
}

export interface JointInput {
  readonly laid: Laid
  readonly weights: CounterpointWeights
  readonly breadth: Breadth
  readonly meetings: readonly Meeting[]
  /** What sounds beside these voices, whatever way they take: what a tone says against it. */
  readonly echoes?: Echo | undefined
}

/** Searches, pausing again and again; `settle` is shown each window before it is let go. */
export function* searchingTogether(input: JointInput, settle: (window: Window) => void): Paused<Joint> {
  const trail = takeTrail()
  try {
    return yield* new Search(input, settle, trail).run()
  } finally {
    leaveTrail(trail)
  }
}

/** Layers from one pause to the next: some hundredths of a second in many voices. */
const PAUSED = 256

/** Hypotheses that have led nowhere are let go after each so many layers. */
const SWEPT = 64
/** What lies before a place through which all that are left have come is settled. At the latest a window has so many layers. */
const LONGEST = 3000

class Search {
  private readonly graphs: readonly VoiceGraph[]
  private readonly rows: Rows
  private readonly sounds: Sounds
  private readonly turns: Turns
  private readonly stands: Stands
  private readonly count: number
  /** The layer that is gone on from, and the one that is reached. */
  private before: Layer
  private layer: Layer
  private readonly chosen: Way[][]

  constructor(
    private readonly input: JointInput,
    private readonly settle: (window: Window) => void,
    private readonly trail: Trail,
  ) {
    this.rows = input.laid.rows
    this.graphs = input.laid.graphs
    this.count = this.graphs.length
    this.stands = new Stands(this.rows, input.laid.futures, input.echoes)
    this.sounds = new Sounds(this.stands, this.count, input.weights)
    this.turns = new Turns(this.rows, this.stands, input.meetings)
    this.before = new Layer(this.count, this.stands)
    this.layer = new Layer(this.count, this.stands)
    this.chosen = this.graphs.map((): Way[] => [])
  }

  *run(): Paused<Joint> {
    const { trail } = this
    this.start()
    const figures = this.graphs.reduce((sum, graph) => sum + graph.figures, 0)
    for (let n = 0; n < figures; n++) {
      this.goOn()
      if (n % PAUSED === PAUSED - 1) yield
      if (trail.length % SWEPT !== 0 || n === figures - 1) continue
      trail.sweep()
      this.settleSingle()
      this.stands.tidy(this.before.state.subarray(0, this.before.count * this.count))
    }
    const end = trail.cheapest(one => trail.cost[one]!)
    const finals = (one: number): Joint["finals"] => this.finalsOf(one)
    this.close({ last: trail.length - 1, end, after: () => 0, finals })
    return { chosen: this.chosen, cost: trail.cost[end]!, finals: finals(end) }
  }

  private finalsOf(one: number): Joint["finals"] {
    const { rows, stands, before, trail } = this
    const held = before.order[one - trail.firstOf(trail.length - 1)]! * this.count
    return this.graphs.map((_, v) => {
      if (rows.final[v]! < 0) return undefined
      const onset = stands.onset[before.state[held + v]!]!
      // rests after a final begin when it is held already
      return onset >= HELD ? onset - HELD : onset
    })
  }

  private start(): void {
    const { before, stands } = this
    before.clear()
    before.count = before.kept = 1
    before.order[0] = before.key[0] = 0
    for (let v = 0; v < this.count; v++) {
      const stand = stands.atStart(v)
      before.state[v] = stand
      before.key[0] = (before.key[0]! + stands.key[stand]!) | 0
    }
    before.future[0] = stands.least(before.state, 0)
    this.trail.start(0)
  }

  /** From one layer to the next. */
  private goOn(): void {
    const { before, layer } = this
    layer.clear()
    const first = this.trail.firstOf(this.trail.length - 1)
    for (let i = 0; i < before.kept; i++) this.extend(before.order[i]!, first + i)
    layer.prune(this.input.breadth)
    layer.putDown(this.trail)
    this.before = layer
    this.layer = before
  }

  /** Lets go of what lies before the last layer in which a single hypothesis is left. */
  private settleSingle(): void {
    const { trail } = this
    let last = trail.length - 1
    while (last > 0 && trail.usedIn(last) > 1) last--
    if (last > 0) {
      const end = trail.onlyOne(last)
      this.close({ last, end, after: one => (one === end ? 0 : Infinity) })
      trail.settle(last)
    } else if (trail.length > LONGEST) this.cutShort()
  }

  /** Settles all and goes on from the likeliest of the last layer. */
  private cutShort(): void {
    const { trail, before } = this
    const first = trail.firstOf(trail.length - 1)
    const future = (one: number): number => before.future[before.order[one - first]!]!
    const end = trail.cheapest(one => trail.cost[one]! + future(one))
    this.close({ last: trail.length - 1, end, after: one => future(one) - future(end) })
    before.order[0] = before.order[end - first]!
    before.kept = 1
    trail.start(trail.cost[end]!)
  }

  private close(window: Pick<Window, "last" | "end" | "after" | "finals">): void {
    const { trail, rows } = this
    this.settle({ trail, ways: rows.ways, ...window })
    followed(trail, rows, window.end, this.chosen)
  }

  /** Lays down the next note of the voice that ends first, from a hypothesis of the layer before. */
  private extend(from: number, kept: number): void {
    const { rows, stands, layer, before, trail } = this
    const { state } = before
    const at = from * this.count
    const v = this.turns.next(state, at)
    const stand = state[at + v]!
    const node = stands.node[stand]!
    const missed = this.turns.missed(state, at, v)
    const cost = this.sounds.cost(state, at, v) + missed
    trail.missed[kept] = missed
    const others = (before.key[from]! - stands.key[stand]!) | 0
    const first = rows.firstWay[node]!
    const children = stands.waysOf(stand) - first
    for (let way = first; way < rows.firstWay[node + 1]!; way++) {
      const child = stands.child[children + way]!
      const key = (others + stands.key[child]!) | 0
      const known = layer.find(key, before, at, v, child)
      const to = known < 0 ? layer.add(key, before, from, v, child, stands.alike[children + way] === 1) : known
      const costs = cost + rows.cost[way]! + stands.echo[children + way]!
      layer.link(to, kept, trail.weight[kept]!, way, v, costs, trail.cost[kept]! + costs)
    }
  }
}

/** Adds the ways of the likeliest reading from the beginning of the trail to a hypothesis, by voice. */
export function followed(trail: Trail, rows: Rows, end: number, chosen: readonly Way[][]): void {
  const ways = chosen.map((): Way[] => [])
  for (let one = end; one >= trail.endOf(0);) {
    const step = trail.best[one]!
    ways[trail.voice[step]!]!.push(rows.ways[trail.way[step]!]!)
    one = trail.from[step]!
  }
  ways.forEach((own, v) => {
    for (let i = own.length - 1; i >= 0; i--) chosen[v]!.push(own[i]!)
  })
}

/** Where in its breve or perfection a note begins, `time` after its stretch did. */
export function strengthOf({ grids }: VoiceGraph, figure: number, time: number): Strength {
  const { strong, medium } = grids[figure]!
  return time % strong === 0 ? 2 : time % medium === 0 ? 1 : 0
}
