/** Proposed accidentals as data for other programs (docs/json.md tells it member by member). */
import { toText, type Problem, type SignId } from "../../base/index.js"
import type { Ficta, FictaOpen, FictaProposal } from "../../ficta/index.js"
import { shortPlace, type Page } from "../../page/index.js"
import type { Score } from "../../score/index.js"
import { type Json, problemsMember, unreadable } from "./common.js"

export const FICTA_FORMAT = "resolutio-ficta"
export const FICTA_VERSION = 1

/** The object that `resolutio ficta --format json` prints. */
export function fictaJson(page: Page, score: Score, ficta: Ficta, problems: readonly Problem[] = []): Json {
  const signOf = new Map<SignId, SignId>()
  for (const { events } of score.voices)
    for (const event of events) if (event.kind === "note") signOf.set(event.id, event.sign)
  const sign = (note: SignId | null): string | null => (note === null ? null : (signOf.get(note) ?? note))
  const place = ({ sign, voice, onset, rule, interval }: FictaOpen | FictaProposal): Json => ({
    sign,
    place: shortPlace(page, sign) ?? sign,
    voice: score.voices[voice]?.n ?? String(voice + 1),
    onset: toText(onset),
    rule,
    interval,
  })
  return {
    format: FICTA_FORMAT,
    version: FICTA_VERSION,
    title: page.title,
    unit: score.unit,
    proposals: ficta.proposals.map((one, at) => ({
      number: at + 1,
      ...place(one),
      against: sign(one.against),
      accidental: one.accidental,
      grade: one.grade,
      cause: one.cause,
      reason: one.reason,
      source: `${one.source.treatise}, ${one.source.place}`,
      with: one.with.map(note => sign(note)!),
    })),
    open: ficta.open.map(one => ({ ...place(one), against: sign(one.against), reason: one.reason })),
    ...problemsMember(problems),
  }
}

/** In its place, for a file that could not be read. */
export const unreadableFictaJson = (file: string, problems: readonly Problem[]): Json =>
  unreadable(FICTA_FORMAT, FICTA_VERSION, file, problems)
