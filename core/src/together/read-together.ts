/** All voices of a page read together: what one leaves open the others decide, where they can. */
import { equals, type Rational, type SignId, type VoiceId } from "../base/index.js"
import { MISSED_MEETING } from "../counterpoint/index.js"
import type { Page } from "../page/index.js"
import { workVoice, withStrays, type WorkedVoice } from "../reading/read-voice.js"
import { withPageOptions } from "../reading/rulings.js"
import type { AssumedChange, ReadOptions } from "../reading/settings.js"
import type { Reading } from "../reading/types.js"
import { withOtherColours } from "./colours.js"
import { echoesOf, echoKey, otherEndings } from "./echoes.js"
import type { SungSoFar } from "./ensemble.js"
import { gapsOf } from "./gaps.js"
import { allMeet, heard, hearingInSteps, sounding, type Heard, type Once } from "./hearing.js"
import { hardlyMeet, withModusLeft, withPassagesOf } from "./leaving-modus.js"
import { meetingCost } from "./meeting-cost.js"
import { readInOther, withDoubts } from "./mensuration/doubts.js"
import { assumedFor } from "./mensuration/find.js"
import { withMensurationsTold } from "./mensuration/told.js"
import { withOtherSignTold } from "./other-sign.js"
import { disagreements, expectedByRepeats } from "./repeats.js"
import { scalesWanted, withScaleTold } from "./scaled.js"
import { otherOptions, sharedOf, sharedOptions } from "./shared.js"
import { underColours } from "./under-colours.js"
import { withUndecided } from "./undecided.js"
import { gapsBetween, heardAtAGlance, withGapsTold } from "./with-gaps.js"

export interface Together {
  /** In the page's order. */
  readonly readings: readonly Reading[]
  /** Natural logarithm of odds of the whole, rules, intervals and partings: lower is likelier. */
  readonly cost: number
  /** The same with intervals counting in full, however far those of this page may be trusted: for comparing it with another page. */
  readonly inFull: number
  /** Voices that meet at their finals. */
  readonly meeting: readonly VoiceId[]
  /** What each voice was decided from, for reading again after an edit. */
  readonly worked: readonly WorkedVoice[]
  /** What was found out of voices that do not state their practice or mensuration. */
  readonly assumed: NonNullable<ReadOptions["assumed"]>
}

type Worked = Pick<Together, "worked">

/** Reads all voices of the page together; after an edit give what was read before, so that less is worked out again. */
export function readTogether(page: Page, options: ReadOptions = {}, before?: Together): Together {
  const assumed = assumedBy(page, options, before)
  // those who read again and again to try something have given what is shared, and ask for no more than the readings
  const all = { ...options, assumed }
  const best = readBest(page, all, before)
  // what came before is not held on to: it may hold on to what came before it
  const { worked } = best
  const tell = (doubted: Reading[]): Reading[] =>
    options.shared === undefined
      ? withUndecided(page, withSignsTold(page, best, doubted, all), all, one => readBest(one, all, { worked }))
      : doubted
  const others = options.shared === undefined ? othersOf(page, options, assumed) : undefined
  return toldOf(page, best, assumed, tell, others)
}

/** What the notes of each voice, and how it fits the others, say of its own signs. */
const withSignsTold = (page: Page, best: Once, readings: Reading[], options: ReadOptions): Reading[] =>
  withOtherSignTold(page, best, withMensurationsTold(page, readings, options), options)

/** How the voices would be read in another practice that may be meant. */
function othersOf(page: Page, options: ReadOptions, assumed: Together["assumed"]): readonly Reading[] | undefined {
  return readInOther(page, assumed, (one, there) => readBest(one, { ...options, assumed: there }).readings)
}

/**
 * The same in steps, for one who waits and may change the page meanwhile. Of a long piece it yields first what a narrow search
 * finds: a few notes are read otherwise when all has been searched. Where the voices do not meet it yields what they say when all
 * are heard at once. It yields the same again at each pause while it looks further. What it returns is what `readTogether` gives.
 */
export function* readingTogether(
  page: Page,
  options: ReadOptions = {},
  before?: Together,
): Generator<Together, Together, void> {
  const assumed = assumedBy(page, options, before)
  const worked = workedOf(page, { ...options, assumed }, before)
  const readings = worked.map(one => one.reading)
  const sung: SungSoFar = { echoes: echoesOf(page, readings), after: new Map() }
  const told = new Map<Heard, Together>()
  const tell = (heard: Heard): Together => {
    let known = told.get(heard)
    if (!known) told.set(heard, (known = toldOf(page, heard.once(), assumed, one => one)))
    return known
  }
  let first: Together | undefined
  // where parts are sung by several, or several times, what is heard depends on what is read: only the first round is told soon
  for (const heard of hearingInSteps(worked, new Map(), sung, true)) {
    if (!heard.isGlance) first ??= tell(heard)
    // where all meet, what is left to be told is soon told
    if (heard.isGlance || first!.meeting.length < sounding(worked).length) yield tell(heard)
  }
  return readTogether(page, { ...options, assumed }, first ?? before)
}

/** With the doubts of what was found out, with what `tell` adds, and with decisions on signs that are not there. */
function toldOf(
  page: Page,
  once: Once,
  assumed: Together["assumed"],
  tell: (readings: Reading[]) => Reading[],
  others?: readonly Reading[],
): Together {
  const readings = tell(once.readings.map((reading, v) => withDoubts(reading, assumed, others?.[v])))
  return { ...once, assumed, readings: page.decisions === undefined ? readings : withStrays(page, readings) }
}

const assumedBy = (page: Page, options: ReadOptions, before?: Together): Together["assumed"] =>
  options.assumed ?? (before && isUnaltered(page, before) ? before.assumed : assumedFor(page, options))

/** Only decisions may have changed: what was found out from the signs still holds. */
const isUnaltered = (page: Page, { worked }: Together): boolean =>
  page.voices.length === worked.length && page.voices.every((voice, i) => voice === worked[i]!.voice)

function readBest(page: Page, options: ReadOptions, before?: Worked): Once {
  const found = readWhole(page, options, before)
  if (!found.worked.some(one => gapsOf(one).length > 0)) return found
  const all = { ...options, shared: sharedOf(found.worked) }
  let { worked } = found
  const { gaps, by } = gapsBetween(found, options.gaps ?? new Map(), tried => {
    worked = workedOf(page, { ...all, gaps: tried }, { worked })
    const readings = worked.map(one => one.reading)
    return heardAtAGlance(worked, tried, { echoes: echoesOf(page, readings), after: new Map() })
  })
  return withGapsTold(gaps.size === 0 ? found : readWhole(page, { ...all, gaps }, { worked }), by)
}

function readWhole(page: Page, options: ReadOptions, before?: Worked): Once {
  const first = withRepeats(page, readOnce(page, options, before))
  const best = withColours(page, options, allMeet(first) ? first : withOtherOptions(page, options, first))
  const turned = options.modusKept === true ? best : withOtherModus(page, options, best)
  return allMeet(turned) ? turned : withScaled(page, options, turned)
}

/** A voice may leave its modus for a few longs; where a part of a voice is lost, lengths do not tell. */
function withOtherModus(page: Page, options: ReadOptions, first: Once): Once {
  if (first.worked.some(one => gapsOf(one).length > 0)) return first
  const own = withPageOptions(page, { ...options, shared: sharedOf(first.worked) })
  const asked = {
    work: (one: WorkedVoice, changes: readonly AssumedChange[]) =>
      workVoice(one.voice, { ...own, assumed: changedIn(own.assumed, one, changes) }, one),
    meeting: meetingCost,
    hear: (worked: readonly WorkedVoice[]) => together(page, worked),
  }
  if (page.decisions === undefined && options.decisions === undefined) return withModusLeft(first, asked)
  // what an editor decided may make a voice too long: that does not make it leave its modus elsewhere
  if (!hardlyMeet(first)) return first
  const { decisions: _, ...undecided } = page
  return withPassagesOf(readWhole(undecided, { ...options, decisions: undefined }), first, asked)
}

function changedIn(
  assumed: ReadOptions["assumed"],
  { voice, cut }: WorkedVoice,
  changes: readonly AssumedChange[],
): NonNullable<ReadOptions["assumed"]> {
  const { modusMaior, modusMinor, tempus, prolatio } = cut.stretches[0]!.measuring
  const before = assumed?.get(voice.id)
  const divisions = { doubt: 0, modusMaior, modusMinor, tempus, prolatio, ...before?.divisions, changes }
  return new Map([...(assumed ?? []), [voice.id, { ...before, divisions }]])
}

const readOnce = (page: Page, options: ReadOptions, before?: Worked): Once =>
  together(page, workedOf(page, options, before))

function workedOf(page: Page, options: ReadOptions, before?: Worked): WorkedVoice[] {
  const shared = options.shared ?? sharedOptions(page, options)
  const own = withPageOptions(page, { ...options, shared })
  return page.voices.map(voice =>
    workVoice(
      voice,
      own,
      before?.worked.find(one => one.voice.id === voice.id),
    ),
  )
}

/** Where the statements of a tenor disagree though they are written alike, they are made to agree if that costs little. */
function withRepeats(page: Page, first: Once): Once {
  const expected = expectedByRepeats(page, first.readings)
  if (expected === undefined) return first
  const other = together(page, first.worked, expected)
  const better = disagreements(page, other.readings) < disagreements(page, first.readings)
  return better && other.meeting.length >= first.meeting.length ? other : first
}

/** Options that are inferred may have been inferred wrongly, if the voices do not meet by them but by others. */
function withOtherOptions(page: Page, options: ReadOptions, first: Once): Once {
  let best = first
  for (const shared of otherOptions(first.worked)) {
    const other = readOnce(page, { ...options, shared })
    if (other.meeting.length > best.meeting.length) best = other
  }
  return best
}

/** Colour may mean something else in a voice than it usually does; where a part of a voice is lost, lengths do not tell. */
function withColours(page: Page, options: ReadOptions, first: Once): Once {
  if (first.worked.some(one => gapsOf(one).length > 0)) return first
  const own = withPageOptions(page, { ...options, shared: sharedOf(first.worked) })
  return withOtherColours(first, ({ colours, voice, before, least, bent }) => {
    const worked = underColours(before, voice, colours, own)
    if (worked.every((one, v) => lastAlike(one, before[v]!))) return undefined
    const [usual, other] = [before, worked].map(all => meetingCost(all, voice, least) ?? 0)
    return other! < Infinity && other! <= usual! + bent ? together(page, worked) : undefined
  })
}

const lastAlike = (one: WorkedVoice, other: WorkedVoice): boolean =>
  one.reading.signs.every((sign, i) => equals(sign.duration, other.reading.signs[i]!.duration))

/** A voice that would meet the others in other values than it is written in is read so, and that is told. */
function withScaled(page: Page, options: ReadOptions, first: Once): Once {
  const scaled = scalesWanted(first)
  if (scaled.size === 0) return first
  const other = readOnce(page, { ...options, shared: sharedOf(first.worked), scaled })
  // the place that is no longer missed is not enough: it must not sound worse either
  if (other.meeting.length <= first.meeting.length || other.cost + MISSED_MEETING > first.cost) return first
  const readings = other.readings.map((one, v) => withScaleTold(one, scaled.get(one.voice), first.worked[v]!))
  return { ...other, readings }
}

/** Times that the voices are heard anew because a part in canon is read otherwise than it was heard. */
const MOST_ROUNDS = 2

/** Parts that are sung by several voices or several times are heard as they are read; `echoesOf`. */
function together(page: Page, worked: readonly WorkedVoice[], expected?: ReadonlyMap<SignId, Rational>): Once {
  const first = heardWithEchoes(page, worked, expected, new Map())
  if (allMeet(first) || !worked.some(one => one.reading.canon)) return first
  let best = first
  for (const one of worked)
    for (const after of otherEndings(one)) {
      const other = heardWithEchoes(page, worked, expected, new Map([[one.voice.id, after]]))
      if (other.meeting.length > best.meeting.length) best = other
    }
  return best
}

function heardWithEchoes(
  page: Page,
  worked: readonly WorkedVoice[],
  expected: ReadonlyMap<SignId, Rational> = new Map(),
  after: ReadonlyMap<VoiceId, Rational>,
): Once {
  let echoes = echoesOf(
    page,
    worked.map(one => one.reading),
  )
  let found = heard(worked, expected, { echoes, after })
  for (let round = 0; round < MOST_ROUNDS && echoes.length > 0; round++) {
    const next = echoesOf(page, found.readings)
    if (echoKey(next) === echoKey(echoes)) break
    echoes = next
    found = heard(worked, expected, { echoes, after })
  }
  return found
}
