/**
 * Two slips of one voice that make up for each other, or for which one other change would: by itself neither repair brings the
 * voices together, so that neither would come first. The stretch between them is out of step, and that is heard.
 */
import { prepared, totalAfter, type Prepared } from "./changed-line.js"
import type { Candidate } from "./candidates.js"
import { edited } from "./figures.js"
import { analyse, type Analysis } from "./partings.js"
import type { Laid, Stage } from "./stage.js"
import { candidatesOf } from "./suspects.js"
import type { Edit, EmendationKind } from "./types.js"
import type { Weighed } from "./weighed.js"
import { OTHER_PLACE_WITHIN, SECOND_SLIP, SLIP_COSTS } from "./weights.js"

/** Repairs of a few signs that move time. */
const SMALL: ReadonlySet<EmendationKind> = new Set([
  "dot-added",
  "dot-dropped",
  "stem-added",
  "stem-dropped",
  "level-changed",
  "rest-changed",
  "note-missing",
  "note-doubled",
])
/** Signs by which the place where a voice parts may be off that of the slip. */
const WITHIN = 4
/** Repairs of each place that are tried with those of the other, places of a voice, and pairs that are told. */
const MOST_OF_PLACE = 5
const MOST_PLACES = 4
const MOST_PAIRS = 3
/** The same of those that stand further from where the voice parts, if it could part there nearly as well; and of pairs of other places. */
const FURTHEST = 12
const MOST_FURTHER = 2
const MOST_OTHER_PAIRS = 2

/** Pairs of changes, the second in `also`; the likeliest first. */
export function pairsOf(stage: Stage): Weighed[] {
  const all = stage.laid.flatMap(laid => (laid.times > 1 || stage.alone ? [] : pairsIn(stage, laid)))
  const sorted = all.sort((a, b) => b.evidence - b.price - (a.evidence - a.price))
  const best = sorted.slice(0, MOST_PAIRS)
  const others: Weighed[] = []
  for (const one of sorted.slice(MOST_PAIRS))
    if (others.length < MOST_OTHER_PAIRS && ![...best, ...others].some(other => isAtOnePlace(one, other)))
      others.push(one)
  return [...best, ...others]
}

const isAtOnePlace = ({ candidate: a }: Weighed, { candidate: b }: Weighed): boolean =>
  a.voice === b.voice && Math.abs(a.from - b.from) <= WITHIN && Math.abs(a.to - b.to) <= WITHIN

function pairsIn(stage: Stage, laid: Laid): Weighed[] {
  const analysis = analyse(laid.line, laid.backdrop, SECOND_SLIP)
  const { there, jumps: all } = analysis
  const jumps = all.slice(0, MOST_PLACES)
  if (jumps.length < 2) return []
  const partings = { price: SECOND_SLIP, by: [...new Set(jumps.map(jump => jump.by))] }
  const parting = prepared(laid.line, laid.backdrop, partings, there)
  const small = [...candidatesOf(laid)].filter(({ kind }) => SMALL.has(kind))
  const places = jumps.map(({ figure }) => {
    const as = asWell(analysis, figure)
    const near = small.filter(one => Math.abs(one.from - figure) <= WITHIN)
    const further = small.filter(one => !near.includes(one) && one.from >= as.from && one.from <= as.to)
    return [...best(stage, laid, parting, near), ...best(stage, laid, parting, further).slice(0, MOST_FURTHER)]
  })
  return places
    .slice(1)
    .flatMap((seconds, i) => places[i]!.flatMap(first => seconds.map(second => both(laid, first, second))))
    .flatMap(one => (one === undefined ? [] : [stage.weighOne(laid, one)]))
}

/** The figures about a place where the voice could part nearly as well as there. */
function asWell({ partedAt }: Analysis, at: number): { from: number; to: number } {
  const isAsWell = (figure: number): boolean => (partedAt[figure] ?? Infinity) <= partedAt[at]! + OTHER_PLACE_WITHIN
  let [from, to] = [at, at]
  while (at - from < FURTHEST && isAsWell(from - 1)) from--
  while (to - at < FURTHEST && isAsWell(to + 1)) to++
  return { from, to }
}

/** Those with which the voice goes best on when it may part once more. */
function best(stage: Stage, laid: Laid, parting: Prepared, near: readonly Candidate[]): Candidate[] {
  const cost = (one: Candidate): number => {
    const voice = edited(laid.subject.voice, one.edit)
    if (voice === undefined) return Infinity
    return totalAfter(parting, stage.layed(laid, voice), laid.factor) + SLIP_COSTS[one.kind] + one.extra
  }
  const costs = near.map(one => ({ one, cost: cost(one) }))
  return costs
    .sort((a, b) => a.cost - b.cost)
    .slice(0, MOST_OF_PLACE)
    .map(({ one }) => one)
}

/** Undefined where one would change what the other does. */
function both({ subject }: Laid, first: Candidate, second: Candidate): Candidate | undefined {
  if (second.from <= first.to + 1 || first.edit.out.some(id => second.edit.out.includes(id))) return undefined
  const also = withOtherIds(second.edit, subject.fresh)
  const extra = first.extra + second.extra + SLIP_COSTS[second.kind]
  return { ...first, to: Math.max(first.to, second.to), until: first.to, extra, also: [also] }
}

/** What both supply needs ids of its own. */
function withOtherIds(edit: Edit, fresh: Laid["subject"]["fresh"]): Edit {
  const half = fresh.length >> 1
  const other = <T extends { readonly id: Edit["out"][number] }>(sign: T): T => {
    const at = fresh.indexOf(sign.id)
    return at < 0 || at >= half ? sign : { ...sign, id: fresh[at + half]! }
  }
  return {
    ...edit,
    in: edit.in.map(sign =>
      sign.kind === "ligature"
        ? other({ ...sign, members: sign.members.map(other) as unknown as typeof sign.members })
        : other(sign),
    ),
  }
}
