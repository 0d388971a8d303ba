/** A stretch that was skipped: nobody knows its notes, but for how long it lasted. */
import { ratio } from "../../base/index.js"
import type { Rest } from "../../page/index.js"
import { UNIT } from "../../practices/index.js"
import type { MensurationSpan } from "../../reading/index.js"
import { candidateAt, isOutOfUse, stepOf, type Candidate, type Subject } from "./candidates.js"
import type { Figure } from "./figures.js"
import type { Edit } from "./types.js"
import { MELODY_WEIGHT } from "./weights.js"

/** What a voice lacks: how long, how long after the beginning of a measure it begins (in ticks), and under what. */
interface Lost {
  readonly lasts: number
  readonly since: number
  readonly span: MensurationSpan | undefined
  readonly inTempora: boolean
}

/** Rests for what a voice lacks before a figure: the music is lost, its time is not. */
export function gap(subject: Subject, figure: Figure, lost: Lost): Candidate | undefined {
  if (figure.ligature && figure.member > 0) return undefined
  const kinds = (lost.inTempora ? IN_TEMPORA : inMinims(lost.span)).filter(
    ([, { level }]) => level === undefined || !isOutOfUse(subject, level),
  )
  const rests = restsFor(lost, kinds)
  if (rests === undefined || rests.length > subject.fresh.length) return undefined
  const { voice } = subject
  const signs = rests.map((rest, i): Rest => ({ kind: "rest", id: subject.fresh[i]!, coloration: "none", ...rest }))
  const edit: Edit = { voice: voice.id, out: [], before: voice.signs[figure.top]!.id, in: signs }
  const before = subject.figures[figure.index - 1]
  const { melody } = subject
  // where something is skipped, what now stands side by side was not meant to
  const leap = before ? melody.cost(stepOf(before), stepOf(figure)) || melody.mean : melody.mean
  return candidateAt(subject, "passage-missing", figure, edit, MELODY_WEIGHT * (melody.mean - leap))
}

type Silence = Pick<Rest, "level" | "spaces">
const NEARLY = 1e-6

/** Rests that last so long together, each where its own measure begins as far as can be; undefined where none do. */
function restsFor({ lasts, since, span }: Lost, kinds: readonly RestKind[]): Silence[] | undefined {
  const ratioOf = span && span.proportion.num > 0 ? span.proportion.num / span.proportion.den : 1
  const found: Silence[] = []
  let at = (since / UNIT) * ratioOf
  const end = at + (lasts / UNIT) * ratioOf
  while (end - at > NEARLY && found.length <= MOST_RESTS) {
    const fits = kinds.filter(([size]) => size <= end - at + NEARLY)
    const [size, rest] = fits.find(([size, , within]) => staysWithin(at, size, within)) ?? fits.at(-1) ?? []
    if (size === undefined) return undefined
    found.push(rest!)
    at += size
  }
  return found.length > 0 && found.length <= MOST_RESTS ? found : undefined
}

const MOST_RESTS = 16

/** A rest lies within one of the larger measures in which it is counted. */
const staysWithin = (at: number, size: number, within: number): boolean =>
  Math.floor((at + NEARLY) / within) === Math.floor((at + size - NEARLY) / within)

/** How long, what, and how long the measure is that it may not lie across; the largest first. */
type RestKind = readonly [size: number, rest: Silence, within: number]

/** The six of Ars cantus mensurabilis, c. 1280, IX, but for the one that is not measured. */
const IN_TEMPORA: readonly RestKind[] = [
  [3, { spaces: ratio(3) }, 3],
  [2, { spaces: ratio(2) }, 3],
  [1, { spaces: ratio(1) }, 1],
  [2 / 3, { spaces: ratio(2, 3) }, 1],
  [1 / 3, { spaces: ratio(1, 3) }, 1],
]

function inMinims(span: MensurationSpan | undefined): readonly RestKind[] {
  const semibreve = span?.prolatio ?? 2
  const breve = semibreve * (span?.tempus ?? 2)
  const modus = span?.modusMinor ?? 2
  return [
    [modus * breve, { level: "longa", spaces: ratio(modus) }, modus * breve],
    [breve, { level: "brevis" }, breve],
    [semibreve, { level: "semibrevis" }, semibreve],
    [1, { level: "minima" }, 1],
    [1 / 2, { level: "semiminima" }, 1],
    [1 / 4, { level: "fusa" }, 1 / 2],
  ]
}
