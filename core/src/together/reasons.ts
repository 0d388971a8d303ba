/** Why the other voices decided a sign: because they meet only so, or because it sounds only so. */
import type { SignId } from "../base/index.js"
import { intervalOf, type CounterpointWeights, type Tone } from "../counterpoint/index.js"
import { ticksOf } from "../reading/choices.js"
import { changedBy } from "../reading/paths.js"
import type { Settled } from "../reading/settle.js"
import type { OthersReason } from "../reading/types.js"
import type { Backdrop } from "./backdrop.js"
import { meetingsOf } from "./meetings.js"
import { strengthOf, type Joint } from "./search.js"
import type { Meeting } from "./turns.js"
import type { VoiceGraph } from "./voice-graph.js"

/** What sounds beside the voices, and what it is called. */
export interface Echoes {
  readonly backdrop: Pick<Backdrop, "cost">
  readonly labels: readonly string[]
}

/** A figure that would begin at another time than its own. */
interface Moved {
  readonly figure: number
  readonly time: number
  readonly own: number
}

export class Reasons {
  /** By voice and figure: when it begins; one more at the end. */
  private readonly onsets: readonly (readonly number[])[]
  private meetings: readonly Meeting[] | undefined
  private readonly ids: readonly (readonly SignId[])[]

  constructor(
    private readonly graphs: readonly VoiceGraph[],
    private readonly joint: Joint,
    private readonly weights: CounterpointWeights,
    private readonly echoes?: Echoes,
  ) {
    this.onsets = joint.chosen.map((ways, v) => {
      const delay = (figure: number): number => graphs[v]!.delays.get(figure) ?? 0
      let time = delay(0)
      return [time, ...ways.map(way => (time += way.lasts + delay(way.figure + 1)))]
    })
    this.ids = graphs.map(({ worked }) => worked.cut.stretches.flatMap(({ figures }) => figures.map(one => one.id)))
  }

  /** For each figure of voice `v` that the voice alone would have, or might have, read otherwise: what the others say. */
  of(v: number): ReadonlyMap<SignId, OthersReason> {
    const found = new Map<SignId, OthersReason>()
    let first = 0
    for (const { blocks } of this.graphs[v]!.worked.settled)
      for (const block of blocks) {
        this.ofBlock(v, block, first, found)
        first += block.decisions.length
      }
    return found
  }

  private ofBlock(v: number, block: Settled, first: number, found: Map<SignId, OthersReason>): void {
    const chosen = this.joint.chosen[v]!
    const alone = block.decisions.map(one => one.ticks)
    for (const path of [{ changes: [] }, ...block.paths]) {
      const other = changedBy(path, alone).map((one, i) => this.lasting(v, first + i, one))
      const differing = other.flatMap((lasts, i) => (lasts === chosen[first + i]!.lasts ? [] : [first + i]))
      if (differing.every(figure => found.has(this.ids[v]![figure]!))) continue
      const reason = this.reasonAgainst(v, first, other, differing)
      for (const figure of differing) if (!found.has(this.ids[v]![figure]!)) found.set(this.ids[v]![figure]!, reason)
    }
  }

  /** So many ticks on the shared scale. */
  private lasting(v: number, figure: number, ticks: number): number {
    const way = this.joint.chosen[v]![figure]!
    const own = ticksOf(way.edge, way.member)
    return own === ticks ? way.lasts : Math.round((ticks * way.lasts) / own)
  }

  private reasonAgainst(
    v: number,
    first: number,
    other: readonly number[],
    differing: readonly number[],
  ): OthersReason {
    const chosen = this.joint.chosen[v]!
    const length = other.reduce((sum, lasts, i) => sum + lasts - chosen[first + i]!.lasts, 0)
    const met = length === 0 ? [] : this.metAfter(v, differing[0]!)
    if (met.length === 0) return this.bestSounding(v, first, other, differing)
    return { how: "meet", voices: met.map(u => this.graphs[u]!.worked.voice.label), signs: [] }
  }

  /** The voices that voice `v` does meet after the figure: at their finals, at the end of a section, at a sign. */
  private metAfter(v: number, figure: number): number[] {
    const { finals } = this.joint
    const places = (this.meetings ??= meetingsOf(this.graphs)).filter(own => own[v]! > figure)
    const onset = (u: number, own: Meeting): number => this.onsets[u]![own[u]!]!
    return this.graphs.flatMap((_, u) => {
      if (u === v) return []
      const atEnd = finals[u] === undefined || finals[v] === undefined || finals[u] === finals[v]
      return atEnd || places.some(own => onset(u, own) === onset(v, own)) ? [u] : []
    })
  }

  /** The voice with which it sounds worst when read otherwise. */
  private bestSounding(v: number, first: number, other: readonly number[], differing: readonly number[]): OthersReason {
    const moved = this.movedBy(v, first, other)
    const gains = this.gainsBy(v, moved)
    const best = Math.max(...gains)
    const { echoes } = this
    if (echoes && this.gainByEchoes(v, moved) > best) return { how: "sound", voices: echoes.labels, signs: [] }
    if (best === -Infinity) return { how: "sound", voices: [], signs: [] }
    const u = gains.indexOf(best)
    const sign = this.soundingAt(u, moved[0]?.own ?? this.onsets[v]![differing[0]!]!)
    return {
      how: "sound",
      voices: [this.graphs[u]!.worked.voice.label],
      signs: sign === undefined ? [] : [sign],
    }
  }

  /** Figures that would begin at another time. */
  private movedBy(v: number, first: number, other: readonly number[]): Moved[] {
    const moved: Moved[] = []
    let time = this.onsets[v]![first]!
    for (let i = 0; first + i < this.graphs[v]!.figures && i <= other.length; i++) {
      const own = this.onsets[v]![first + i]!
      if (time !== own) moved.push({ figure: first + i, time, own })
      if (i < other.length) time += other[i]!
    }
    return moved
  }

  /** By voice: how much worse it would sound with it. */
  private gainsBy(v: number, moved: readonly Moved[]): number[] {
    const gains = this.graphs.map((_, u) => (u === v ? -Infinity : 0))
    for (const { figure, time, own } of moved) {
      const [there, here] = [this.costs(v, figure, time), this.costs(v, figure, own)]
      gains.forEach((gain, u) => (gains[u] = gain + there[u]! - here[u]!))
    }
    return gains
  }

  private gainByEchoes(v: number, moved: readonly Moved[]): number {
    const { tones } = this.graphs[v]!
    const cost = (figure: number, time: number): number =>
      this.echoes!.backdrop.cost(tones[figure]!, time, time + 1, strengthOf(this.graphs[v]!, figure, time))
    return moved.reduce((sum, { figure, time, own }) => sum + cost(figure, time) - cost(figure, own), 0)
  }

  /** What the figure of voice `v` says against each of the others, if it begins at the time. */
  private costs(v: number, figure: number, time: number): number[] {
    const { weights, onsets } = this
    const graph = this.graphs[v]!
    const own = graph.tones[figure]
    const at = onsets.map((_, u) => this.figureAt(u, time))
    const others = this.graphs.map(({ tones }, u) => (u === v ? undefined : tones[at[u]!]))
    const floor = floorOf(others)
    const strength = strengthOf(graph, figure, time)
    return others.map((other, u) => {
      if (own === undefined || other === undefined || Number.isNaN(own.step - other.step)) return 0
      const pair = Math.min(own.step, other.step) <= floor ? weights.lowest : weights.upper
      const together = onsets[u]![at[u]!] === time
      return (together ? pair.together : pair.against)[strength][intervalOf(own, other, together)]
    })
  }

  private soundingAt(u: number, time: number): SignId | undefined {
    return this.ids[u]![this.figureAt(u, time)]
  }

  /** The figure of voice `u` that lasts at the time. */
  private figureAt(u: number, time: number): number {
    const onsets = this.onsets[u]!
    let low = 0
    let high = onsets.length - 1
    while (high - low > 1) {
      const middle = (low + high) >> 1
      if (onsets[middle]! <= time) low = middle
      else high = middle
    }
    return low
  }
}

/** Step of the lowest of the tones; rests have none. */
function floorOf(tones: readonly (Tone | undefined)[]): number {
  let floor = Infinity
  for (const tone of tones) if (tone !== undefined && tone.step < floor) floor = tone.step
  return floor
}
