/** Passages whose notes are all discordant and become consonant when moved by a third or a step: a clef was misread. */
import type { Pitch, Sign } from "../../page/index.js"
import { pitchAtStep, stepNumber } from "../../reading/pitches.js"
import type { Backdrop } from "./backdrop.js"
import { candidateAt, type Candidate, type Subject } from "./candidates.js"
import { editOf, type Figure } from "./figures.js"
import type { Strength, Tone } from "../../counterpoint/index.js"
import type { Line } from "./laid.js"
import type { Analysis } from "./partings.js"
import { custosBefore } from "./custodes.js"
import { TEMPER } from "../../counterpoint/index.js"
import { CUSTOS_WRONG, SHIFT_BY_NO_THIRD, SHIFT_WITHOUT_CLEF } from "./weights.js"

/** Staff steps by which clefs and lines are taken for each other. */
const THIRD = 2
const SHIFTS = [-4, -2, -1, 1, 2, 4] as const
const LEAST_NOTES = 5
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
}

/** Shifts that would save most, the voice laid as `analysis` says. */
export function shifted(subject: Subject, line: Line, backdrop: Backdrop, analysis: Analysis): Shifted[] {
  const sounded = soundedOf(subject, line, analysis, backdrop.end)
  return SHIFTS.flatMap(shift => {
    const gains = sounded.map(({ tone, onset, end, strength }) => {
      const cost = (step: number): number => backdrop.cost({ ...tone, step }, onset, end, strength)
      return Number.isNaN(tone.step) ? 0 : (cost(tone.step) - cost(tone.step + shift)) / TEMPER
    })
    const custodes = sounded.map(one => custosGain(subject, one, shift))
    return passages(
      subject,
      sounded,
      gains.map((gain, i) => gain + custodes[i]!),
      shift,
    )
  })
}

/** What the custos right before a figure says for the shift of it, or against. */
function custosGain({ voice }: Subject, { figure, tone }: Sounded, shift: number): number {
  const custos = figure.member > 0 ? undefined : custosBefore(voice.signs, figure.top)
  if (custos === undefined || Number.isNaN(tone.step)) return 0
  return CUSTOS_WRONG * (Number(custos !== tone.step) - Number(custos !== tone.step + shift))
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

/** The passages that gain most by the shift, ends at whole signs, clefs and line ends preferred. */
function passages(subject: Subject, sounded: readonly Sounded[], gains: readonly number[], shift: number): Shifted[] {
  const { melody } = subject
  const found: Shifted[] = []
  const sums = [0]
  for (const gain of gains) sums.push(sums.at(-1)! + gain)
  const edges = edgesOf(subject, sounded)
  const rarer = Math.abs(shift) === THIRD ? 0 : SHIFT_BY_NO_THIRD
  const leapAt = (at: number, moved: -1 | 1): number => {
    const [a, b] = [sounded[at - 1]?.tone.step ?? Number.NaN, sounded[at]?.tone.step ?? Number.NaN]
    return melody.cost(a, b) - melody.cost(a, b + moved * shift)
  }
  for (let from = 0; from < sounded.length; from++) {
    if (edges[from] === Infinity) continue
    for (let to = from + LEAST_NOTES; to <= sounded.length; to++) {
      if (edges[to] === Infinity || (from === 0 && to === sounded.length)) continue
      const saves = sums[to]! - sums[from]! + leapAt(from, 1) + leapAt(to, -1) - edges[from]! - edges[to]! - rarer
      if (saves > 0) found.push(candidateOf(subject, sounded, from, to, shift, saves))
    }
  }
  return found.sort((a, b) => b.saves - a.saves).slice(0, KEPT)
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

function candidateOf(
  subject: Subject,
  sounded: readonly Sounded[],
  from: number,
  to: number,
  shift: number,
  saves: number,
): Shifted {
  const { voice } = subject
  const [first, last] = [sounded[from]!.figure, sounded[to - 1]!.figure]
  const end = last.top + 1
  const signs = voice.signs.slice(first.top, end).map(sign => moveSign(sign, shift))
  return {
    ...candidateAt(subject, "pitch-shifted", first, editOf(voice, first.top, end, signs), 0, last.index),
    saves,
  }
}

export function moveSign<T extends Sign>(sign: T, shift: number): T {
  if (sign.kind === "ligature") return { ...sign, members: sign.members.map(member => moveSign(member, shift)) }
  if (sign.kind === "note" && sign.pitch) return { ...sign, pitch: movedPitch(sign.pitch, shift) }
  return sign
}

const movedPitch = (pitch: Pitch, shift: number): Pitch => pitchAtStep(stepNumber(pitch) + shift)
