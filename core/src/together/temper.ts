/**
 * How far the intervals of a piece may be trusted. Voices of one piece differ from those of another in how strictly they
 * agree; so the piece itself is asked. Wherever its notes leave no doubt, a few of them are laid a unit too early or too
 * late: by weights that are neither too sure nor too unsure, the odds of the wrong place against the right one come to 1 on
 * the average. What the weights have to be multiplied by for that is the piece's temper.
 */
import type { CounterpointWeights, Tone } from "../counterpoint/index.js"
import { soundAt, soundsOf } from "./rows.js"
import { strengthOf, type Joint } from "./search.js"
import type { VoiceGraph } from "./voice-graph.js"

/** Notes that are displaced together: about so many depend on one doubtful choice. */
const DISPLACED = 4
/** How strongly the weights are supposed to be just right before the piece is asked. */
const SUPPOSED = 6
/** No piece is trusted more, or less. */
const MOST = 1
const LEAST = 0.2

interface Sung {
  readonly onset: number
  readonly end: number
  readonly tone: Tone
  readonly open: boolean
}

/** `open`: whether a figure of a voice may last otherwise. */
export function temperOf(
  weights: CounterpointWeights,
  graphs: readonly VoiceGraph[],
  joint: Pick<Joint, "chosen">,
  open: (voice: number, figure: number) => boolean,
): number {
  const voices = graphs.map((graph, v) => new Line(sungBy(graph, joint.chosen[v]!, figure => open(v, figure))))
  const costs = soundsOf(weights)
  const found: number[] = []
  graphs.forEach((graph, v) => {
    const others = voices.filter((_, u) => u !== v)
    const { notes } = voices[v]!
    for (let from = 0; from + DISPLACED < notes.length; from += DISPLACED) {
      const some = notes.slice(from, from + DISPLACED)
      if (some.some(one => one.open)) continue
      const { medium } = graph.grids[from]!
      const cost = (i: number, onset: number): number =>
        soundOf(costs, some[i]!.tone, onset, strengthOf(graph, from + i, onset), others)
      const own = some.map((one, i) => (Number.isNaN(one.tone.step) ? 0 : cost(i, one.onset)))
      for (const by of [-medium, medium]) found.push(worseBy(some, own, cost, by))
    }
  })
  return balanced(found)
}

/** The factor at which the odds of wrong places come to 1 on the average. */
function balanced(found: readonly number[]): number {
  // what is supposed draws to 1, the less the more was seen
  const excess = (temper: number): number =>
    found.reduce((sum, worse) => sum + Math.exp(-temper * worse) - 1, SUPPOSED * (temper - 1))
  if (excess(MOST) <= 0) return MOST
  let [low, high] = [LEAST, MOST]
  for (let i = 0; i < 20; i++) {
    const middle = (low + high) / 2
    if (excess(middle) > 0) high = middle
    else low = middle
  }
  return low
}

/** How much dearer the notes are when all of them begin so much later than where they cost `own`. */
function worseBy(
  some: readonly Sung[],
  own: readonly number[],
  cost: (note: number, onset: number) => number,
  by: number,
): number {
  let worse = 0
  some.forEach(({ tone, onset }, i) => {
    if (!Number.isNaN(tone.step)) worse += cost(i, onset + by) - own[i]!
  })
  return worse
}

/** What a note says as it begins; `costs`: `soundsOf`. */
function soundOf(costs: Float64Array, tone: Tone, onset: number, strength: 0 | 1 | 2, others: readonly Line[]): number {
  let floor = Infinity
  for (const other of others) {
    const note = other.soundingAt(onset)
    if (note !== undefined && note.tone.step < floor) floor = note.tone.step
  }
  let cost = 0
  for (const { sounding: other } of others) {
    if (other === undefined) continue
    const together = other.onset === onset
    const isUpper = Math.min(tone.step, other.tone.step) > floor
    const byStep = tone.byStep || (together ? other.tone.byStep : other.tone.falls)
    cost += costs[soundAt(isUpper, together, strength, tone.step - other.tone.step, byStep)]!
  }
  return cost
}

/** The notes of a voice, asked for what sounds at times that are mostly near each other. */
class Line {
  /** What sounded at the time that was asked for last. */
  sounding: Sung | undefined
  private at = 0

  constructor(readonly notes: readonly Sung[]) {}

  soundingAt(time: number): Sung | undefined {
    const { notes } = this
    while (this.at > 0 && notes[this.at]!.onset > time) this.at--
    while (this.at + 1 < notes.length && notes[this.at + 1]!.onset <= time) this.at++
    const one = notes[this.at]
    const sounds = one !== undefined && one.onset <= time && one.end > time && !Number.isNaN(one.tone.step)
    return (this.sounding = sounds ? one : undefined)
  }
}

function sungBy(
  { tones, delays }: VoiceGraph,
  chosen: Joint["chosen"][number],
  open: (figure: number) => boolean,
): Sung[] {
  let time = delays.get(0) ?? 0
  return chosen.map((way, figure) => {
    const onset = time
    const end = onset + way.lasts
    time = end + (delays.get(figure + 1) ?? 0)
    return { onset, end, tone: tones[figure]!, open: open(figure) }
  })
}
