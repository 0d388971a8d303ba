/** One voice read by itself: cut into stretches, laid into its perfections, decided, explained. */
import { minus, plus, ZERO, type Problem, type Rational, type SignId } from "../base/index.js"
import { flatSigns, type FlatSign, type Page, type Voice } from "../page/index.js"
import type { Practice } from "../practices/index.js"
import { entriesOf, openPlaces, type StretchDecisions } from "./decide.js"
import { Lattice } from "./lattice.js"
import { State, type LatticeInput } from "./lattice-parts.js"
import { accidentalsInForce, pitchName } from "./pitches.js"
import { withPlicas } from "./plicas.js"
import { countRuns } from "./runs.js"
import { planGroups } from "./semibreve-groups.js"
import { choosePractice, type Chosen, type ReadOptions } from "./settings.js"
import { settleBlock, type Decided, type Path, type Settled } from "./settle.js"
import { cutVoice, durationOf, type Cut, type Stretch } from "./stretches.js"
import type { MensurationSpan, Reading, SignReading, VoiceRival } from "./types.js"

/** How many rivals of the whole voice are kept. */
const MOST_RIVALS = 16

export function readPage(page: Page, options: ReadOptions = {}): Reading[] {
  return page.voices.map(voice => readVoice(voice, options))
}

export function readVoice(voice: Voice, options: ReadOptions = {}): Reading {
  const flat = flatSigns(voice)
  const chosen = choosePractice(voice, flat, options)
  const cut = cutVoice(voice, flat, chosen, options)
  const settled = cut.stretches.map((stretch, i) => settleStretch(stretch, cut.stretches[i + 1], chosen))
  return assemble(voice, flat, chosen, cut, settled, options)
}

/** A path and the figure of its stretch at which its block begins. */
interface PlacedPath {
  readonly path: Path
  readonly from: number
}

interface SettledStretch extends StretchDecisions {
  readonly paths: readonly PlacedPath[]
  readonly endsOpen: boolean
}

function settleStretch(stretch: Stretch, next: Stretch | undefined, chosen: Chosen): SettledStretch {
  const input = latticeInput(stretch, next, chosen)
  countRuns(input)
  const blocks: Settled[] = []
  if (stretch.figures.length > 0) new Lattice(input, block => blocks.push(settleBlock(block))).run(new State(0, 0, 0, -1, 0, 0))
  return { stretch, ...gather(blocks), endsOpen: (blocks.at(-1)?.end.position ?? 0) !== 0 }
}

function gather(blocks: readonly Settled[]): { decisions: Decided[]; paths: PlacedPath[] } {
  const decisions: Decided[] = []
  const paths: PlacedPath[] = []
  for (const block of blocks) {
    const from = decisions.length
    for (const one of block.decisions) decisions.push(one)
    for (const path of block.paths) paths.push({ path, from })
  }
  return { decisions, paths }
}

function latticeInput(stretch: Stretch, next: Stretch | undefined, chosen: Chosen): LatticeInput {
  const { practice, settings } = chosen
  return {
    practice, settings, mensuration: stretch.mensuration, figures: stretch.figures, endsAtSign: next !== undefined,
    plan: planGroups(stretch.figures, practice, settings),
  }
}

function assemble(voice: Voice, flat: readonly FlatSign[], chosen: Chosen, cut: Cut, settled: readonly SettledStretch[], options: ReadOptions): Reading {
  const accidentals = accidentalsInForce(flat)
  const pitchAt = (at: number): string | null => {
    const sign = flat[at]!.sign
    return sign.kind === "note" && sign.pitch !== undefined ? pitchName(sign.pitch, accidentals[at]!) : null
  }
  const naming = { practice: chosen.practice, has: ruleIds(chosen.practice) }
  const entries = entriesOf(voice, flat, cut, settled, naming, pitchAt)
  const signs = withPlicas(entries, flat, chosen)
  const place = (id: SignId): string => `${voice.label} ${signs.find(sign => sign.id === id)?.number ?? ""}`.trim()
  const problems: Problem[] = [...chosen.problems, ...openPlaces(settled, voice.label, place), ...openEnds(settled, voice.label, place)]
  void options
  return {
    voice: voice.id, n: voice.n, label: voice.label, unit: chosen.practice.unit, duration: endOf(signs), practice: chosen.choice,
    mensurations: spansOf(cut, signs, chosen.practice), signs, rivals: voiceRivals(settled, endOf(signs)), problems,
  }
}

const ruleIds = (practice: Practice): ReadonlySet<string> => new Set(practice.rules.map(rule => rule.id))

function endOf(signs: readonly SignReading[]): Rational {
  const last = signs.at(-1)
  return last === undefined ? ZERO : plus(last.onset, last.duration)
}

function spansOf(cut: Cut, signs: readonly SignReading[], practice: Practice): MensurationSpan[] {
  const onsets = new Map<number, Rational>()
  cut.entries.forEach((entry, i) => {
    if (entry.figure === 0) onsets.set(entry.stretch, signs[i]!.onset)
  })
  const byTempus = practice.unit === "tempus"
  return cut.stretches.map((stretch, i) => ({
    onset: onsets.get(i) ?? endOf(signs), modusMaior: byTempus ? null : stretch.measuring.modusMaior, modusMinor: stretch.measuring.modusMinor,
    tempus: stretch.measuring.tempus, prolatio: byTempus ? null : stretch.measuring.prolatio, from: stretch.from, doubt: stretch.from === "given" ? 0 : 1,
    proportion: stretch.measuring.ratio, ...(stretch.sign ? { sign: stretch.sign } : {}),
  }))
}

/** A stretch that ends within a perfection, unless the final note, which is held freely, ends it. */
function openEnds(settled: readonly SettledStretch[], label: string, place: (id: SignId) => string): Problem[] {
  const problems: Problem[] = []
  for (const { stretch, decisions, endsOpen } of settled) {
    const last = decisions.at(-1)
    const figure = stretch.figures.at(-1)
    if (!endsOpen || last === undefined || figure === undefined) continue
    if (figure.final && stretch.mensuration.anchor[figure.level]! > 0 && !last.choice.left) continue
    problems.push({
      code: "open-perfection", what: `In ${label} the last perfection, at ${place(figure.id)}, is not full.`, where: { sign: figure.id, place: place(figure.id) },
      mend: "Look for a missing or superfluous dot, stem or rest before it, or another mensuration.",
    })
  }
  return problems
}

/** The best few other ways through the voice. */
function voiceRivals(settled: readonly SettledStretch[], total: Rational): VoiceRival[] {
  const all = settled.flatMap(one => one.paths.map(placed => ({ ...placed, ...one })))
  all.sort((a, b) => a.path.cost - b.path.cost)
  return all.slice(0, MOST_RIVALS).map(({ path, from, stretch, decisions }) => {
    let duration = total
    const signs = new Map<SignId, Rational>()
    for (const [at, ticks] of path.changes) {
      const changed = durationOf(ticks, stretch.measuring.ratio)
      signs.set(stretch.figures[from + at]!.id, changed)
      duration = plus(duration, minus(changed, durationOf(decisions[from + at]!.ticks, stretch.measuring.ratio)))
    }
    return { cost: Math.round(path.cost * 100) / 100, duration, partsAt: stretch.figures[from + path.changes[0]![0]]!.id, signs }
  })
}
