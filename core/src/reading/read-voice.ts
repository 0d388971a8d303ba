/** One voice read by itself: cut into stretches, laid into its perfections, decided. And read again after an edit. */
import { equals } from "../base/index.js"
import { flatSigns, type FlatSign, type Page, type Voice } from "../page/index.js"
import { assemble, type SettledStretch } from "./assemble.js"
import { canonOf } from "./canon.js"
import type { Decided } from "./choices.js"
import type { KnownEntry } from "./decide.js"
import { Lattice } from "./lattice.js"
import { State, stateAs, type LatticeInput } from "./lattice-parts.js"
import { knownBlocks, type KnownBlocks } from "./reuse.js"
import { BEAM, WIDE_BEAM } from "./nodes.js"
import { countRuns } from "./runs.js"
import { strayDecisions, withPageOptions } from "./rulings.js"
import { underSign } from "./under-sign.js"
import { readAlike } from "./same-options.js"
import { planGroups } from "./semibreve-plan.js"
import { choosePractice, type Chosen, type ReadOptions } from "./settings.js"
import { Settler, type Settled } from "./settle.js"
import { cutVoice, type Cut, type Stretch } from "./stretches.js"
import type { Reading, SignReading } from "./types.js"

/** What a reading was made from, kept beside it so that an edit need not read everything again. A cache, nothing more. */
interface Workings {
  readonly chosen: Chosen
  readonly settled: readonly SettledStretch[]
  /** Entries of notes and rests, by stretch and figure. */
  readonly entries: readonly (readonly SignReading[])[]
}
/** Workings of longer voices are let go: they would outweigh the readings. */
const LONGEST_KEPT = 30_000
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
  if (before !== undefined && known !== undefined && readAlike(voice.id, known, options)) return before
  const { reading, ...worked } = work(voice, options, before && workings.get(before.reading), true)
  const all = { voice, ...worked, reading: withRules(voice, options, reading, before?.reading) }
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
  return withRules(voice, options, read(voice, options, undefined))
}

/** The voice after an edit: the same as `readVoice(voice, options)`, but only what the edit can touch is worked out again. */
export function rereadVoice(before: Reading, voice: Voice, options: ReadOptions = {}): Reading {
  return withRules(voice, options, read(voice, options, workings.get(before)), before)
}

const read = (voice: Voice, options: ReadOptions, before: Workings | undefined): Reading =>
  work(voice, options, before, false).reading

/**
 * The lattice of a voice by itself, without telling what it decides: for trying many small changes, each laid against the
 * other voices. `reading` is that of `before`, and so is all that a change of signs does not touch.
 */
export function layVoice(voice: Voice, options: ReadOptions, before: WorkedVoice): WorkedVoice {
  const { flat, chosen, cut, settled } = lay(voice, options, workings.get(before.reading), new Settler(true, true))
  return { voice, reading: before.reading, flat, chosen, cut, settled }
}

function work(
  voice: Voice,
  options: ReadOptions,
  before: Workings | undefined,
  keep: boolean,
): Omit<WorkedVoice, "voice"> {
  const { flat, chosen, cut, settled, known, usable } = lay(voice, options, before, new Settler(keep))
  const kept = usable === undefined ? undefined : oldEntries(usable, settled, known)
  const made = assemble(voice, flat, chosen, cut, settled, kept)
  const reading = withCanon(made.reading, voice, flat, chosen, options)
  const { entries } = made
  if (flat.length <= LONGEST_KEPT) workings.set(reading, { chosen, settled, entries })
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

function lay(voice: Voice, options: ReadOptions, before: Workings | undefined, settler: Settler) {
  const flat = flatSigns(voice)
  const chosen = choosePractice(voice, flat, options)
  const cut = cutVoice(flat, chosen, options)
  const usable = before !== undefined && sameRules(before.chosen, chosen) ? before : undefined
  const known = cut.stretches.map((): KnownBlocks | undefined => undefined)
  const settled = cut.stretches.map((stretch, i) => {
    const input = latticeInput(stretch, cut.stretches[i + 1], chosen, settler.keep ? WIDE_BEAM : BEAM)
    const old = usable?.settled[i]
    if (old !== undefined) known[i] = knownBlocks(old, stretch, input)
    return settleStretch(input, stretch, known[i], settler)
  })
  return { flat, chosen, cut, settled, known, usable }
}

/** For a decision that was kept and stands far from the change, the entry it had. */
function oldEntries(
  before: Workings,
  settled: readonly SettledStretch[],
  known: readonly (KnownBlocks | undefined)[],
): KnownEntry {
  return (stretch, figure) => {
    const at = known[stretch]?.was(figure) ?? -1
    if (at < 0) return undefined
    const old = before.settled[stretch]!
    return old.decisions[at] === settled[stretch]!.decisions[figure] ? before.entries[stretch]![at] : undefined
  }
}

function sameRules(a: Chosen, b: Chosen): boolean {
  return a.practice === b.practice && Object.keys(a.settings).every(name => a.settings[name] === b.settings[name])
}

function settleStretch(
  input: LatticeInput,
  stretch: Stretch,
  known: KnownBlocks | undefined,
  settler: Settler,
): SettledStretch {
  const blocks: Settled[] = []
  const decisions: Decided[] = []
  // of a long voice, whose workings are let go, only blocks with other ways through them, and the last, are asked about
  const light = stretch.figures.length > LONGEST_KEPT && !settler.keep
  const take = (block: Settled): void => {
    for (const one of block.decisions) decisions.push(one)
    if (light && blocks.length > 0 && blocks.at(-1)!.paths.length === 0) blocks.pop()
    blocks.push(light ? { ...block, decisions: NO_DECISIONS } : block)
  }
  if (stretch.figures.length > 0) walk(input, known, settler, take)
  return { stretch, blocks, decisions, endsAtSign: input.endsAtSign, ...(input.plan && { plan: input.plan }) }
}

const NO_DECISIONS: readonly Decided[] = []

/** Gives the blocks of a stretch in order, those that are known already among them. */
function walk(
  input: LatticeInput,
  known: KnownBlocks | undefined,
  settler: Settler,
  take: (block: Settled) => void,
): void {
  known?.before.forEach(take)
  const start = known?.before.at(-1)?.end
  const from = start === undefined ? new State(0, 0, 0, -1, 0, 0) : stateAs(start)
  if (from.node >= input.figures.length) return
  const end = new Lattice(input, block => take(settler.settle(block))).run(from, known?.starts)
  if (end.node < input.figures.length) known!.after(end.node).forEach(take)
}

function latticeInput(stretch: Stretch, next: Stretch | undefined, chosen: Chosen, beam: number): LatticeInput {
  const { practice, settings } = chosen
  const plan = planGroups(stretch.figures, practice, settings, !chosen.inferred.has("breveDivision"))
  const input = {
    practice,
    settings,
    mensuration: stretch.mensuration,
    figures: stretch.figures,
    endsAtSign: next !== undefined,
    beam,
    plan,
  }
  countRuns(input)
  return input
}

/** Readings by the rules alone, kept beside those that explicit durations and decisions made. */
const unruledOf = new WeakMap<Reading, Reading>()

/** Beside explicit durations and decisions, what the rules alone would have said. */
function withRules(voice: Voice, options: ReadOptions, reading: Reading, before?: Reading): Reading {
  if (!reading.signs.some(isRuled)) return reading
  const base = before && workings.get(unruledOf.get(before) ?? before)
  const alone = read(voice, { ...options, ignoreGiven: true, decisions: undefined, pageDecisions: undefined }, base)
  const told = { ...reading, signs: withRulesOf(reading, alone) }
  passOn(reading, told)
  unruledOf.set(told, alone)
  return told
}

const isRuled = ({ decidedBy, refused }: SignReading): boolean =>
  decidedBy === "given" || decidedBy === "decision" || refused !== undefined

/** The signs with what `alone` says of those that something else decided: themselves, or the mark after them. */
function withRulesOf({ signs }: Reading, alone: Reading): SignReading[] {
  const told = [...signs]
  let last = -1
  signs.forEach((sign, i) => {
    const other = alone.signs[i]
    if (sign.number > 0) last = i
    if (other === undefined || !isRuled(sign)) return
    if (sign.number === 0 && other.takenFor !== undefined && other.takenFor !== sign.takenFor)
      told[i] = { ...sign, rulesTakeFor: other.takenFor }
    const at = sign.number === 0 ? last : i
    const before = alone.signs[at]
    if (before !== undefined && !equals(before.duration, told[at]!.duration))
      told[at] = { ...told[at]!, rulesSay: before.duration }
  })
  return told
}
