/** One voice read by itself: cut into stretches, laid into its perfections, decided. And read again after an edit. */
import { flatSigns, type FlatSign, type Page, type Voice } from "../page/index.js"
import { assemble, type SettledStretch } from "./assemble.js"
import { canonOf } from "./canon.js"
import { commonEnds, flatAgain, NO_ENDS, sameFlat, type Ends } from "./ends.js"
import { knownEntries, type KnownDecisions, type KnownEntries } from "./known-entries.js"
import { layStretch, LONGEST_KEPT } from "./lay-stretch.js"
import { bearsOnPitches } from "./pitches.js"
import { cutAgain, type KeptCut } from "./recut.js"
import { strayDecisions, withPageOptions } from "./rulings.js"
import { isRuled, withRulesOf } from "./rules-alone.js"
import { underSign } from "./under-sign.js"
import { readAlike } from "./same-options.js"
import { choosePractice, type Chosen, type ReadOptions } from "./settings.js"
import { Settler, type Settled } from "./settle.js"
import type { Cut } from "./stretches.js"
import { traitsOf } from "./traits.js"
import type { Reading, SignReading } from "./types.js"
import { keptOf, planVoice, type VoiceHabits } from "./voice-plans.js"

/** What a reading was made from, kept beside it so that an edit need not read everything again. A cache, nothing more. */
interface Workings {
  readonly options: ReadOptions
  readonly voice: Voice
  readonly flat: readonly FlatSign[]
  readonly cut: Cut
  readonly chosen: Chosen
  readonly settled: readonly SettledStretch[]
  readonly habits: VoiceHabits
  /** Its entries before anything was said of them that takes the whole voice into account. */
  readonly signs: readonly SignReading[]
}
const workings = new WeakMap<Reading, Workings>()

/** Every voice of the page read by itself. */
export function readPage(page: Page, options: ReadOptions = {}): Reading[] {
  const own = withPageOptions(page, options)
  return withStrays(
    page,
    page.voices.map(voice => readVoice(voice, own)),
  )
}

/** Decisions on signs that no voice has are told of with the first voice. */
export function withStrays(page: Page, readings: readonly Reading[]): Reading[] {
  const strays = strayDecisions(page)
  const [first, ...others] = readings
  if (strays.length === 0 || first === undefined) return [...readings]
  const told = { ...first, problems: [...first.problems, ...strays] }
  passOn(first, told)
  return [told, ...others]
}

/** What is kept beside a reading holds of the same reading told with more. */
function passOn(reading: Reading, told: Reading): void {
  const kept = workings.get(reading)
  if (kept !== undefined) workings.set(told, kept)
  const unruled = unruledOf.get(reading)
  if (unruled !== undefined) unruledOf.set(told, unruled)
}

/** A voice read by itself, with all it was decided from, so that the voices can be read together. */
export interface WorkedVoice {
  readonly voice: Voice
  readonly reading: Reading
  readonly flat: readonly FlatSign[]
  readonly chosen: Chosen
  readonly cut: Cut
  /** Each block with its lattice. */
  readonly settled: readonly SettledStretch[]
}

/** By what a voice was worked. */
const workedBy = new WeakMap<WorkedVoice, ReadOptions>()

/** Reads the voice by itself and keeps the lattice; what stands unaltered since `before` is not worked out again. */
export function workVoice(voice: Voice, options: ReadOptions, before?: WorkedVoice): WorkedVoice {
  const known = before?.voice === voice ? workedBy.get(before) : undefined
  if (before !== undefined && known !== undefined && readAlike(voice, known, options)) return before
  const { reading, ...worked } = work(voice, options, before && workings.get(before.reading), true)
  const all = { voice, ...worked, reading: withRules(voice, options, { reading, ...worked }, before?.reading) }
  workedBy.set(all, options)
  return all
}

/** The voice with other decisions, made for its blocks in view of the other voices. */
export function toldAnew(worked: WorkedVoice, blocks: readonly (readonly Settled[])[]): Reading {
  const { voice, flat, chosen, cut } = worked
  const settled = worked.settled.map((one, i) => ({
    ...one,
    blocks: blocks[i]!,
    decisions: blocks[i]!.flatMap(block => block.decisions),
  }))
  const reading = withCanonOf(worked.reading, assemble(voice, flat, chosen, cut, settled).reading)
  const alone = unruledOf.get(worked.reading)
  return alone === undefined ? reading : { ...reading, signs: withRulesOf(reading, alone) }
}

/** The voice read by itself, whatever stands beside it. Whatever the signs are, it gives an entry for each and does not throw. */
export function readVoice(voice: Voice, options: ReadOptions = {}): Reading {
  return withRules(voice, options, work(voice, options, undefined, false))
}

/** The voice after an edit: the same as `readVoice(voice, options)`, but only what the edit can touch is worked out again. */
export function rereadVoice(before: Reading, voice: Voice, options: ReadOptions = {}): Reading {
  return withRules(voice, options, work(voice, options, workings.get(before), false), before)
}

/**
 * The lattice of a voice by itself, without telling what it decides: for trying many small changes, each laid against the
 * other voices. `reading` is that of `before`, and so is all that a change of signs does not touch.
 */
export function layVoice(voice: Voice, options: ReadOptions, before: WorkedVoice): WorkedVoice {
  const { flat, chosen, cut, settled } = lay(
    voice,
    options,
    workings.get(before.reading),
    new Settler(true, true),
    true,
  )
  return { voice, reading: before.reading, flat, chosen, cut, settled }
}

function work(
  voice: Voice,
  options: ReadOptions,
  before: Workings | undefined,
  keep: boolean,
): Omit<WorkedVoice, "voice"> {
  const laid = lay(voice, options, before, new Settler(keep))
  const { flat, chosen, cut, settled } = laid
  const { reading: told, plain: signs } = assemble(voice, flat, chosen, cut, settled, entriesKnown(laid))
  const reading = withCanon(told, voice, flat, chosen, options)
  if (flat.length <= LONGEST_KEPT)
    workings.set(reading, { options, voice, flat, cut, chosen, settled, habits: laid.habits, signs })
  return { reading, flat, chosen, cut, settled }
}

/** The reading with what its canon asks for. */
function withCanon(
  reading: Reading,
  voice: Voice,
  flat: readonly FlatSign[],
  chosen: Chosen,
  options: ReadOptions,
): Reading {
  const { canon, problems } = canonOf(voice, flat, chosen, reading, sign =>
    readVoice(underSign(voice, sign), {
      ...options,
      decisions: undefined,
      pageDecisions: options.pageDecisions?.filter(one => one.dot !== undefined),
    }),
  )
  if (!canon && problems.length === 0) return reading
  return { ...reading, problems: [...reading.problems, ...problems], ...(canon && { canon }) }
}

/** The voice's reading anew: what its canon asks for is the same. */
function withCanonOf({ canon, problems }: Reading, anew: Reading): Reading {
  const told = problems.filter(({ code }) => code.startsWith("canon-"))
  if (!canon && told.length === 0) return anew
  return { ...anew, problems: [...anew.problems, ...told], ...(canon && { canon }) }
}

/** A voice laid into its perfections; what it was before the edit, if it was read by the same rules, and how much of that is kept. */
interface Laid extends Pick<WorkedVoice, "flat" | "chosen" | "cut" | "settled"> {
  readonly before?: Workings | undefined
  readonly habits: VoiceHabits
  /** Signs in common. */
  readonly ends: Ends
  readonly kept?: KeptCut | undefined
  readonly known: readonly (KnownDecisions | undefined)[]
}

/** `steady`: the scribe's habits are taken from before. */
function lay(
  voice: Voice,
  options: ReadOptions,
  earlier: Workings | undefined,
  settler: Settler,
  steady = false,
): Laid {
  const flat = earlier ? flatAgain(voice.signs, { signs: earlier.voice.signs, flat: earlier.flat }) : flatSigns(voice)
  const chosen = choosePractice(voice, flat, options)
  const before = earlier !== undefined && sameRules(earlier.chosen, chosen) ? earlier : undefined
  const ends = before === undefined ? NO_ENDS : commonEnds(before.flat, flat, sameFlat)
  const same = before !== undefined && cutAlike(before, chosen, options)
  const { cut: anew, kept } = cutAgain(flat, chosen, options, same ? { ...before, ends } : undefined)
  const { cut, plans, habits } = planVoice(anew, chosen, before && { ...before, kept }, {
    steady,
    together: settler.keep,
  })
  const laid = cut.stretches.map((stretch, i) => {
    const own = keptOf(kept, i)
    const [next, plan] = [cut.stretches[i + 1], plans[i]]
    return layStretch({ stretch, next, chosen, settler, own, old: before?.settled[own.of], plan })
  })
  return {
    flat,
    chosen,
    cut,
    settled: laid.map(one => one.settled),
    habits,
    before,
    ends,
    kept,
    known: laid.map(one => one.known),
  }
}

/** Which of the entries before still hold. */
function entriesKnown({ flat, chosen, cut, settled, before, ends, kept, known }: Laid): KnownEntries | undefined {
  if (before === undefined) return undefined
  const changed = (all: readonly FlatSign[]): boolean =>
    all.slice(ends.head, all.length - ends.tail).some(bearsOnPitches)
  const soundAnew = changed(before.flat) || changed(flat)
  // signs without an entry of their own, as an accidental, stand between entries that are all the same
  if (soundAnew && kept === undefined) return undefined
  const both = { before, cut, settled, known, byTempus: chosen.practice.unit === "tempus" }
  return { ...knownEntries(both, kept), soundAnew }
}

function sameRules(a: Chosen, b: Chosen): boolean {
  const alike = Object.keys(a.settings).every(name => a.settings[name] === b.settings[name])
  return alike && a.practice === b.practice && a.inferred.has("breveDivision") === b.inferred.has("breveDivision")
}

/** Whether by these options each sign makes the figure it made before. */
const cutAlike = ({ chosen, options }: Workings, now: Chosen, other: ReadOptions): boolean =>
  (options.ignoreGiven ?? false) === (other.ignoreGiven ?? false) &&
  options.shapes === other.shapes &&
  supposed(chosen, options) === supposed(now, other)

const supposed = ({ divisions, canon, scaled }: Chosen, { gaps }: ReadOptions): string =>
  JSON.stringify([divisions, canon, scaled, gaps && [...gaps]])

/** Readings by the rules alone, kept beside those that explicit durations and decisions made. */
const unruledOf = new WeakMap<Reading, Reading>()

/** Beside explicit durations and decisions, what the rules alone would have said. */
function withRules(
  voice: Voice,
  options: ReadOptions,
  { reading, flat, cut }: Pick<WorkedVoice, "reading" | "flat" | "cut">,
  before?: Reading,
): Reading {
  const may = cut.ruled || (options.ignoreGiven !== true && traitsOf(flat).given)
  if (!may || !reading.signs.some(isRuled)) return reading
  const base = before && workings.get(unruledOf.get(before) ?? before)
  const rulesOnly = { ...options, ignoreGiven: true, decisions: undefined, pageDecisions: undefined }
  const { reading: alone } = work(voice, rulesOnly, base, false)
  const told = { ...reading, signs: withRulesOf(reading, alone) }
  passOn(reading, told)
  unruledOf.set(told, alone)
  return told
}
