/** Passages whose notes are all discordant and become consonant when moved by a third or a step: a clef was misread. */
import type { Pitch, Sign } from "../../page/index.js"
import { pitchAtStep, stepNumber } from "../../reading/pitches.js"
import type { Backdrop } from "../backdrop.js"
import { candidateAt, type Candidate, type Subject } from "./candidates.js"
import { editOf, type Figure } from "./figures.js"
import { TEMPER, tonesOf, type Strength, type Tone } from "../../counterpoint/index.js"
import type { Line } from "./laid.js"
import type { Analysis } from "./partings.js"
import { custosBefore } from "./custodes.js"
import { falseFifths, usualPlaces } from "./false-fifths.js"
import { Range } from "./range.js"
import type { Beside, Parallels } from "./parallels.js"
import type { Laid } from "./stage.js"
import {
  BEYOND_RANGE,
  CUSTOS_WRONG,
  FALSE_FIFTH,
  SHIFT_BY_LEAPS,
  SHIFT_BY_NO_THIRD,
  SHIFT_GOES_ON,
  SHIFT_OF_NO_LINE,
  SHIFT_WITHOUT_CLEF,
} from "./weights.js"

/** Staff steps by which clefs and lines are taken for each other. */
const THIRD = 2
const SHIFTS = [-4, -2, -1, 1, 2, 4] as const
const LEAST_NOTES = 5
const MOST_NOTES = 60
/** The best passages kept for each shift. */
const KEPT = 3

interface Sounded {
  readonly figure: Figure
  readonly tone: Tone
  readonly onset: number
  readonly end: number
  readonly strength: Strength
}

interface Shifted extends Candidate {
  /** What it saves in intervals, without the price of the slip. */
  readonly saves: number
  /** Of this, what leaps at its ends say beyond what they alone can tell. */
  readonly leaps: number
}

/** Figures from one up to another that may be moved. */
type Passage = Pick<Shifted, "from" | "to" | "extra" | "saves" | "leaps">

/** Shifts that would save most, the voice laid as `analysis` says. */
export function shifted(
  { subject, line, analysis, worked }: Pick<Laid, "subject" | "line" | "analysis" | "worked">,
  backdrop: Backdrop,
  parallels: Parallels,
): Shifted[] {
  const sounded = soundedOf(subject, line, analysis, backdrop.end)
  const edges = edgesOf(subject, sounded)
  const heard = heardBy({ line, analysis, worked }, sounded, backdrop, parallels)
  return SHIFTS.flatMap(shift => new Shifting(subject, sounded, heard, shift).passages(edges))
}

/** What a moved note is heard against. */
interface Heard {
  readonly backdrop: Backdrop
  /** Of the voice's steps on the circle of fifths; see `usualPlaces`. */
  readonly places: readonly number[]
  readonly range: Range
  readonly beside: Beside
  readonly parallels: Parallels
}

/** What it would save in intervals, the ends not asked, to move the figures of a passage by so many steps. */
export function savedWithin(
  { subject, line, analysis, worked }: Pick<Laid, "subject" | "line" | "analysis" | "worked">,
  backdrop: Backdrop,
  parallels: Parallels,
  { from, to, shift }: { readonly from: number; readonly to: number; readonly shift: number },
): number {
  const sounded = soundedOf(subject, line, analysis, backdrop.end)
  const heard = heardBy({ line, analysis, worked }, sounded, backdrop, parallels)
  const [first, last] = [from, to].map(index => sounded.findIndex(({ figure }) => figure.index === index)) as [
    number,
    number,
  ]
  return first < 0 || last < first ? 0 : new Shifting(subject, sounded, heard, shift).within(first, last + 1)
}

function heardBy(
  { line, analysis, worked }: Pick<Laid, "line" | "analysis" | "worked">,
  sounded: readonly Sounded[],
  backdrop: Backdrop,
  parallels: Parallels,
): Heard {
  return {
    backdrop,
    places: usualPlaces(worked.reading),
    range: new Range(sounded.map(({ tone }) => tone.step)),
    beside: besideOf(line, analysis, backdrop),
    parallels,
  }
}

/** A voice as it was laid, and what sounds beside it. */
export function besideOf({ graph }: Line, { onsets }: Analysis, backdrop: Backdrop): Beside {
  return {
    steps: onsets.map((_, i) => graph.tones[i]!.step),
    others: onsets.map(onset => backdrop.stepsAt(onset)),
  }
}

function soundedOf({ figures }: Subject, line: Line, { onsets, strengths }: Analysis, end: number): Sounded[] {
  return figures.flatMap((figure, i) => {
    const onset = onsets[i]
    if (onset === undefined) return []
    return [
      {
        figure,
        tone: line.graph.tones[i]!,
        onset,
        end: onsets[i + 1] ?? Math.max(end, onset),
        strength: strengths[i]!,
      },
    ]
  })
}

/** All passages of a voice moved by so many steps. */
class Shifting {
  /** By place: what is saved by moving all before it. */
  private readonly sums: readonly number[]
  /** The same of what two notes that follow each other save together; by place of the second. */
  private readonly pairs: readonly number[]

  constructor(
    private readonly subject: Subject,
    private readonly sounded: readonly Sounded[],
    private readonly heard: Heard,
    private readonly shift: number,
  ) {
    const sums = [0]
    for (const one of sounded) sums.push(sums.at(-1)! + this.saved(one) + this.custos(one))
    this.sums = sums
    const pairs = [0]
    for (let at = 0; at < sounded.length; at++) pairs.push(pairs.at(-1)! + this.parallelsSaved(at))
    this.pairs = pairs
  }

  /** Those that gain most, ends at whole signs, clefs and line ends preferred. */
  passages(edges: readonly number[]): Shifted[] {
    const { length } = this.sounded
    const rarer = Math.abs(this.shift) === THIRD ? 0 : SHIFT_BY_NO_THIRD
    const leaps = {
      begins: edges.map((_, at) => this.leap(at, "begins")),
      ends: edges.map((_, at) => this.leap(at, "ends")),
    }
    const begins = edges.map((price, at) => leaps.begins[at]! + this.atEdge(at, "begins") - price)
    const ends = edges.map((price, at) => leaps.ends[at]! + this.atEdge(at, "ends") - price)
    const found: Passage[] = []
    for (let from = 0; from < length; from++) {
      if (begins[from] === -Infinity || this.isRest(from)) continue
      const beyond = this.heard.range.from(from, this.shift)
      for (let to = from + 1; to <= Math.min(length, from + MOST_NOTES); to++) {
        const nearer = BEYOND_RANGE * beyond(to)
        if (to < from + LEAST_NOTES) continue
        if (ends[to] === -Infinity || this.isRest(to - 1) || (from === 0 && to === length)) continue
        const saves =
          this.within(from, to) + begins[from]! + ends[to]! + nearer - rarer - this.goesOn(from, to, edges[to]!)
        const extra = edges[from] === 0 && edges[to] === 0 ? 0 : SHIFT_OF_NO_LINE
        const beyondLeaps = Math.max(0, leaps.begins[from]! + leaps.ends[to]! - SHIFT_BY_LEAPS)
        if (saves > 0) found.push({ from, to, extra, saves, leaps: beyondLeaps })
      }
    }
    return found
      .sort((a, b) => b.saves - b.extra - a.saves + a.extra)
      .slice(0, KEPT)
      .map(({ from, to, extra, saves, leaps }) => ({ ...this.candidate(from, to, extra), saves, leaps }))
  }

  /** What is saved from one place to another, the ends not asked. */
  within(from: number, to: number): number {
    return this.sums[to]! - this.sums[from]! + this.pairs[to]! - this.pairs[from + 1]!
  }

  /** What it costs that nobody noticed for so long; where a clef or a new line ends it, it ends by itself. */
  private goesOn(from: number, to: number, edge: number): number {
    return edge > 0 ? SHIFT_GOES_ON * (to - from) : 0
  }

  /** A rest has no height: a passage that is moved begins and ends with a note. */
  private isRest(at: number): boolean {
    return Number.isNaN(this.sounded[at]!.tone.step)
  }

  /** What moving a note among others that move saves in intervals. */
  private saved({ tone, ...where }: Sounded): number {
    return Number.isNaN(tone.step) ? 0 : this.cost(tone, where) - this.cost(this.moved(tone), where)
  }

  private parallelsSaved(at: number): number {
    const { backdrop, parallels, beside } = this.heard
    return at === 0 || !backdrop.weights.avoidsParallels
      ? 0
      : parallels.cost(beside, at, 0) - parallels.cost(beside, at, this.shift)
  }

  private cost(tone: Tone, { onset, end, strength }: Omit<Sounded, "tone">): number {
    const { backdrop, places } = this.heard
    const discords = (backdrop.cost(tone, onset, end, strength) * backdrop.weights.strictness) / TEMPER
    return discords + FALSE_FIFTH * falseFifths(backdrop, places, [tone.step, onset, end])
  }

  private moved(tone: Tone): Tone {
    return { ...tone, step: tone.step + this.shift }
  }

  /** What the custos right before a figure says for the shift of it, or against. */
  private custos({ figure, tone }: Sounded): number {
    const custos = figure.member > 0 ? undefined : custosBefore(this.subject.voice.signs, figure.top)
    if (custos === undefined || Number.isNaN(tone.step)) return 0
    return CUSTOS_WRONG * (Number(custos !== tone.step) - Number(custos !== tone.step + this.shift))
  }

  /** What is saved where the moved notes and those that stay meet: by the step between them. */
  private leap(at: number, edge: "begins" | "ends"): number {
    const [before, after] = [this.sounded[at - 1], this.sounded[at]]
    if (before === undefined || after === undefined) return 0
    const [a, b] = [before.tone.step, after.tone.step]
    const { melody } = this.subject
    return melody.cost(a, b) - (edge === "begins" ? melody.cost(a, b + this.shift) : melody.cost(a + this.shift, b))
  }

  /** The same by what that step makes of discords. */
  private atEdge(at: number, edge: "begins" | "ends"): number {
    if (at === 0 || at >= this.sounded.length) return 0
    return this.regained(at - 1, edge === "ends", 1) + this.regained(at, edge === "begins", -1)
  }

  /**
   * What a note beside an edge saves because it is entered or left otherwise than before. `moves`: it is moved; `across`:
   * on which side of it the edge lies.
   */
  private regained(index: number, moves: boolean, across: -1 | 1): number {
    const one = this.sounded[index]!
    if (Number.isNaN(one.tone.step)) return 0
    const stepAt = (way: -1 | 0 | 1): number | undefined => {
      const step = this.sounded[index + way]?.tone.step
      const isMoved = way === across ? !moves : moves
      return step === undefined || !isMoved ? step : step + this.shift
    }
    const [before, own, after] = [stepAt(-1) ?? Number.NaN, stepAt(0)!, stepAt(1)]
    const tone = tonesOf(after === undefined ? [before, own] : [before, own, after])[1]!
    return this.cost({ ...one.tone, step: own }, one) - this.cost(tone, one)
  }

  private candidate(from: number, to: number, extra: number): Candidate {
    const { voice } = this.subject
    const [first, last] = [this.sounded[from]!.figure, this.sounded[to - 1]!.figure]
    const end = last.top + 1
    const signs = voice.signs.slice(first.top, end).map(sign => moveSign(sign, this.shift))
    const edit = editOf(voice, first.top, end, signs)
    return { ...candidateAt(this.subject, "pitch-shifted", first, edit, extra, last.index), shift: this.shift }
  }
}

/** By place: what it costs that a passage begins or ends there. */
function edgesOf({ voice }: Subject, sounded: readonly Sounded[]): number[] {
  return Array.from({ length: sounded.length + 1 }, (_, i) => {
    const [before, here] = [sounded[i - 1]?.figure, sounded[i]?.figure]
    if (before === undefined || here === undefined) return 0
    if (before.ligature !== undefined && before.ligature === here.ligature) return Infinity
    const between = voice.signs.slice(before.top + 1, here.top)
    return between.some(sign => sign.kind === "clef" || sign.kind === "break") ? 0 : SHIFT_WITHOUT_CLEF
  })
}

export function moveSign<T extends Sign>(sign: T, shift: number): T {
  if (sign.kind === "ligature") return { ...sign, members: sign.members.map(member => moveSign(member, shift)) }
  if (sign.kind === "note" && sign.pitch) return { ...sign, pitch: movedPitch(sign.pitch, shift) }
  return sign
}

const movedPitch = (pitch: Pitch, shift: number): Pitch => pitchAtStep(stepNumber(pitch) + shift)
