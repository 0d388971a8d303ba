/** Which single changes of a voice could be tried, and which of them first. */
import type { MensurationSpan } from "../../reading/index.js"
import type { WorkedVoice } from "../../reading/read-voice.js"
import { ticksIn, type Factor } from "../backdrop.js"
import { signCandidates, type Candidate } from "./candidates.js"
import type { Figure } from "./figures.js"
import { gap } from "./lost-passage.js"
import { coloured, copied, ligatures, mensurations, otherSigns } from "./passages.js"
import type { Laid } from "./stage.js"
import type { EmendationKind } from "./types.js"
import { UNEXPLAINED } from "./weights.js"

/** A gap is looked for where the voice parts at most this much more dearly than where it does so most cheaply. */
const GAP_WITHIN = 10

/** Changes of a voice that could be tried. */
export function* candidatesOf({ subject, worked, analysis, factor, line }: Laid): Generator<Candidate> {
  const spans = spansOf(worked, factor)
  const inTempora = worked.reading.unit === "tempus"
  yield* signCandidates(subject)
  yield* copied(subject)
  yield* ligatures(subject)
  if (!inTempora) {
    // the thirteenth century has neither coloured notes nor signs of mensuration
    yield* coloured(subject)
    yield* mensurations(subject, spans)
    yield* otherSigns(subject)
  }
  const smallest = Math.min(...line.graph.ways.flatMap(ways => ways.map(way => way.lasts)))
  for (const figure of subject.figures) {
    const by = analysis.amounts[figure.index] ?? 0
    if (by < 2 * smallest || analysis.partedAt[figure.index]! > analysis.parted + GAP_WITHIN) continue
    const since = analysis.leftAt[figure.index]! - line.origins[figure.index]!
    const lost = gap(subject, figure, { lasts: by, since, span: spans(figure), inTempora })
    if (lost) yield lost
  }
}

/** Figures before and after a change that it can reach; a sign or a long run is judged by so many from its beginning. */
const REACH = 4
const LONGEST_REACH = 12
/** Where a voice parts, changes are tried first at places that are dearer to part at by at most this. */
const PARTED_WITHIN = UNEXPLAINED
/**
 * Where it parts nowhere because that is a little too dear, as that of two voices whose finals alone come apart: places
 * dearer to part at than to go on by at most this.
 */
const NEARLY_PARTED = UNEXPLAINED / 2
/** Notes near a change that cost so much together make it suspect, whether the voice parts or not. */
const LEAST_DEAR = 3
/** Later than all that is suspect. */
const LAST = 2 * UNEXPLAINED
/** There are few of them in a page, and what is copied twice is seen without listening: they are always tried, and first. */
const FEW: ReadonlySet<EmendationKind> = new Set([
  "dot-dropped",
  "dot-moved",
  "note-doubled",
  "passage-doubled",
  "ligature-changed",
])
/** So many of them are possible that they are tried near suspect places only. */
const MANY: ReadonlySet<EmendationKind> = new Set(["note-missing", "coloration-missing", "mensuration-missing"])

export const isOneOfMany = ({ kind, edit }: Pick<Candidate, "kind" | "edit">): boolean =>
  MANY.has(kind) && !isOtherSign({ kind, edit })

/** The signs that a voice has are few; that one was drawn for another is heard from its beginning on, not at a place. */
const isOtherSign = ({ kind, edit }: Pick<Candidate, "kind" | "edit">): boolean =>
  kind === "mensuration-missing" && edit.out.length > 0

/**
 * Where a change is worth trying first (lower): near places where the voice parts from the others most cheaply, and near
 * what is dear in rules and intervals: rules can take up a slip so that the voice parts elsewhere or not at all. Infinity:
 * not at all.
 */
export function suspicionOf({ analysis }: Laid, { kind, from, to, edit }: Candidate): number {
  if (FEW.has(kind) || isOtherSign({ kind, edit })) return -1
  const { partedAt, costs, jumps, whole, parted } = analysis
  const end = kind === "mensuration-missing" ? from : Math.min(to, from + LONGEST_REACH)
  let least = Infinity
  let dear = 0
  for (let f = Math.max(0, from - REACH); f <= end + REACH; f++) {
    least = Math.min(least, partedAt[f] ?? Infinity)
    dear += Math.max(0, costs[f] ?? 0)
  }
  const near = least - Math.min(whole, parted)
  const within = jumps.length > 0 ? PARTED_WITHIN : NEARLY_PARTED
  const suspicion = Math.min(near <= within ? near : Infinity, dear < LEAST_DEAR ? Infinity : UNEXPLAINED - dear)
  return suspicion === Infinity && !MANY.has(kind) ? LAST : suspicion
}

/** The mensuration in force at a figure, as the voice reads by itself. */
function spansOf({ reading }: WorkedVoice, factor: Factor): (figure: Figure) => MensurationSpan | undefined {
  const by = factor(reading)
  const onsets = new Map(reading.signs.map(sign => [sign.id, ticksIn(sign.onset, by)]))
  return figure => {
    const onset = onsets.get(figure.sign.id) ?? 0
    return reading.mensurations.findLast(span => ticksIn(span.onset, by) <= onset)
  }
}
