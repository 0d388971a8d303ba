/** Changes of a whole passage: coloration lost, a stretch copied twice, a ligature or a sign of mensuration wrong. */
import {
  type Coloration,
  type Level,
  type Ligature,
  type MensurationSign,
  type Note,
  type Sign,
} from "../../page/index.js"
import { candidateAt, sameShape, type Candidate, type Subject } from "./candidates.js"
import { editOf, type Figure } from "./figures.js"
import type { Edit } from "./types.js"
import type { MensurationSpan } from "../../reading/index.js"
import { NO_OTHER_COLOUR, RUN_CUT_SHORT, SHORT_COPY } from "./weights.js"

/** The longest runs that are looked at, in notes and rests. */
const LONGEST_COLOURED = 9
const LONGEST_COPIED = 16

/** Notes that stand in a run and have no colour, coloured as the page colours others. */
export function* coloured(subject: Subject): Generator<Candidate> {
  const { voice, figures } = subject
  const used = inkOf(subject)
  const ink = used ?? (voice.notation === "white" ? "black" : "red")
  const extra = used === undefined ? NO_OTHER_COLOUR : 0
  for (let from = 0; from < figures.length; from++) {
    if (!isPlain(figures[from])) continue
    let notes = 0
    for (let to = from; to < figures.length && notes < LONGEST_COLOURED; to++) {
      const figure = figures[to]!
      if (figure.sign.kind === "rest") continue
      if (!isPlain(figure)) break
      notes++
      const joins = isInk(figures[from - 1], ink) || isInk(figures[to + 1], ink)
      if ((notes < 2 && !joins) || !isWhole(figures, from, to)) continue
      const first = figures[from]!
      const edit = editOf(
        voice,
        first.top,
        figure.top + 1,
        voice.signs.slice(first.top, figure.top + 1).map(sign => inInk(sign, ink)),
      )
      yield candidateAt(subject, "coloration-missing", first, edit, notes < 2 ? extra + RUN_CUT_SHORT : extra, to)
    }
  }
}

const isPlain = (figure: Figure | undefined): boolean =>
  figure?.sign.kind === "note" && figure.sign.coloration === "none" && figure.sign.level !== "semiminima"
const isInk = (figure: Figure | undefined, ink: Coloration): boolean =>
  figure?.sign.coloration === ink && figure.sign.kind === "note"

/** Neither end cuts a ligature. */
function isWhole(figures: readonly Figure[], from: number, to: number): boolean {
  return figures[from - 1]?.top !== figures[from]!.top && figures[to + 1]?.top !== figures[to]!.top
}

function inInk<T extends Sign>(sign: T, ink: Coloration): T {
  if (sign.kind === "note") return { ...sign, coloration: ink }
  if (sign.kind === "ligature") return { ...sign, members: sign.members.map(member => inInk(member, ink)) }
  return sign
}

/** The colour that the page uses. */
function inkOf({ page, voice }: Pick<Subject, "page" | "voice">): Coloration | undefined {
  for (const one of [voice, ...page.voices])
    for (const sign of one.signs)
      for (const note of sign.kind === "ligature" ? sign.members : [sign])
        if (note.kind === "note" && note.coloration !== "none") return note.coloration
  return undefined
}

/** What is copied with a passage; line ends, clefs and signs of mensuration stay where they are. */
const COPIED: ReadonlySet<Sign["kind"]> = new Set<Sign["kind"]>([
  "note",
  "rest",
  "dot",
  "ligature",
  "stroke",
  "accidental",
])

/** A run that repeats the one before it, sign for sign, taken out. */
export function* copied(subject: Subject): Generator<Candidate> {
  const { voice, figures } = subject
  for (let size = 2; size <= LONGEST_COPIED; size++) {
    let same = 0
    for (let at = size; at < figures.length; at++) {
      same = sameShape(figures[at - size]!.sign, figures[at]!.sign) ? same + 1 : 0
      const from = at - size + 1
      if (same < size || !isWhole(figures, from, at)) continue
      const first = figures[from]!
      const end = figures[at]!
      const to = end.top + (end.dot && !end.ligature ? 2 : 1)
      const out = voice.signs.slice(first.top, to)
      const kept = out.filter(sign => !COPIED.has(sign.kind))
      // The longer the copy, the less it is chance: two notes come twice anywhere.
      yield candidateAt(
        subject,
        "passage-doubled",
        first,
        editOf(voice, first.top, to, kept),
        SHORT_COPY - Math.min(size, 6) / 2,
        at,
      )
    }
  }
}

/** Ligatures whose stems or ends may have been drawn wrongly. */
export function* ligatures(subject: Subject): Generator<Candidate> {
  const { voice, figures } = subject
  for (const figure of figures) {
    const { ligature } = figure
    if (!ligature || figures[figure.index - 1]?.ligature === ligature) continue
    for (const members of otherForms(ligature)) {
      const edit = editOf(voice, figure.top, figure.top + 1, [{ ...ligature, members }])
      const notes = members.filter(member => member.kind === "note").length
      yield {
        ...candidateAt(subject, "ligature-changed", figure, edit, 0, figure.index + notes - 1),
        sign: ligature.id,
      }
    }
  }
}

/** The ligature with its first stem or its last head drawn otherwise. */
export function otherForms(ligature: Ligature): (readonly (Note | Ligature["members"][number])[])[] {
  const notes = ligature.members.filter(member => member.kind === "note")
  const [first, last] = [notes[0], notes.at(-1)]
  if (first === undefined || last === undefined || first === last) return []
  const put = (changes: ReadonlyMap<Note, Partial<Note>>): Ligature["members"] =>
    ligature.members.map(member =>
      member.kind === "note" && changes.has(member) ? { ...member, ...changes.get(member) } : member,
    )
  if (notes.some(note => note.level === undefined)) return drawnForms(first, last).map(put)
  return levelForms(notes).map(put)
}

type Changes = Map<Note, Partial<Note>>

/** First stem down, up or none; the last head over the one before or beside it; an end stem or none. */
function drawnForms(first: Note, last: Note): Changes[] {
  const found: Changes[] = []
  const [stem] = first.stems
  const is = (direction: string | undefined): boolean => stem?.direction === direction
  if (stem) found.push(new Map([[first, { stems: [] }]]))
  if (!is("down")) found.push(new Map([[first, { stems: [{ direction: "down", position: "left" }] }]]))
  if (!is("up")) found.push(new Map([[first, { stems: [{ direction: "up", position: "left" }] }]]))
  const { head: _, ...plain } = last
  if (last.head === "over") found.push(new Map([[last, { ...plain, head: "beside" }]]))
  else if (!first.oblique) found.push(new Map([[last, { head: "over" }]]))
  return found
}

const pair = (first: Note, a: Level, second: Note, b: Level): Changes =>
  new Map([
    [first, { level: a }],
    [second, { level: b }],
  ])

/** Where the levels are written down: what the same body says with another stem. */
function levelForms(notes: readonly Note[]): Changes[] {
  const found: Changes[] = []
  const [first, second] = [notes[0]!, notes[1]!]
  const last = notes.at(-1)!
  const swap: Partial<Record<Level, Level>> = { longa: "brevis", brevis: "longa" }
  for (const note of [first, last]) if (swap[note.level!]) found.push(new Map([[note, { level: swap[note.level!]! }]]))
  const opposed = first.level === "semibrevis" && second.level === "semibrevis"
  if (opposed)
    for (const [a, b] of [
      ["brevis", "brevis"],
      ["longa", "brevis"],
      ["brevis", "longa"],
      ["longa", "longa"],
    ] as const)
      found.push(pair(first, a, second, b))
  else found.push(pair(first, "semibrevis", second, "semibrevis"))
  return found
}

/** Signs that may have been lost: those the page has elsewhere, and the common ones. */
export function* mensurations(
  subject: Subject,
  spans: (figure: Figure) => MensurationSpan | undefined,
): Generator<Candidate> {
  const { voice, figures, fresh } = subject
  if (figures.length === 0) return
  const signs = signsFor(subject)
  for (const figure of figures) {
    if (figure.ligature && figure.member > 0) continue
    const span = spans(figure)
    for (const sign of signs) {
      if (sign.kind === "mensuration" && span && saysTheSame(sign, span)) continue
      const edit: Edit = {
        voice: voice.id,
        out: [],
        before: voice.signs[figure.top]!.id,
        in: [{ ...sign, id: fresh[0]! } as Sign],
      }
      yield candidateAt(subject, "mensuration-missing", figure, edit, 0, figures.length - 1)
    }
  }
}

/** Signs of mensuration and proportion that may have been drawn for others; the modus that one states stays with it. */
export function* otherSigns(subject: Subject): Generator<Candidate> {
  const { voice, figures } = subject
  const lost = signsFor(subject)
  for (const [at, old] of voice.signs.entries()) {
    const figure = figures.find(({ top }) => top > at)
    if (figure === undefined) return
    if (old.kind !== "proportion" && (old.kind !== "mensuration" || old.sign === undefined)) continue
    for (const sign of lost) {
      if (sign.kind !== old.kind || drawn(sign) === drawn(old)) continue
      const edit = editOf(voice, at, at + 1, [{ ...sign, ...modusOf(old), id: old.id } as Sign])
      yield { ...candidateAt(subject, "mensuration-missing", figure, edit, 0, figures.length - 1), sign: old.id }
    }
  }
}

function modusOf(sign: Sign): Pick<MensurationSign, "modusMaior" | "modusMinor"> {
  if (sign.kind !== "mensuration") return {}
  const { modusMaior, modusMinor } = sign
  return { ...(modusMaior && { modusMaior }), ...(modusMinor && { modusMinor }) }
}

/** What of it is seen: signs that are drawn alike have the same. */
export const drawn = (sign: LostSign | Sign): string =>
  sign.kind === "proportion"
    ? `${sign.num}/${sign.numbase}`
    : sign.kind === "mensuration"
      ? [sign.sign, sign.dots ?? 0, sign.strokes ?? 0, sign.reversed ?? false, sign.figures ?? []].join(" ")
      : ""

function saysTheSame({ sign, dots, strokes, figures }: Omit<MensurationSign, "id">, span: MensurationSpan): boolean {
  if (strokes || figures || sign === undefined) return false
  const isOne = span.proportion.num === span.proportion.den
  return isOne && span.tempus === (sign === "O" ? 3 : 2) && span.prolatio === (dots ? 3 : 2)
}

type LostSign =
  Omit<MensurationSign, "id"> | { readonly kind: "proportion"; readonly num: number; readonly numbase?: number }

function signsFor({ page }: Subject): LostSign[] {
  const found = new Map<string, LostSign>()
  const add = (sign: LostSign): void => void found.set(JSON.stringify(sign), sign)
  for (const sign of ["O", "C"] as const)
    for (const dots of [undefined, 1]) add({ kind: "mensuration", sign, ...(dots && { dots }) })
  for (const voice of page.voices)
    for (const sign of voice.signs) {
      if (sign.kind === "mensuration" && sign.sign) {
        const { kind, sign: circle, dots, strokes, reversed, figures } = sign
        add({
          kind,
          sign: circle,
          ...(dots !== undefined && { dots }),
          ...(strokes !== undefined && { strokes }),
          ...(reversed !== undefined && { reversed }),
          ...(figures !== undefined && { figures }),
        })
      } else if (sign.kind === "proportion")
        add({ kind: "proportion", num: sign.num, ...(sign.numbase !== undefined && { numbase: sign.numbase }) })
    }
  add({ kind: "mensuration", sign: "C", strokes: 1 })
  add({ kind: "proportion", num: 3, numbase: 2 })
  return [...found.values()]
}
