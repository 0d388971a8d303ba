/** One stretch laid into its perfections and settled; after an edit what holds of it is taken over. */
import type { SettledStretch } from "./assemble.js"
import type { Decided } from "./choices.js"
import { NO_ENDS, type Ends } from "./ends.js"
import type { KnownDecisions } from "./known-entries.js"
import { Lattice } from "./lattice.js"
import { State, stateAs, type LatticeInput } from "./lattice-parts.js"
import { BEAM, WIDE_BEAM } from "./nodes.js"
import type { Kept } from "./recut.js"
import { FURTHEST_NAMED, knownBlocks, lastEnd, type KnownBlocks } from "./reuse.js"
import { countRuns } from "./runs.js"
import type { GroupPlan } from "./semibreve-plan.js"
import type { Chosen } from "./settings.js"
import type { Settled, Settler } from "./settle.js"
import type { Stretch } from "./stretches.js"

/** Workings of longer voices are let go: they would outweigh the readings. */
export const LONGEST_KEPT = 30_000
const NO_DECISIONS: readonly Decided[] = []

/** A stretch to be laid. */
export interface ToLay {
  readonly stretch: Stretch
  /** The one that follows. */
  readonly next: Stretch | undefined
  readonly chosen: Chosen
  readonly settler: Settler
  /** What was settled before the edit of the stretch it comes from, and how much it has in common with that. */
  readonly old: SettledStretch | undefined
  readonly own: Kept
  /** How its runs of semibreves may be cut; undefined where they are read singly. */
  readonly plan: GroupPlan | undefined
}

interface LaidStretch {
  readonly settled: SettledStretch
  /** Of what is decided, how much was so before. */
  readonly known?: KnownDecisions
}

export function layStretch(given: ToLay): LaidStretch {
  const { stretch, next, settler, own, old, plan } = given
  const { figures } = stretch
  if (old?.stretch === stretch && old.plan === plan && old.endsAtSign === (next !== undefined))
    return { settled: old, known: { of: own.of, head: figures.length, tail: figures.length } }
  const { input, kept } = latticeInput(given)
  // of a long voice, whose workings are let go, only blocks with other ways through them, and the last, are asked about
  const light = figures.length > LONGEST_KEPT && !settler.keep
  const known = old === undefined || light ? undefined : knownBlocks(old, stretch, input, kept)
  const blocks = known === undefined ? [] : known.before.slice()
  const decisions = known === undefined ? [] : known.old.decisions.slice(0, lastEnd(known.before))
  const take = (block: Settled): void => {
    for (const one of block.decisions) decisions.push(one)
    if (light && blocks.length > 0 && blocks.at(-1)!.paths.length === 0) blocks.pop()
    blocks.push(light ? { ...block, decisions: NO_DECISIONS } : block)
  }
  const end = figures.length === 0 ? 0 : walk(input, known, settler, take)
  if (end < figures.length) takeRest(known!, end, blocks, decisions)
  const settled = { stretch, blocks, decisions, endsAtSign: input.endsAtSign, ...(input.plan && { plan: input.plan }) }
  return known === undefined ? { settled } : { settled, known: { of: own.of, ...saidOf(known, end, figures.length) } }
}

/** Settles the blocks that are not known, in order. Gives the place from which on all is known again. */
function walk(
  input: LatticeInput,
  known: KnownBlocks | undefined,
  settler: Settler,
  take: (block: Settled) => void,
): number {
  const start = known?.before.at(-1)?.end
  const from = start === undefined ? new State(0, 0, 0, -1, 0, 0) : stateAs(start)
  if (from.node >= input.figures.length) return from.node
  return new Lattice(input, block => take(settler.settle(block))).run(from, known?.starts).node
}

/** Takes over the blocks from a place on, and what is decided in them. */
function takeRest(known: KnownBlocks, from: number, blocks: Settled[], decisions: Decided[]): void {
  for (const block of known.after(from)) blocks.push(block)
  const old = known.old.decisions
  for (let i = from - known.moved; i < old.length; i++) decisions.push(old[i]!)
}

/** The figures of which the same is said as before: up to the first and from the second on. */
function saidOf(known: KnownBlocks, end: number, length: number): { head: number; tail: number } {
  return { head: known.head, tail: Math.min(length, Math.max(known.tail, end + FURTHEST_NAMED)) }
}

function latticeInput({ stretch, next, chosen, settler, own, old, plan }: ToLay): { input: LatticeInput; kept: Ends } {
  const { practice, settings } = chosen
  const { figures, mensuration } = stretch
  const counted = old?.stretch === stretch
  const endsAtSign = next !== undefined
  const beam = settler.keep ? WIDE_BEAM : BEAM
  const input = { practice, settings, mensuration, figures, endsAtSign, beam, plan }
  if (counted) return { input, kept: { head: figures.length, tail: 0 } }
  const alike = old !== undefined && old.plan?.voiceDots === plan?.voiceDots && old.plan?.habits === plan?.habits
  return { input, kept: countRuns(input, figures, alike ? own : NO_ENDS) }
}
