/** Which practice a voice is read by, with all its options: given, asked for, or inferred from the signs themselves. */
import type { Problem, Rational, SignId, VoiceId } from "../base/index.js"
import type { CanonDecision, Decision, FlatSign, LocalShape, Note, Voice } from "../page/index.js"
import {
  PRACTICES,
  practiceNamed,
  settingsOf,
  type Divisions,
  type Practice,
  type Settings,
} from "../practices/index.js"
import type { PracticeChoice } from "./types.js"

export interface ReadOptions {
  /** For a voice that does not say; its options also over those of a voice of the same practice. */
  readonly practice?: { readonly name: string; readonly options?: Readonly<Record<string, string>> }
  /** Leave out the durations that the file carries explicitly. */
  readonly ignoreGiven?: boolean
  /** Read by these practices in place of the built-in ones (a scholar's own, or one with a rule taken out). */
  readonly practices?: readonly Practice[]
  /** Shapes whose value holds for the page; `readPage` takes the page's own. */
  readonly shapes?: readonly LocalShape[]
  /** Durations an editor fixed, by sign id, in the voice's unit as [num, den]. */
  readonly decisions?: ReadonlyMap<string, readonly [number, number]>
  /** Decisions kept on the page; `readPage` takes the page's own. Those in `decisions` go before them. */
  readonly pageDecisions?: readonly Decision[]
  /** Practice and mensuration found out for voices that do not say. What the file or `practice` says goes before it. */
  readonly assumed?: ReadonlyMap<VoiceId, Assumed>
  /** Voices sung in other values than they are written in, by what these are divided: found out from the others. */
  readonly scaled?: ReadonlyMap<VoiceId, Rational>
  /** What colour means in a voice (option colourMap), where its practice does not state it: found out from the others. */
  readonly colours?: ReadonlyMap<VoiceId, string>
  /** How long gaps in the source last (by the id of the gap, in the voice's unit): found out from the other voices. */
  readonly gaps?: ReadonlyMap<SignId, Rational>
  /** Values of options that are the same for all voices of the piece, for those that are left to be inferred. */
  readonly shared?: Settings
  /** No voice is supposed to leave its modus so as to meet the others: for those who ask what a slip may have done. */
  readonly modusKept?: boolean
}

/** What is supposed of a voice that does not say it itself, and how surely (doubt: twice the chance of being wrong). */
export interface Assumed {
  readonly practice?: {
    readonly name: string
    readonly options?: Readonly<Record<string, string>>
    readonly doubt: number
    /** Twice the chance that a note lasts otherwise because another practice is meant; `doubt` if absent. */
    readonly noteDoubt?: number
    /** Another practice that may be meant, with what is likeliest in it. */
    readonly rival?: RivalPractice
  }
  /** In force from the beginning; a sign of the voice states over it what it states. */
  readonly divisions?: Divisions & {
    readonly doubt: number
    /** Other divisions under which notes of the voice last otherwise, with their chances; none: they are not in doubt. */
    readonly rivals?: readonly (Divisions & { readonly chance: number })[]
    /** Other divisions from a note or rest on, in the order of the voice. */
    readonly changes?: readonly AssumedChange[]
  }
}

export interface RivalPractice {
  readonly name: string
  readonly chance: number
  readonly divisions: Divisions
  /** By level: the chance that in this practice it is divided otherwise than that. */
  readonly against: Readonly<Record<keyof Divisions, number>>
}

export interface AssumedChange {
  /** A note or rest that stands in no ligature, or is the first in it. */
  readonly from: SignId
  readonly divisions: Divisions
  /** Twice the chance that there is no such change. */
  readonly doubt: number
  /** It holds though a sign of the voice says otherwise. */
  readonly despite?: boolean
}

export interface Chosen {
  readonly practice: Practice
  readonly settings: Settings
  readonly choice: PracticeChoice
  readonly problems: readonly Problem[]
  /** Options whose value was inferred from the voice, not stated. */
  readonly inferred: ReadonlySet<string>
  /** The mensuration supposed until a sign says another. */
  readonly divisions?: Assumed["divisions"]
  /** How an editor decided that it is sung. */
  readonly canon?: CanonDecision
  /** What all its durations are divided by, as the other voices ask for it. */
  readonly scaled?: Rational
}

/** Practices of the theory that are not read by rules of their own yet, and the one that comes nearest. */
const NEAREST: ReadonlyMap<string, string> = new Map([
  ["modal", "ars-antiqua"],
  ["premensural", "ars-antiqua"],
  ["trecento", "ars-nova"],
  ["ars-subtilior", "ars-nova"],
])

export function choosePractice(voice: Voice, flat: readonly FlatSign[], options: ReadOptions): Chosen {
  const problems: Problem[] = []
  const assumed = options.assumed?.get(voice.id)
  const said = saidPractice(voice, options)
  const from = said === undefined ? "inferred" : said === voice.practice?.name ? "given" : "option"
  const found = readAs(said ?? assumed?.practice?.name ?? guess(voice, flat))
  for (const name of [voice.practice?.name, options.practice?.name])
    if (name !== undefined && !practiceNamed(name)) problems.push(notKnown(name, voice, found))
  const practice = options.practices?.find(p => p.name === found.name) ?? found
  const colour = practice.options.some(one => one.name === "colourMap") ? options.colours?.get(voice.id) : undefined
  const wanted = {
    ...(colour !== undefined && { colourMap: colour }),
    ...(practiceNamed(assumed?.practice?.name ?? "")?.name === found.name ? assumed?.practice?.options : {}),
    ...voice.practice?.options,
    ...(options.practice && practiceNamed(options.practice.name)?.name === found.name ? options.practice.options : {}),
  }
  const stated = checked(practice, wanted, problems)
  const settings = inferred(voice, flat, stated, options.shared)
  const open = Object.keys(stated).filter(name => stated[name] === "infer")
  const settled = colour === undefined || saysColour(voice, options) ? open : [...open, "colourMap"]
  return {
    practice,
    settings,
    inferred: new Set(open),
    choice: {
      name: practice.name,
      options: settings,
      from,
      doubt: said === undefined ? (assumed?.practice?.doubt ?? 1) : 0,
      ...(settled.length > 0 && { settled }),
    },
    problems,
    divisions: assumed?.divisions,
    scaled: options.scaled?.get(voice.id),
    canon: canonDecided(flat, options),
  }
}

const saysColour = (voice: Voice, options: ReadOptions): boolean =>
  [voice.practice?.options, options.practice?.options].some(one => one?.["colourMap"] !== undefined)

/** The last one made on a sign of the voice. */
function canonDecided(flat: readonly FlatSign[], { pageDecisions = [] }: ReadOptions): CanonDecision | undefined {
  const canons = pageDecisions.filter((one): one is CanonDecision => one.canon !== undefined)
  if (canons.length === 0) return undefined
  const own = new Set<string>(flat.flatMap(({ sign, ligature }) => [sign.id, ligature?.id ?? sign.id]))
  return canons.findLast(one => own.has(one.sign))
}

/** What is said of the voice's practice, in the file or by the caller; undefined where that is nothing, or nothing that is known. */
export function saidPractice(voice: Voice, options: ReadOptions): string | undefined {
  return [voice.practice?.name, options.practice?.name].find(
    name => name !== undefined && (practiceNamed(name) !== undefined || nearestTo(name) !== undefined),
  )
}

const nearestTo = (name: string): string | undefined => NEAREST.get(name.toLowerCase().replaceAll(/[ ._]/g, "-"))

const readAs = (name: string): Practice => practiceNamed(name) ?? practiceNamed(nearestTo(name)!)!

function notKnown(name: string, voice: Voice, stand: Practice): Problem {
  return {
    code: "practice-not-known",
    what: `There are no rules for the practice "${name}" yet; ${voice.label} was read as ${stand.name}.`,
    where: { place: voice.label },
    mend: `Name one of ${PRACTICES.map(p => p.name).join(", ")} in the file or with --practice.`,
  }
}

function checked(practice: Practice, wanted: Readonly<Record<string, string>>, problems: Problem[]): Settings {
  const result = settingsOf(practice, wanted)
  if (result.ok) return result.value
  problems.push(...result.problems)
  const good = Object.entries(wanted).filter(([name, value]) => settingsOf(practice, { [name]: value }).ok)
  const second = settingsOf(practice, Object.fromEntries(good))
  return second.ok ? second.value : {}
}

/** A guess from notation and shapes: white is white; minims or smaller are Ars nova; plicas, duplex longs or no semibreve stem, Ars antiqua. */
function guess(voice: Voice, flat: readonly FlatSign[]): string {
  if (voice.notation === "white") return "white"
  let minims = 0
  let old = 0
  for (const { sign, ligature } of flat) {
    if (sign.kind === "note") {
      if (sign.level === "minima" || sign.level === "semiminima" || sign.level === "fusa" || sign.level === "semifusa")
        minims++
      if (sign.plica || sign.duplex || ligature?.conjunctura) old++
    } else if (sign.kind === "stroke" && sign.form !== "bar") old++
    else if (sign.kind === "mensuration" && (sign.prolatio !== undefined || sign.sign !== undefined)) minims++
  }
  if (minims > 0)
    return voice.notation === "unknown" && flat.some(f => f.sign.kind === "note" && f.sign.level === "fusa")
      ? "white"
      : "ars-nova"
  return old > 0 ? "ars-antiqua" : "ars-nova"
}

/** Settles the options whose value is "infer" from this voice alone. */
function inferred(voice: Voice, flat: readonly FlatSign[], settings: Settings, shared: Settings = {}): Settings {
  if (settings["breveDivision"] === "infer")
    return { ...settings, breveDivision: shared["breveDivision"] ?? breveDivision(flat) }
  if (settings["minims"] === "infer")
    return { ...settings, minims: shared["minims"] ?? minimsShown(voice, flat) ?? "written" }
  return settings
}

const isSemibreve = (f: FlatSign | undefined): boolean =>
  f !== undefined && (f.sign.kind === "note" || f.sign.kind === "rest") && f.sign.level === "semibrevis"
const isDot = (f: FlatSign | undefined): boolean =>
  f?.sign.kind === "dot" || (f?.sign.kind === "stroke" && f.sign.form === "signum-rotundum")
const isBearing = (f: FlatSign | undefined): boolean =>
  f !== undefined && f.sign.kind === "note" && f.sign.syllables.length > 0

interface SemibreveRuns {
  /** Lengths of stretches of semibreves without a dot inside. */
  readonly lengths: number[]
  /** The same, only those whose every note has a syllable of its own. */
  readonly syllabic: number[]
  readonly dotsBetween: number
  readonly stemmed: number
}

function semibreveRuns(flat: readonly FlatSign[]): SemibreveRuns {
  const runs: SemibreveRuns = { lengths: [], syllabic: [], dotsBetween: 0, stemmed: 0 }
  const counts = { dotsBetween: 0, stemmed: 0 }
  let length = 0
  let bearing = 0
  const close = (): void => {
    if (length > 0) runs.lengths.push(length)
    if (length > 0 && bearing === length) runs.syllabic.push(length)
    length = bearing = 0
  }
  const figures = flat.filter(f => f.sign.kind === "note" || f.sign.kind === "rest" || isDot(f))
  for (let i = 0; i < figures.length; i++) {
    const f = figures[i]!
    if (isSemibreve(f)) {
      length++
      if (isBearing(f)) bearing++
      if (
        f.sign.kind === "note" &&
        (f.sign as Note).stems.some(s => s.direction === "down" || s.direction === "sw" || s.direction === "se")
      )
        counts.stemmed++
    } else {
      if (isDot(f) && isSemibreve(figures[i - 1]) && isSemibreve(figures[i + 1])) counts.dotsBetween++
      close()
    }
  }
  close()
  return { ...runs, ...counts }
}

/** Evidence of breves cut into four and more (c. 1290-1310): dotted-off or wholly syllabic groups of that size. */
function breveDivision(flat: readonly FlatSign[]): string {
  const runs = semibreveRuns(flat)
  const large = runs.syllabic.filter(n => n >= 4 && n <= 9).length
  const dotted = runs.dotsBetween > 0 ? runs.lengths.filter(n => n >= 4 && n <= 7).length : 0
  return large > 0 || (dotted > 0 && runs.dotsBetween >= 2) ? "equal" : "two-or-three"
}

/** Share of minims up to which a voice may still be one of plain semibreves (an estimate). */
const STRAY_MINIMS = 0.02

/**
 * Whether the voice shows that minims are drawn, or that they are not; undefined where it shows neither, and then they
 * are drawn. They are not, if there are none and the semibreves stand as only the plain ones of c. 1315-25 do: stems down,
 * dots between them, long runs, many of them in a voice that is no tenor. Weights are an estimate.
 */
export function minimsShown(voice: Voice, flat: readonly FlatSign[]): "written" | "unwritten" | undefined {
  let notes = 0
  let semibreves = 0
  let bearing = 0
  let minims = 0
  for (const f of flat) {
    if (f.sign.kind !== "note") continue
    notes++
    if (f.sign.level === "minima" || f.sign.level === "semiminima") minims++
    if (isSemibreve(f)) semibreves++
    if (isBearing(f)) bearing++
  }
  // a stray stem here and there, a later hand's, is no practice of writing minims
  if (minims > STRAY_MINIMS * notes) return "written"
  const runs = semibreveRuns(flat)
  const long = (least: number): number => runs.lengths.filter(n => n >= least).length
  let evidence = runs.stemmed > 0 ? 3 : 0
  if (runs.dotsBetween >= 2) evidence++
  if (long(3) >= 2) evidence++
  if (long(4) >= 2) evidence++
  if (semibreves >= 0.15 * notes) evidence += bearing >= 0.3 * notes ? 2 : 1
  if (/tenor/i.test(voice.label)) evidence -= 2
  return evidence < 2 || long(3) === 0 ? undefined : "unwritten"
}
