/**
 * An emendation made: the page changed as an editor changes it, with the old signs kept beside the new. Changed signs
 * are `corr` with what stood there as "sic", added ones `supplied`; a sign that goes takes the one beside it along into
 * the choice, so that its place is known. Nothing is ever changed without a trace.
 */
import { done, failed, type Problem, type Result, type SignId } from "../../base/index.js"
import {
  everySign,
  idGiver,
  type Alternative,
  type Editorial,
  type Page,
  type Sign,
  type Voice,
} from "../../page/index.js"
import { placeOf } from "./figures.js"
import type { Emendation } from "./types.js"

export interface Hand {
  /** Id of a person of the page. */
  readonly who?: string
  readonly why?: string
}

/** For the critical report: place, what the source has (in the original notes' names), what was done, why. */
export interface ReportLine {
  readonly place: string
  readonly source: string
  readonly done: string
  readonly why: string
}

export interface Emended {
  readonly page: Page
  readonly line: ReportLine
}

/** The page with the emendation made. Fails, and changes nothing, where its signs no longer stand as they did. */
export function emend(page: Page, emendation: Emendation, hand: Hand = {}): Result<Emended> {
  const { also = [], ...first } = emendation
  let made = emendOne(page, first, hand)
  for (const edit of also) if (made.ok) made = emendOne(made.value.page, { ...first, edit }, hand)
  return made
}

function emendOne(page: Page, emendation: Emendation, hand: Hand): Result<Emended> {
  const voice = page.voices.find(one => one.id === emendation.edit.voice)
  const at = voice ? placeOf(voice, emendation.edit) : -1
  if (!voice || at < 0) return failed(outOfDate(emendation))
  const run = narrowed(page, voice, at, emendation)
  const marked = run.out.length === 0 ? supplied(run, hand) : corrected(run, hand)
  const other = clash(page, run)
  if (other) return failed(taken(emendation, other))
  const signs = voice.signs.toSpliced(run.at, run.out.length, ...marked)
  const kept = run.out.length === 0 ? [] : [sicOf(page, voice, run, marked)]
  const changed = {
    ...page,
    voices: page.voices.map(one => (one === voice ? { ...voice, signs } : one)),
    alternatives: [...page.alternatives, ...kept],
  }
  return done({ page: withoutLostDecisions(changed), line: lineOf(emendation, hand) })
}

/** The signs from an index of the voice on that give way to others. */
interface Run {
  readonly at: number
  readonly out: readonly Sign[]
  readonly in: readonly Sign[]
}

/** Without signs at either end that stay as they are; where all that is left goes, with a neighbour that stays. */
function narrowed(page: Page, voice: Voice, from: number, { edit }: Emendation): Run {
  let at = from
  let out = voice.signs.slice(from, from + edit.out.length)
  let now = withFreeIds(page, { out, in: edit.in })
  while (out.length > 0 && now.length > 0 && same(out[0]!, now[0]!)) {
    at++
    out = out.slice(1)
    now = now.slice(1)
  }
  while (out.length > 0 && now.length > 0 && same(out.at(-1)!, now.at(-1)!)) {
    out = out.slice(0, -1)
    now = now.slice(0, -1)
  }
  if (now.length > 0) return { at, out, in: now }
  const before = voice.signs[at - 1]
  const after = voice.signs[at + out.length]
  if (before && lasts(before)) return { at: at - 1, out: [before, ...out], in: [before] }
  return after ? { at, out: [...out, after], in: [after] } : { at, out, in: now }
}

const same = (a: Sign, b: Sign): boolean => a === b || JSON.stringify(a) === JSON.stringify(b)
const lasts = ({ kind }: Sign): boolean => kind === "note" || kind === "rest" || kind === "ligature"

const editorialOf = (kind: Editorial["kind"], { who, why }: Hand): Editorial => ({
  kind,
  ...(who !== undefined && { resp: who }),
  ...(why !== undefined && { reason: why }),
})

const supplied = (run: Run, hand: Hand): Sign[] =>
  run.in.map(sign => ({ ...sign, editorial: editorialOf("supplied", hand) }))
const corrected = (run: Run, hand: Hand): Sign[] =>
  run.in.map(sign => ({ ...sign, editorial: editorialOf("corr", hand) }))

function renamed(sign: Sign, id: (old: SignId) => SignId): Sign {
  const copy = { ...sign, id: id(sign.id) }
  if (copy.kind !== "ligature") return copy
  return { ...copy, members: copy.members.map(member => renamed(member, id)) as typeof copy.members }
}

/** Supplied signs keep their ids unless another emendation has used them since. */
function withFreeIds(page: Page, { out, in: now }: Pick<Run, "out" | "in">): Sign[] {
  const own = new Set([...everySign(out)].map(sign => sign.id))
  const taken = new Set<SignId>()
  for (const { signs } of [...page.voices, ...page.alternatives])
    for (const sign of everySign(signs)) taken.add(sign.id)
  const id = idGiver(page, "supplied-")
  return now.map(sign => renamed(sign, old => (taken.has(old) && !own.has(old) ? id() : old)))
}

/** What stood there, under ids of its own: those of the page stay with the signs that are chosen. */
function sicOf(page: Page, voice: Voice, run: Run, chosen: readonly Sign[]): Alternative {
  const id = idGiver(page, "sic-")
  const own = id()
  return {
    id: own,
    voice: voice.id,
    what: "sic",
    insteadOf: chosen.map(sign => sign.id),
    editorial: { kind: "rdg" },
    signs: run.out.map(sign => renamed(sign, id)),
  }
}

/** Another reading in the file that stands for some of these signs, but not for just these. */
function clash(page: Page, run: Run): Alternative | undefined {
  if (run.out.length === 0) return undefined
  const ids = new Set<SignId>([...everySign(run.out)].map(sign => sign.id))
  return page.alternatives.find(({ insteadOf }) => insteadOf.some(id => ids.has(id)))
}

function withoutLostDecisions(page: Page): Page {
  if (page.decisions === undefined) return page
  const standing = new Set(page.voices.flatMap(voice => [...everySign(voice.signs)].map(sign => sign.id)))
  const decisions = page.decisions.filter(one => standing.has(one.sign))
  const { decisions: _, ...rest } = page
  return decisions.length > 0 ? { ...rest, decisions } : rest
}

const lineOf = ({ place, before, after, why }: Emendation, hand: Hand): ReportLine => ({
  place,
  source: before,
  done: after,
  why: hand.why ?? why,
})

/** "f. 3v, tenor, staff 2, sign 7: semibrevis c4; minima c4 (the voices meet only so)". */
export const showReportLine = ({ place, source, done: what, why }: ReportLine): string =>
  `${place}: the source has ${source}; here ${what} (${why})`

function outOfDate({ sign, place }: Emendation): Problem {
  return {
    code: "emendation-out-of-date",
    what: "The signs that the emendation is about no longer stand together as they did.",
    where: { sign, place },
    mend: "Let the emendations be found again on the page as it is now.",
    severity: "error",
  }
}

function taken({ sign, place }: Emendation, other: Alternative): Problem {
  return {
    code: "other-reading-there",
    what: `Another reading (${other.what}, “${other.id}”) stands beside some of these signs already.`,
    where: { sign, place },
    mend: "Settle that reading in the file first, or make this change by hand.",
    severity: "error",
  }
}
