/**
 * For tests: slips of the pen. Each takes a sound page and spoils it in one place, as a scribe does. Named by the kind
 * of the repair: the slip that "dot-added" would mend drops a dot. The same random numbers make the same slip.
 */
import { signId, type SignId } from "../../../base/index.js"
import {
  everySign,
  LEVELS,
  type Dot,
  type Level,
  type Note,
  type Page,
  type Rest,
  type Sign,
  type Voice,
} from "../../../page/index.js"
import type { Random } from "../../../reading/testing/random.js"
import { bare, kindOfChange, otherRests, subjectOf, type Subject } from "../candidates.js"
import { aroundFigure, edited, editOf, figuresOf, type Figure } from "../figures.js"
import { otherForms } from "../passages.js"
import { moveSign } from "../pitches.js"
import type { Edit, EmendationKind } from "../types.js"

export interface Slip {
  readonly kind: EmendationKind
  readonly page: Page
  readonly voice: Voice["id"]
  /** Numbers (from 0, in the spoiled voice) of the first and last note or rest that it concerns. */
  readonly from: number
  readonly to: number
  /** What was done to the sound voice. */
  readonly edit: Edit
}

/** What is done to the voice, and which figures of it (as it was) are concerned. */
interface Spoiling {
  readonly edit: Edit
  readonly from: number
  readonly to: number
}

type Planter = (subject: Subject, random: Random) => Spoiling | undefined

/** Tries made before a kind of slip is given up for a page. */
const TRIES = 40

/** The page with one slip of the kind, in a random voice; undefined where the page has no room for such. */
export function plantSlip(
  page: Page,
  kind: EmendationKind,
  random: Random,
  plain: (voice: Voice) => boolean,
): Slip | undefined {
  for (let i = 0; i < TRIES; i++) {
    const voice = random.of(page.voices)
    const subject = subjectOf(page, voice, ids(page, i), plain(voice))
    if (subject.figures.length < 8) continue
    const made = PLANTERS[kind](subject, random)
    const spoiled = made && edited(voice, made.edit)
    if (!made || !spoiled) continue
    return {
      kind,
      page: { ...page, voices: page.voices.map(one => (one === voice ? spoiled : one)) },
      voice: voice.id,
      edit: made.edit,
      ...placed(voice, spoiled, made),
    }
  }
  return undefined
}

/** The figures of the spoiled voice around the edit. */
function placed(voice: Voice, spoiled: Voice, { from, to }: Spoiling): { from: number; to: number } {
  const lost = figuresOf(voice).length - figuresOf(spoiled).length
  return { from: Math.max(0, from), to: Math.max(from, to - Math.max(0, lost)) }
}

function ids(page: Page, attempt: number): SignId[] {
  const taken = new Set<string>()
  for (const voice of page.voices) for (const sign of everySign(voice.signs)) taken.add(sign.id)
  return Array.from({ length: 40 }, (_, i) => signId(`slip-${attempt}-${i}`)).filter(id => !taken.has(id))
}

const one = (subject: Subject, figure: Figure, remove: number, signs: readonly Sign[]): Spoiling => ({
  edit: aroundFigure(subject.voice, figure, remove, signs),
  from: figure.index,
  to: figure.index,
})

/** Among the figures for which it can be done, one. */
function among(subject: Subject, random: Random, fits: (figure: Figure) => boolean): Figure | undefined {
  const { figures } = subject
  const all = figures.filter(figure => figure.index > 1 && figure.index < figures.length - 2 && fits(figure))
  return all.length === 0 ? undefined : random.of(all)
}

function changeLevel(from: (level: Level) => Level | undefined): Planter {
  return (subject, random) => {
    const figure = among(
      subject,
      random,
      ({ sign, ligature }) =>
        sign.kind === "note" && !ligature && sign.level !== undefined && from(sign.level) !== undefined,
    )
    if (!figure) return undefined
    return one(subject, figure, 1, [{ ...(figure.sign as Note), level: from(figure.sign.level!)! }])
  }
}

const dotAdded: Planter = (subject, random) => {
  const figure = among(subject, random, ({ dot }) => dot !== undefined)
  return figure && one(subject, figure, 2, [figure.sign])
}

const dotDropped: Planter = (subject, random) => {
  const figure = among(subject, random, ({ dot, sign }) => dot === undefined && sign.kind === "note")
  return figure && one(subject, figure, 1, [figure.sign, { kind: "dot", id: subject.fresh[0]! }])
}

const dotMoved: Planter = (subject, random) => {
  const { figures, voice } = subject
  const movable = (figure: Figure, by: number): boolean => {
    const next = figures[figure.index + by]
    return next?.sign.kind === "note" && !next.dot && next.ligature === undefined && figure.ligature === undefined
  }
  const by = random.chance(0.5) ? 1 : -1
  const figure = among(subject, random, one => one.dot !== undefined && movable(one, by))
  if (!figure) return undefined
  const other = figures[figure.index + by]!
  const [first, last] = by > 0 ? [figure, other] : [other, figure]
  const end = by > 0 ? last.top + 1 : last.top + 2
  const signs = voice.signs.slice(first.top, end).filter(sign => sign !== figure.dot)
  const at = signs.indexOf(other.sign)
  const edit = editOf(voice, first.top, end, signs.toSpliced(at + 1, 0, figure.dot as Dot))
  return { edit, from: first.index, to: last.index }
}

/** To the next level up or down, other than by a semibreve's stem. */
const levelChanged: Planter = (subject, random) => {
  const up = random.chance(0.5) ? 1 : -1
  return changeLevel(level => {
    const to = LEVELS[LEVELS.indexOf(level) + up]
    const inUse = to !== undefined && subject.figures.some(({ sign }) => sign.kind === "note" && sign.level === to)
    return inUse && kindOfChange(to, level) === "level-changed" ? to : undefined
  })(subject, random)
}

const restChanged: Planter = (subject, random) => {
  const figure = among(subject, random, ({ sign }) => sign.kind === "rest")
  if (!figure) return undefined
  const others = otherRests(subject, figure.sign as Rest)
  return others.length === 0 ? undefined : one(subject, figure, 1, [random.of(others)])
}

/** Words and notes are written apart: as often as not the syllable of a note that was left out is found at the one before. */
const noteMissing: Planter = (subject, random) => {
  const figure = among(subject, random, ({ sign, ligature }) => sign.kind === "note" && !ligature)
  if (!figure) return undefined
  const { syllables } = figure.sign as Note
  const before = subject.figures[figure.index - 1]
  if (syllables.length === 0 || before?.sign.kind !== "note" || before.ligature || random.chance(0.5))
    return one(subject, figure, figure.dot ? 2 : 1, [])
  const both = { ...before.sign, syllables: [...before.sign.syllables, ...syllables] }
  const [from, to] = [before.top, figure.top + (figure.dot ? 2 : 1)]
  const kept = subject.voice.signs.slice(from, to).filter(sign => sign !== figure.sign && sign !== figure.dot)
  const edit = editOf(
    subject.voice,
    from,
    to,
    kept.map(sign => (sign === before.sign ? both : sign)),
  )
  return { edit, from: figure.index, to: figure.index }
}

const noteDoubled: Planter = (subject, random) => {
  const figure = among(subject, random, ({ sign, ligature, dot }) => sign.kind === "note" && !ligature && !dot)
  if (!figure) return undefined
  const made = one(subject, figure, 1, [figure.sign, { ...bare(figure.sign as Note), id: subject.fresh[0]! }])
  return { ...made, to: figure.index + 1 }
}

const pitchShifted: Planter = (subject, random) => {
  const { figures, voice } = subject
  const size = 6 + random.below(9)
  if (figures.length < size + 4) return undefined
  // as often as not it is a line, whose clef was misread (the handbooks' usual case), from its beginning to its end
  const lines = figures.filter(({ index }) => index > 0 && opensLine(voice, figures[index - 1]!, figures[index]!))
  const inLine = lines.length > 0 && random.chance(0.5)
  const first = inLine ? random.of(lines) : figures[1 + random.below(figures.length - size - 1)]!
  const line = lines.find(one => one.index > first.index)?.index ?? figures.length
  const last = figures[(inLine ? line : Math.min(first.index + size, figures.length - 1)) - 1]!
  if (last.index <= first.index) return undefined
  if (figures[first.index - 1]?.top === first.top || figures[last.index + 1]?.top === last.top) return undefined
  const shift = random.chance(0.5) ? 2 : -2
  const signs = voice.signs.slice(first.top, last.top + 1).map(sign => moveSign(sign, shift))
  return { edit: editOf(voice, first.top, last.top + 1, signs), from: first.index, to: last.index }
}

const opensLine = ({ signs }: Voice, before: Figure, figure: Figure): boolean =>
  signs.slice(before.top + 1, figure.top).some(sign => sign.kind === "break")

/** A whole run of coloured notes in ordinary ink. */
const colorationMissing: Planter = ({ figures, voice }, random) => {
  const isColoured = (figure: Figure | undefined): boolean =>
    figure?.sign.kind === "note" && figure.sign.coloration !== "none"
  const starts = figures.filter(
    figure => isColoured(figure) && !isColoured(figures[figure.index - 1]) && figure.member <= 0,
  )
  if (starts.length === 0) return undefined
  const first = random.of(starts)
  let last = first
  while (isColoured(figures[last.index + 1]) || figures[last.index + 1]?.ligature === (last.ligature ?? 0))
    last = figures[last.index + 1]!
  const signs = voice.signs.slice(first.top, last.top + 1).map(bleached)
  return { edit: editOf(voice, first.top, last.top + 1, signs), from: first.index, to: last.index }
}

function bleached<T extends Sign>(sign: T): T {
  if (sign.kind === "note") return { ...sign, coloration: "none" }
  if (sign.kind === "ligature") return { ...sign, members: sign.members.map(bleached) }
  return sign
}

/** Three to eight figures skipped, or copied twice. */
const passage =
  (double: boolean): Planter =>
  (subject, random) => {
    const { figures, voice, fresh } = subject
    const size = 3 + random.below(6)
    if (figures.length < size + 6) return undefined
    const first = figures[2 + random.below(figures.length - size - 4)]!
    const last = figures[first.index + size - 1]!
    if (figures[first.index - 1]?.top === first.top || figures[last.index + 1]?.top === last.top) return undefined
    const end = last.top + (last.dot && !last.ligature ? 2 : 1)
    const copied = voice.signs.slice(first.top, end)
    if (
      copied.some(
        ({ kind }) => kind === "mensuration" || kind === "proportion" || kind === "clef" || kind === "signature",
      )
    )
      return undefined
    if (!double) return { edit: editOf(voice, first.top, end, []), from: first.index, to: last.index }
    let n = 0
    const renewed = (sign: Sign): Sign => {
      const id = fresh[n++] ?? signId(`copy-${n}`)
      if (sign.kind === "ligature") return { ...sign, id, members: sign.members.map(renewed) as typeof sign.members }
      return sign.kind === "note" || sign.kind === "rest" ? { ...bare(sign), id } : { ...sign, id }
    }
    const twice = copied.filter(sign => sign.kind !== "break" && sign.kind !== "mark").map(renewed)
    return { edit: editOf(voice, first.top, end, [...copied, ...twice]), from: first.index, to: last.index + size }
  }

/** A sign of mensuration or proportion in the course of the voice left out. */
const mensurationMissing: Planter = ({ figures, voice }, random) => {
  const signs = voice.signs.filter(sign => (sign.kind === "mensuration" && !sign.initial) || sign.kind === "proportion")
  const within = signs.filter(sign => figures.some(figure => figure.top < voice.signs.indexOf(sign)))
  if (within.length === 0) return undefined
  const at = voice.signs.indexOf(random.of(within))
  const figure = figures.find(one => one.top > at)
  return figure && { edit: editOf(voice, at, at + 1, []), from: figure.index, to: figure.index }
}

const ligatureChanged: Planter = ({ figures, voice }, random) => {
  const starts = figures.filter(figure => figure.member === 0 && figure.index > 0)
  if (starts.length === 0) return undefined
  const figure = random.of(starts)
  const ligature = figure.ligature!
  const forms = otherForms(ligature)
  if (forms.length === 0) return undefined
  const members = random.of(forms) as typeof ligature.members
  const edit = editOf(voice, figure.top, figure.top + 1, [{ ...ligature, members }])
  return { edit, from: figure.index, to: figure.index + members.length - 1 }
}

const PLANTERS: Readonly<Record<EmendationKind, Planter>> = {
  "dot-added": dotAdded,
  "dot-dropped": dotDropped,
  "dot-moved": dotMoved,
  "stem-added": changeLevel(level => (level === "minima" ? "semibrevis" : undefined)),
  "stem-dropped": changeLevel(level => (level === "semibrevis" ? "minima" : undefined)),
  "level-changed": levelChanged,
  "rest-changed": restChanged,
  "note-missing": noteMissing,
  "note-doubled": noteDoubled,
  "pitch-shifted": pitchShifted,
  "coloration-missing": colorationMissing,
  "passage-missing": passage(false),
  "passage-doubled": passage(true),
  "mensuration-missing": mensurationMissing,
  "ligature-changed": ligatureChanged,
}
