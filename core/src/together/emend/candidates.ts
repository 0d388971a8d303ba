/** Single changes of a voice that would mend a slip of one sign: dots, stems, levels, rests, notes left out or doubled. */
import { ratio, type SignId, type VoiceId } from "../../base/index.js"
import {
  LEVELS,
  type Dot,
  type Level,
  type Note,
  type Page,
  type Rest,
  type Sign,
  type Voice,
} from "../../page/index.js"
import { stepNumber } from "../../reading/pitches.js"
import { aroundFigure, figuresOf, type Figure } from "./figures.js"
import { Melody } from "./melody.js"
import type { Edit, EmendationKind } from "./types.js"
import { MELODY_WEIGHT, REST_TOO_MANY } from "./weights.js"

export interface Candidate {
  readonly kind: EmendationKind
  readonly voice: VoiceId
  /** Numbers of the first and last figure that it touches (or stands before). */
  readonly from: number
  readonly to: number
  readonly sign: SignId
  readonly edit: Edit
  /** What it costs beyond what its kind does. */
  readonly extra: number
  /** Of a shift of pitches: by how many steps. */
  readonly shift?: number
  /** What is changed along with it: a sign that is wrong in other voices alike, or a second slip of the voice. */
  readonly also?: readonly Edit[]
  /** Of two slips: the last figure that the first of them touches. */
  readonly until?: number
}

/** A voice with what the makers of candidates need. */
export interface Subject {
  readonly page: Page
  readonly voice: Voice
  readonly figures: readonly Figure[]
  /** Ids that are not taken. */
  readonly fresh: readonly SignId[]
  readonly melody: Melody
  /** Its semibreves are shared out plainly: no minims are written. */
  readonly plain: boolean
}

export function subjectOf(
  page: Page,
  voice: Voice,
  fresh: readonly SignId[],
  plain: boolean,
  melody = new Melody(page.voices),
): Subject {
  return { page, voice, figures: figuresOf(voice), fresh, melody, plain }
}

export function* signCandidates(subject: Subject): Generator<Candidate> {
  for (const figure of subject.figures) {
    yield* dots(subject, figure)
    if (figure.sign.kind === "rest") yield* rests(subject, figure, figure.sign)
    else yield* levels(subject, figure, figure.sign)
    yield* doubled(subject, figure)
    yield* missing(subject, figure)
  }
}

export function candidateAt(
  { voice }: Subject,
  kind: EmendationKind,
  figure: Figure,
  edit: Edit,
  extra = 0,
  to = figure.index,
): Candidate {
  return { kind, voice: voice.id, from: figure.index, to, sign: figure.sign.id, edit, extra }
}

const newDot = (id: SignId): Dot => ({ kind: "dot", id })

function* dots(subject: Subject, figure: Figure): Generator<Candidate> {
  const { voice, fresh, figures } = subject
  const { sign, dot } = figure
  if (dot) {
    yield { ...candidateAt(subject, "dot-dropped", figure, aroundFigure(voice, figure, 2, [sign])), sign: dot.id }
    for (const other of [figures[figure.index - 1], figures[figure.index + 1]])
      if (other?.sign.kind === "note" && !other.dot) {
        const edit = moved(voice, figure, other, dot)
        if (edit)
          yield {
            ...candidateAt(subject, "dot-moved", figure, edit, 0, Math.max(figure.index, other.index)),
            sign: dot.id,
          }
      }
  } else if (sign.kind === "note" && figure.index < figures.length - 1)
    yield candidateAt(subject, "dot-added", figure, aroundFigure(voice, figure, 1, [sign, newDot(fresh[0]!)]))
}

/** The dot after `from` put after `to`, its neighbour, when both stand in the same run. */
function moved(voice: Voice, from: Figure, to: Figure, dot: Dot): Edit | undefined {
  if (from.ligature !== to.ligature) return undefined
  const run: readonly Sign[] = from.ligature?.members ?? voice.signs
  const at = (figure: Figure): number => (figure.ligature ? figure.member : figure.top)
  const [first, last] = from.index < to.index ? [at(from), at(to)] : [at(to), at(from) + 1]
  const signs = run.slice(first, last + 1).filter(sign => sign !== dot)
  const after = signs.indexOf(to.sign)
  const lower = from.index < to.index ? from : to
  return aroundFigure(voice, lower, last - first + 1, signs.toSpliced(after + 1, 0, dot))
}

const indexOf = (level: Level): number => LEVELS.indexOf(level)
const levelAt = (index: number): Level | undefined => LEVELS[index]

function* levels(subject: Subject, figure: Figure, note: Note): Generator<Candidate> {
  if (note.level === undefined || figure.ligature) return
  const { voice, plain } = subject
  const change = (kind: EmendationKind, to: Partial<Note>): Candidate =>
    candidateAt(subject, kind, figure, aroundFigure(voice, figure, 1, [{ ...note, ...to }]))
  const at = indexOf(note.level)
  // only a longa is drawn as two in one body
  const { duplex: _, ...single } = note
  for (const other of [at - 1, at + 1]) {
    const level = levelAt(other)
    if (level === undefined || isOutOfUse(subject, level)) continue
    const kind = kindOfChange(note.level, level)
    yield candidateAt(subject, kind, figure, aroundFigure(voice, figure, 1, [{ ...single, level }]))
  }
  if (plain && note.level === "semibrevis") yield* downstem(change, note)
}

/** Without minims a semibreve's stem goes down and makes it longer. */
function* downstem(change: (kind: EmendationKind, to: Partial<Note>) => Candidate, note: Note): Generator<Candidate> {
  const isDown = (stem: Note["stems"][number]): boolean => stem.direction === "down"
  if (note.stems.some(isDown)) yield change("stem-dropped", { stems: note.stems.filter(stem => !isDown(stem)) })
  else yield change("stem-added", { stems: [...note.stems, { direction: "down" }] })
}

/** A semibreve gets a stem and is a minim, or loses it; all other changes of a level go by their own name. */
export function kindOfChange(from: Level, to: Level): EmendationKind {
  if (from === "semibrevis" && to === "minima") return "stem-added"
  if (from === "minima" && to === "semibrevis") return "stem-dropped"
  return "level-changed"
}

/** Levels smaller than any that the page writes are not brought in; nor minims where none are written. */
export function isOutOfUse({ page, plain }: Pick<Subject, "page" | "plain">, level: Level): boolean {
  const index = indexOf(level)
  if (plain) return index > indexOf("semibrevis")
  return index > smallestOf(page)
}

const smallest = new WeakMap<Page, number>()
function smallestOf(page: Page): number {
  let known = smallest.get(page)
  if (known === undefined) {
    known = 3
    for (const voice of page.voices)
      for (const { sign } of figuresOf(voice)) if (sign.level) known = Math.max(known, indexOf(sign.level))
    smallest.set(page, known)
  }
  return known
}

function* rests(subject: Subject, figure: Figure, rest: Rest): Generator<Candidate> {
  const { voice } = subject
  const change = (to: Rest, extra = 0): Candidate =>
    candidateAt(subject, "rest-changed", figure, aroundFigure(voice, figure, 1, [to]), extra)
  for (const to of otherRests(subject, rest)) yield change(to)
  yield candidateAt(subject, "rest-changed", figure, aroundFigure(voice, figure, figure.dot ? 2 : 1, []), REST_TOO_MANY)
  const twin = { ...bare(rest), id: subject.fresh[0]! }
  yield candidateAt(subject, "rest-changed", figure, aroundFigure(voice, figure, 1, [rest, twin]), 1)
}

/** The rest with a stroke one longer or shorter, or of the next level. */
export function otherRests(subject: Subject, rest: Rest): Rest[] {
  const { spaces, level } = rest
  const strokes = [1, 2, 3].filter(n => spaces === undefined || n !== spaces.num || spaces.den !== 1)
  const { level: _, spaces: __, ...plainRest } = rest
  if (level === undefined) return strokes.map(n => ({ ...plainRest, spaces: ratio(n) }))
  const found: Rest[] = []
  if (level === "longa" && spaces !== undefined)
    for (const n of strokes) found.push({ ...plainRest, level: n === 1 ? "brevis" : "longa", spaces: ratio(n) })
  else if (level === "brevis" && spaces !== undefined)
    for (const n of [2, 3]) found.push({ ...plainRest, level: "longa", spaces: ratio(n) })
  const at = indexOf(level)
  for (const other of [at - 1, at + 1]) {
    const next = levelAt(other)
    if (next === undefined || other < 1 || isOutOfUse(subject, next)) continue
    if (next === "longa" && spaces !== undefined) continue
    if (level === "longa" && spaces !== undefined) continue
    found.push({ ...plainRest, level: next, ...(next === "brevis" && spaces !== undefined && { spaces: ratio(1) }) })
  }
  return found
}

/** A sign as it would be written anew: without words, zone, hand or given duration. */
export function bare<T extends Note | Rest>(sign: T): T {
  const { zone: _, editorial: __, extra: ___, given: ____, ...rest } = sign
  return ("syllables" in rest ? { ...rest, syllables: [] } : rest) as unknown as T
}

function* doubled(subject: Subject, figure: Figure): Generator<Candidate> {
  const before = subject.figures[figure.index - 1]
  if (figure.ligature || before?.ligature || !before || !sameShape(before.sign, figure.sign)) return
  if (figure.sign.kind === "rest" || figure.top - before.top > 2) return
  // The one that carries no syllable is the copy, as far as can be told.
  const gone = syllables(figure) > 0 && syllables(before) === 0 ? before : figure
  const edit = aroundFigure(subject.voice, gone, gone.dot ? 2 : 1, [])
  yield candidateAt(subject, "note-doubled", gone, edit)
  if (gone.dot) yield candidateAt(subject, "note-doubled", gone, aroundFigure(subject.voice, gone, 1, []), 1)
}

const syllables = ({ sign }: Figure): number => (sign.kind === "note" ? sign.syllables.length : 0)

export function sameShape(a: Note | Rest, b: Note | Rest): boolean {
  if (a.kind !== b.kind || a.level !== b.level || a.coloration !== b.coloration) return false
  if (a.kind === "rest" || b.kind === "rest") return JSON.stringify(bare(a).kind) === JSON.stringify(bare(b).kind)
  return a.pitch?.step === b.pitch?.step && a.pitch?.octave === b.pitch?.octave
}

/** A note (as the voice has others, dotted or not) left out before the figure. Its pitch is chosen later. */
function* missing(subject: Subject, figure: Figure): Generator<Candidate> {
  if (figure.ligature && figure.member > 0) return
  const before = subject.figures[figure.index - 1]
  const extra = MELODY_WEIGHT * subject.melody.filling(before ? stepOf(before) : Number.NaN, stepOf(figure))
  for (const coloration of inksBeside(before, figure))
    for (const { level, dotted } of shapesOf(subject)) {
      const note: Note = { kind: "note", id: subject.fresh[0]!, level, coloration, stems: [], syllables: [] }
      const signs = dotted ? [note, newDot(subject.fresh[1]!)] : [note]
      const edit: Edit = { voice: subject.voice.id, out: [], before: subject.voice.signs[figure.top]!.id, in: signs }
      yield candidateAt(subject, "note-missing", figure, edit, extra)
    }
}

/** A note between coloured notes is coloured, one between others is not, one between the two may be either. */
function inksBeside(before: Figure | undefined, after: Figure): Set<Note["coloration"]> {
  const inks = [before, after].flatMap(figure => (figure?.sign.kind === "note" ? [figure.sign.coloration] : []))
  return new Set(inks.length > 0 ? inks : ["none"])
}

/** Staff step of a note; NaN for a rest, or without a pitch. */
export function stepOf({ sign }: Figure): number {
  return sign.kind === "note" && sign.pitch ? stepNumber(sign.pitch) : Number.NaN
}

interface Shape {
  readonly level: Level
  readonly dotted: boolean
}

const used = new WeakMap<Voice, readonly Shape[]>()
function shapesOf(subject: Subject): readonly Shape[] {
  const { voice, figures } = subject
  let known = used.get(voice)
  if (known === undefined) {
    const shapes = new Map<string, Shape>()
    for (const { sign, dot } of figures)
      if (sign.kind === "note" && sign.level)
        shapes.set(`${sign.level}${dot ? "." : ""}`, { level: sign.level, dotted: dot !== undefined })
    for (const level of besideThose(subject, [...shapes.values()])) shapes.set(level, { level, dotted: false })
    used.set(voice, (known = [...shapes.values()]))
  }
  return known
}

/** The only note of its level may be the one that was left out: levels next to those of the voice, but for maximae. */
function besideThose(subject: Subject, shapes: readonly Shape[]): Level[] {
  const used = new Set(shapes.map(({ level }) => level))
  return LEVELS.filter((level, at) => {
    const beside = [LEVELS[at - 1], LEVELS[at + 1]].some(other => other !== undefined && used.has(other))
    return beside && !used.has(level) && level !== "maxima" && !isOutOfUse(subject, level)
  })
}
