/** For tests: whether proposals find a planted slip, and whether the first of them mends it. */
import type { SignId, VoiceId } from "../../../base/index.js"
import { toText } from "../../../base/index.js"
import type { Page, Voice } from "../../../page/index.js"
import type { Random } from "../../../reading/testing/random.js"
import type { SignReading } from "../../../reading/index.js"
import { readTogether, type Together } from "../../read-together.js"
import { figuresOf } from "../figures.js"
import { changed } from "../changed-page.js"
import type { Emendation, EmendationKind, Proposal } from "../types.js"
import { plantSlip, type Slip } from "./slips.js"

/** A sound page with its reading. */
export interface Sound {
  readonly page: Page
  readonly together: Together
}

export interface Planted extends Slip {
  /** The page with the slip, read together. */
  readonly together: Together
  /** The voices no longer meet, or the whole has become dearer by more than sound pieces differ: it leaves a trace. */
  readonly felt: boolean
}

export interface Judgement {
  /** The true place, within three signs, is among the first three proposals. */
  readonly near: boolean
  /**
   * The first proposal mends it: all that is left of the old signs is sung when it was, as long and as high as it was; or
   * the voice sounds as it did (which of several notes of one pitch was lost, nobody hears). For a passage that is lost, whose notes nobody can know: its time supplied (by a gap, or one long note) within three signs
   * of its place, so that the voices meet.
   */
  readonly right: boolean
  /**
   * The first proposal is right, or does as well for all that stands elsewhere: all voices meet, and every note and rest but those
   * within three signs of a slip in one or two signs is sung when, as long and as high as it was. So a lost note's time may
   * have gone to its neighbour. A slip in more signs is not judged so: what would be left of it to compare?
   */
  readonly restored: boolean
  /** Nothing was proposed. */
  readonly silent: boolean
}

/** Signs by which a place may be missed; proposals that are looked at. */
const WITHIN = 3
const FIRST = 3
/** Costs of readings that differ by no more are not told apart (as `LEAST_EVIDENCE`). */
const FELT = 5.5
const TRIES = 8

export const soundOf = (page: Page): Sound => ({ page, together: readTogether(page) })

/** A slip of the kind that makes the page read otherwise; undefined where none does. */
export function plantOne({ page, together }: Sound, kind: EmendationKind, random: Random): Planted | undefined {
  const plain = ({ id }: Voice): boolean => {
    const reading = together.readings.find(one => one.voice === id)!
    return reading.unit === "tempus" || reading.practice.options["minims"] === "unwritten"
  }
  for (let i = 0; i < TRIES; i++) {
    const slip = plantSlip(page, kind, random, plain)
    if (slip === undefined) continue
    const after = readTogether(slip.page)
    if (sung(together, slip.voice) === sung(after, slip.voice)) continue
    return { ...slip, together: after, felt: isFelt(together, after) }
  }
  return undefined
}

/** Fewer voices meet than before, or the whole is dearer by more than sound pieces differ. */
const isFelt = (before: Together, after: Together): boolean =>
  after.meeting.length < before.meeting.length || after.inFull - before.inFull > FELT

/** Whether a slip that was planted beside another leaves a trace by itself in the sound page. */
export function leavesTraceAlone({ page, together }: Sound, { voice, edit }: Planted): boolean {
  const spoiled = changed(page, voice, edit)
  return spoiled !== undefined && isFelt(together, readTogether(spoiled))
}

/** What a voice sings, sign by sign: onsets, durations, pitches. */
function sung({ readings }: Together, voice: VoiceId, without: ReadonlySet<SignId> = new Set()): string {
  return readings
    .find(one => one.voice === voice)!
    .signs.filter(sign => (sign.kind === "note" || sign.kind === "rest") && !without.has(sign.id))
    .map(sign => `${sign.kind} ${toText(sign.onset)} ${toText(sign.duration)} ${sign.pitch}`)
    .join("; ")
}

export function judge(sound: Sound, slip: Planted, { emendations }: Proposal, step = 1): Judgement {
  const own = emendations.filter(one => one.step === step)
  const best = own[0]
  const right = best !== undefined && mends(sound, slip, best)
  return {
    near: own.slice(0, FIRST).some(one => isNear(slip, one)),
    right,
    restored: right || (best !== undefined && restores(sound, slip, best)),
    silent: own.length === 0,
  }
}

/** Whether the emendation changes something within three signs of the slip. */
export function isNear(slip: Planted, { edit, sign }: Emendation): boolean {
  if (edit.voice !== slip.voice) return false
  const voice = slip.page.voices.find(one => one.id === slip.voice)!
  const figures = figuresOf(voice)
  const top = voice.signs.findIndex(
    one => one.id === sign || (one.kind === "ligature" && one.members.some(({ id }) => id === sign)),
  )
  const exact = figures.findIndex(figure => figure.sign.id === sign || figure.dot?.id === sign)
  const at = exact >= 0 ? exact : figures.findIndex(figure => figure.top >= top)
  return at >= slip.from - WITHIN && at <= slip.to + WITHIN
}

export function mends({ page, together }: Sound, slip: Planted, emendation: Emendation): boolean {
  const { edit, kind } = emendation
  if (slip.kind === "passage-missing")
    return (kind === slip.kind || kind === "note-missing") && emendation.meets && isNear(slip, emendation)
  const after = edit.voice === slip.voice ? changed(slip.page, edit.voice, edit) : undefined
  if (after === undefined) return false
  const ids = (one: Page): Set<SignId> =>
    new Set(
      one.voices.filter(({ id }) => id === slip.voice).flatMap(voice => figuresOf(voice).map(({ sign }) => sign.id)),
    )
  const [before, spoiled, now] = [ids(page), ids(slip.page), ids(after)]
  // What the scribe left out cannot be heard again, and what stands in for it need not sound like it; a copy that was
  // taken out may be either of the two.
  const lost = new Set([...before].filter(id => !spoiled.has(id)))
  const supplied = new Set([...now].filter(id => !spoiled.has(id)))
  const read = readTogether(after)
  if (sung(together, slip.voice, lost) === sung(read, slip.voice, supplied)) return true
  const [missing, more] = [...lost].map(id => signOf(together, id))
  return heard(together, slip.voice) === heard(read, slip.voice, supplied, more ? undefined : missing?.pitch)
}

/** Whether all voices meet and all that stands further than three signs from the slip is sung as it was. */
export function restores({ page, together }: Sound, slip: Planted, { edit, meets }: Emendation): boolean {
  if (!meets || slip.to - slip.from > 1 || slip.kind === "pitch-shifted") return false
  const after = changed(slip.page, edit.voice, edit)
  if (after === undefined) return false
  const spot = figuresOf(slip.page.voices.find(one => one.id === slip.voice)!)
    .slice(Math.max(0, slip.from - WITHIN), slip.to + WITHIN + 1)
    .map(({ sign }) => sign.id)
  // what stands in one of the two only was lost, or is supplied
  const idsOf = (one: Page): SignId[] => one.voices.flatMap(voice => figuresOf(voice).map(({ sign }) => sign.id))
  const [was, is] = [new Set(idsOf(page)), new Set(idsOf(after))]
  const without = new Set([...spot, ...[...was].filter(id => !is.has(id)), ...[...is].filter(id => !was.has(id))])
  const read = readTogether(after)
  return page.voices.every(({ id }) => sung(together, id, without) === sung(read, id, without))
}

const signOf = ({ readings }: Together, id: SignId): SignReading =>
  readings.flatMap(one => one.signs).find(one => one.id === id)!

/**
 * What is heard of a voice: notes of one pitch that follow each other, and rests, run together, so that it does not matter
 * which of several like notes was lost or doubled. A note that is supplied sounds like the one that was lost.
 */
function heard(
  { readings }: Together,
  voice: VoiceId,
  supplied: ReadonlySet<SignId> = new Set(),
  lost?: string | null,
): string {
  const changes: { readonly at: string; readonly pitch: string }[] = []
  for (const sign of readings.find(one => one.voice === voice)!.signs) {
    if ((sign.kind !== "note" && sign.kind !== "rest") || sign.duration.num <= 0) continue
    const own = supplied.has(sign.id) && lost ? lost : sign.pitch
    const pitch = sign.kind === "note" ? String(own) : "silence"
    if (changes.at(-1)?.pitch !== pitch) changes.push({ at: toText(sign.onset), pitch })
  }
  const last = readings.find(one => one.voice === voice)!.signs.findLast(sign => sign.duration.num > 0)
  return `${changes.map(({ at, pitch }) => `${at} ${pitch}`).join("; ")} until ${last ? toText(last.onset) : 0}`
}
