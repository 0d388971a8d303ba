/** A reading put together from settled stretches. */
import { minus, plus, ZERO, type Problem, type Rational, type SignId } from "../base/index.js"
import type { FlatSign, Voice } from "../page/index.js"
import type { Practice } from "../practices/index.js"
import type { Decided } from "./choices.js"
import { entriesOf } from "./decide.js"
import { durationOf } from "./durations.js"
import type { KnownEntries } from "./known-entries.js"
import { SoundingPitches } from "./pitches.js"
import { withPlicas } from "./plicas.js"
import { misfits, openEnds, openPlaces } from "./problems.js"
import type { Chosen } from "./settings.js"
import type { Path } from "./paths.js"
import type { GroupPlan } from "./semibreve-plan.js"
import type { Settled } from "./settle.js"
import { raisedDoubts } from "./shaky.js"
import { FINIS, type Cut, type Stretch } from "./stretches.js"
import type { MensurationSpan, Reading, SignReading, VoiceRival } from "./types.js"

/** How many rivals of the whole voice are kept. */
const MOST_RIVALS = 16

export interface SettledStretch {
  readonly stretch: Stretch
  readonly blocks: readonly Settled[]
  readonly decisions: readonly Decided[]
  readonly endsAtSign: boolean
  /** How its semibreves could be grouped; undefined where they are read singly. */
  readonly plan?: GroupPlan
}

export function assemble(
  voice: Voice,
  flat: readonly FlatSign[],
  chosen: Chosen,
  cut: Cut,
  settled: readonly SettledStretch[],
  known?: KnownEntries,
): { reading: Reading; plain: readonly SignReading[] } {
  const naming = { practice: chosen.practice, has: ruleIds(chosen.practice) }
  const plain = entriesOf({ cut, settled, naming, pitches: new SoundingPitches(flat), known })
  const byFigure = once(() => entriesByFigure(cut, plain))
  const plicated = withPlicas(withFloors(plain, raisedDoubts(settled, byFigure)), flat, chosen)
  const signs = cut.finis ? withPenultimates(plicated, chosen) : plicated
  const duration = endOf(signs)
  const number = numbersOf(signs)
  const place = (id: SignId): string => `${voice.label} ${number(id) ?? ""}`.trim()
  const problems: Problem[] = [
    ...chosen.problems,
    ...openPlaces(settled, voice.label, place),
    ...openEnds(settled, voice.label, place),
    ...misfits(cut, settled, place),
  ]
  const reading = {
    voice: voice.id,
    n: voice.n,
    label: voice.label,
    unit: chosen.practice.unit,
    duration,
    practice: chosen.choice,
    mensurations: spansOf(cut, signs, chosen.practice, duration),
    signs,
    rivals: voiceRivals(settled, duration),
    problems,
    ...signaIn(flat),
  }
  return { reading, plain }
}

/** A signum congruentiae belongs to the note or rest that follows it. */
function signaIn(flat: readonly FlatSign[]): Pick<Reading, "signa"> {
  const signa: SignId[] = []
  let waits = false
  for (const { sign } of flat)
    if (sign.kind === "mark") waits ||= sign.of === "signum-congruentiae"
    else if (waits && (sign.kind === "note" || sign.kind === "rest")) {
      signa.push(sign.id)
      waits = false
    }
  return signa.length > 0 ? { signa } : {}
}

const once = <T>(make: () => T): (() => T) => {
  let made: T | undefined
  return () => (made ??= make())
}

/** Entries of notes and rests by stretch and figure. */
function entriesByFigure(cut: Cut, signs: readonly SignReading[]): SignReading[][] {
  const byFigure: SignReading[][] = cut.stretches.map(() => [])
  cut.entries.forEach(({ stretch, figure }, i) => {
    if (figure >= 0) byFigure[stretch]!.push(signs[i]!)
  })
  return byFigure
}

/** Few places are asked for in most voices: only for many of them all are put into a table. */
function numbersOf(signs: readonly SignReading[]): (id: SignId) => number | undefined {
  let asked = 0
  let table: Map<SignId, number> | undefined
  return id => {
    if (++asked <= FEW_PLACES) return signs.findLast(sign => sign.id === id)?.number
    table ??= new Map(signs.map(sign => [sign.id, sign.number]))
    return table.get(id)
  }
}
const FEW_PLACES = 6

function withFloors(signs: readonly SignReading[], floors: ReadonlyMap<number, number>): readonly SignReading[] {
  if (floors.size === 0) return signs
  const raised = signs.slice()
  for (const [index, doubt] of floors) raised[index] = { ...signs[index]!, doubt }
  return raised
}

/** Before a finis punctorum strict measure is not kept from the note before the last (Ars cantus mensurabilis, c. 1280, IX and XI). */
function withPenultimates(signs: readonly SignReading[], chosen: Chosen): SignReading[] {
  const found = new Set<number>()
  signs.forEach((sign, i) => {
    if (sign.takenFor !== FINIS) return
    let notes = 0
    for (let at = i - 1; at >= 0 && notes < 2; at--) if (signs[at]!.kind === "note" && ++notes === 2) found.add(at)
  })
  if (found.size === 0) return signs as SignReading[]
  const hold = chosen.settings["finisPenultimate"] === "hold"
  return signs.map((sign, i) =>
    found.has(i) ? { ...sign, penultimateHeld: true, ...(hold ? { held: true } : {}) } : sign,
  )
}

const idsOf = new WeakMap<Practice, ReadonlySet<string>>()
function ruleIds(practice: Practice): ReadonlySet<string> {
  let ids = idsOf.get(practice)
  if (ids === undefined) idsOf.set(practice, (ids = new Set(practice.rules.map(rule => rule.id))))
  return ids
}

function endOf(signs: readonly SignReading[]): Rational {
  const last = signs.at(-1)
  return last === undefined ? ZERO : plus(last.onset, last.duration)
}

function spansOf(cut: Cut, signs: readonly SignReading[], practice: Practice, end: Rational): MensurationSpan[] {
  const onsets = new Map<number, Rational>()
  const last = cut.stretches.length - 1
  for (let i = 0; i < cut.entries.length && !onsets.has(last); i++) {
    const { figure, stretch } = cut.entries[i]!
    if (figure === 0) onsets.set(stretch, signs[i]!.onset)
  }
  const byTempus = practice.unit === "tempus"
  return cut.stretches.map((stretch, i) => ({
    onset: onsets.get(i) ?? end,
    modusMaior: byTempus ? null : stretch.measuring.modusMaior,
    modusMinor: stretch.measuring.modusMinor,
    tempus: stretch.measuring.tempus,
    prolatio: byTempus ? null : stretch.measuring.prolatio,
    from: stretch.from,
    doubt: stretch.doubt,
    proportion: stretch.measuring.ratio,
    ...(stretch.sign ? { sign: stretch.sign } : {}),
  }))
}

/** The best few other ways through the voice. */
function voiceRivals(settled: readonly SettledStretch[], total: Rational): VoiceRival[] {
  const all: (Pick<SettledStretch, "stretch" | "decisions"> & { path: Path; from: number })[] = []
  for (const { stretch, decisions, blocks } of settled)
    for (const { paths, start } of blocks)
      for (const path of paths) all.push({ path, from: start.node, stretch, decisions })
  all.sort((a, b) => a.path.cost - b.path.cost)
  return all.slice(0, MOST_RIVALS).map(({ path, from, stretch, decisions }) => {
    let duration = total
    const signs = new Map<SignId, Rational>()
    for (let n = 0; n < path.changes.length; n += 2) {
      const at = path.changes[n]!
      const changed = durationOf(path.changes[n + 1]!, stretch.measuring.ratio)
      signs.set(stretch.figures[from + at]!.id, changed)
      duration = plus(duration, minus(changed, durationOf(decisions[from + at]!.ticks, stretch.measuring.ratio)))
    }
    return {
      cost: Math.round(path.cost * 100) / 100,
      duration,
      partsAt: stretch.figures[from + path.changes[0]!]!.id,
      signs,
    }
  })
}
