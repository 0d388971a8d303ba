/** One voice read by itself: cut into stretches, laid into its perfections, decided. And read again after an edit. */
import { equals } from "../base/index.js"
import { flatSigns, type Page, type Voice } from "../page/index.js"
import { assemble, type SettledStretch } from "./assemble.js"
import { Lattice } from "./lattice.js"
import { State, type LatticeInput } from "./lattice-parts.js"
import { knownBlocks, type KnownBlocks } from "./reuse.js"
import { countRuns } from "./runs.js"
import { planGroups } from "./semibreve-groups.js"
import { choosePractice, type Chosen, type ReadOptions } from "./settings.js"
import { settleBlock, type Decided, type Settled } from "./settle.js"
import { cutVoice, type Stretch } from "./stretches.js"
import type { Reading, SignReading } from "./types.js"

/** What a reading was made from, kept beside it so that an edit need not read everything again. A cache, nothing more. */
interface Workings {
  readonly chosen: Chosen
  readonly settled: readonly SettledStretch[]
  readonly entries: readonly SignReading[]
}
const workings = new WeakMap<Reading, Workings>()

/** Every voice of the page read by itself. */
export function readPage(page: Page, options: ReadOptions = {}): Reading[] {
  return page.voices.map(voice => readVoice(voice, options))
}

export function readVoice(voice: Voice, options: ReadOptions = {}): Reading {
  return withRules(voice, options, read(voice, options, undefined))
}

/** The voice after an edit: the same as `readVoice(voice, options)`, but only what the edit can touch is worked out again. */
export function rereadVoice(before: Reading, voice: Voice, options: ReadOptions = {}): Reading {
  return withRules(voice, options, read(voice, options, workings.get(before)))
}

function read(voice: Voice, options: ReadOptions, before: Workings | undefined): Reading {
  const flat = flatSigns(voice)
  const chosen = choosePractice(voice, flat, options)
  const cut = cutVoice(voice, flat, chosen, options)
  const usable = before !== undefined && sameRules(before.chosen, chosen) ? before : undefined
  const known = new Map<Decided, SignReading>()
  const settled = cut.stretches.map((stretch, i) => settleStretch(stretch, cut.stretches[i + 1], chosen, usable?.settled[i], entries => remember(entries, usable, known)))
  const { reading, entries } = assemble(voice, flat, chosen, cut, settled, known)
  workings.set(reading, { chosen, settled, entries })
  return reading
}

function sameRules(a: Chosen, b: Chosen): boolean {
  return a.practice === b.practice && Object.keys(a.settings).every(name => a.settings[name] === b.settings[name])
}

/** Entries of decisions that stay as they are. */
function remember(decided: readonly Decided[], before: Workings | undefined, known: Map<Decided, SignReading>): void {
  if (before === undefined || decided.length === 0) return
  const index = entryIndex(before)
  for (const one of decided) {
    const entry = index.get(one)
    if (entry !== undefined) known.set(one, entry)
  }
}

const entryIndexes = new WeakMap<Workings, Map<Decided, SignReading>>()
function entryIndex(before: Workings): Map<Decided, SignReading> {
  let index = entryIndexes.get(before)
  if (index !== undefined) return index
  index = new Map()
  const lasting = before.entries.filter(entry => entry.number > 0)
  let at = 0
  for (const { decisions } of before.settled) for (const one of decisions) index.set(one, lasting[at++]!)
  entryIndexes.set(before, index)
  return index
}

function settleStretch(stretch: Stretch, next: Stretch | undefined, chosen: Chosen, before: SettledStretch | undefined, keep: (decided: readonly Decided[]) => void): SettledStretch {
  const input = latticeInput(stretch, next, chosen)
  countRuns(input)
  const known = before === undefined ? undefined : knownBlocks(before, stretch, input)
  if (known !== undefined) keep(known.untouched)
  const blocks = stretch.figures.length > 0 ? walk(input, known) : []
  return { stretch, blocks, decisions: blocks.flatMap(block => block.decisions), endsAtSign: input.endsAtSign }
}

function walk(input: LatticeInput, known: KnownBlocks | undefined): Settled[] {
  const blocks: Settled[] = known === undefined ? [] : [...known.before]
  const start = blocks.at(-1)?.end
  const from = start === undefined ? new State(0, 0, 0, -1, 0, 0) : new State(start.node, start.position, start.opening, start.opener, start.counted, start.shift)
  if (from.node >= input.figures.length) return blocks
  const end = new Lattice(input, block => blocks.push(settleBlock(block))).run(from, known?.starts)
  if (end.node < input.figures.length) blocks.push(...known!.after(end.node))
  return blocks
}

function latticeInput(stretch: Stretch, next: Stretch | undefined, chosen: Chosen): LatticeInput {
  const { practice, settings } = chosen
  return { practice, settings, mensuration: stretch.mensuration, figures: stretch.figures, endsAtSign: next !== undefined, plan: planGroups(stretch.figures, practice, settings) }
}

/** Beside explicit durations and decisions, what the rules alone would have said. */
function withRules(voice: Voice, options: ReadOptions, reading: Reading): Reading {
  if (!reading.signs.some(sign => sign.decidedBy === "given" || sign.decidedBy === "decision")) return reading
  const alone = read(voice, { ...options, ignoreGiven: true, decisions: undefined }, undefined)
  const signs = reading.signs.map((sign, i) => {
    const other = alone.signs[i]
    const differs = other !== undefined && sign.decidedBy !== "voice" && !equals(other.duration, sign.duration)
    return differs ? { ...sign, rulesSay: other.duration } : sign
  })
  const told = { ...reading, signs }
  const kept = workings.get(reading)
  if (kept !== undefined) workings.set(told, kept)
  return told
}
