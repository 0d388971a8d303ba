/** For tests: edits of every kind that can fall on a voice, somewhere along it. The same random numbers give the same edit. */
import { signId, type SignId } from "../../base/index.js"
import type { Note, Sign, Voice } from "../../page/index.js"
import type { Random } from "./random.js"

const LEVELS = ["longa", "brevis", "semibrevis", "minima"] as const

/** The signs of a voice that are edited, and the note at which they are. */
interface Place {
  readonly signs: Sign[]
  readonly at: number
  readonly note: Note
  readonly random: Random
  readonly id: () => SignId
}

type Edit = (place: Place) => void

const put = ({ signs, at }: Place, sign: Sign): void => void signs.splice(at, 0, sign)
const turn = ({ signs, at, note }: Place, into: Partial<Note>): void => void (signs[at] = { ...note, ...into })

const EDITS = {
  level: p => turn(p, { level: p.random.of(LEVELS) }),
  delete: ({ signs, at }) => void signs.splice(at, 1),
  insert: p => put(p, { ...p.note, id: p.id() }),
  dot: p => put({ ...p, at: p.at + 1 }, { kind: "dot", id: p.id() }),
  undot: ({ signs, at }) => without(signs, at, "dot"),
  syllable: p => turn(p, { syllables: p.note.syllables.length > 0 ? [] : [{ stanza: 1, text: "la", join: " " }] }),
  words: ({ signs }) =>
    signs.forEach((one, i) => void (signs[i] = one.kind === "note" ? { ...one, syllables: [] } : one)),
  rest: p =>
    put(p, { kind: "rest", id: p.id(), level: p.random.of(LEVELS), coloration: p.random.of(["none", "black"]) }),
  longRest: p =>
    put(p, { kind: "rest", id: p.id(), spaces: { num: 1 + p.random.below(4), den: 1 }, coloration: "none" }),
  mensuration: p => put(p, { kind: "mensuration", id: p.id(), sign: p.random.of(["C", "O"]), dots: p.random.below(2) }),
  unsign: ({ signs, at }) => without(signs, at, "mensuration"),
  proportion: p => put(p, { kind: "proportion", id: p.id(), num: 3, numbase: 2 }),
  stroke: p => put(p, { kind: "stroke", id: p.id(), form: p.random.of(["divisio-modi", "signum-rotundum", "bar"]) }),
  finis: p => put(p, { kind: "stroke", id: p.id(), form: "finis-punctorum" }),
  unstroke: ({ signs, at }) => without(signs, at, "stroke"),
  colour: p => turn(p, { coloration: p.note.coloration === "none" ? p.random.of(["black", "half-left"]) : "none" }),
  colourGroup: ({ signs, at }) => {
    for (let i = at; i < Math.min(signs.length, at + 4); i++) {
      const one = signs[i]!
      if (one.kind === "note") signs[i] = { ...one, coloration: "black" }
    }
  },
  ligature: bind,
  unbind: ({ signs, at }) => {
    const found = signs.findIndex((sign, i) => i >= at && sign.kind === "ligature")
    const ligature = signs[found]
    if (ligature?.kind === "ligature") signs.splice(found, 1, ...ligature.members)
  },
  accidental: p =>
    put(p, { kind: "accidental", id: p.id(), accidental: "f", ...(p.note.pitch && { pitch: p.note.pitch }) }),
  signature: p => put(p, { kind: "signature", id: p.id(), accidentals: [{ step: "b", accidental: "f" }] }),
  pitch: p => turn(p, { pitch: { step: "d", octave: 4 } }),
  stem: p => turn(p, { stems: p.note.stems.length > 0 ? [] : [{ direction: "down" }] }),
  plica: p => turn(p, { plica: { direction: "up" } }),
  given: p => turn(p, { given: { num: 3, numbase: 2 } }),
  gap: p => put(p, { kind: "other", id: p.id(), name: "gap" }),
  canon: p => put(p, { kind: "mark", id: p.id(), of: "canon", text: "crescit in duplo" }),
  passage: ({ signs, at, random }) => void signs.splice(at, 1 + random.below(20)),
  repeat: ({ signs, at, random, id }) => void signs.splice(at, 0, ...again(signs.slice(at, at + random.below(30)), id)),
  end: ({ signs, random }) => void (signs.length -= Math.min(signs.length - 3, random.below(8))),
} as const satisfies Record<string, Edit>

function without(signs: Sign[], from: number, kind: Sign["kind"]): void {
  const at = signs.findIndex((sign, i) => i >= from && sign.kind === kind)
  if (at >= 0) signs.splice(at, 1)
}

function bind({ signs, at, random, id }: Place): void {
  let end = at
  while (end < at + 3 && signs[end]?.kind === "note") end++
  if (end - at < 2) return
  const members = (signs.slice(at, end) as Note[]).map(({ level, ...note }): Note =>
    random.chance(0.5) || level === undefined ? note : { ...note, level },
  )
  signs.splice(at, end - at, { kind: "ligature", id: id(), form: "recta", members })
}

const again = (signs: readonly Sign[], id: () => SignId): Sign[] =>
  signs.map((sign): Sign =>
    sign.kind === "ligature"
      ? { ...sign, id: id(), members: sign.members.map(member => ({ ...member, id: id() })) }
      : { ...sign, id: id() },
  )

/** What can be done to a voice. */
export const EDIT_KINDS = Object.keys(EDITS) as readonly (keyof typeof EDITS)[]

/** The voice after one edit at a note drawn at random; `id` gives ids that no sign has. */
export function edited(voice: Voice, kind: keyof typeof EDITS, random: Random, id: () => SignId): Voice {
  const notes = voice.signs.flatMap((sign, at) => (sign.kind === "note" ? [{ note: sign, at }] : []))
  if (notes.length === 0) return voice
  const signs = [...voice.signs]
  EDITS[kind]({ ...random.of(notes), signs, random, id })
  return { ...voice, signs }
}

/** Gives ids one after the other. */
export function freshIds(): () => SignId {
  let made = 0
  return () => signId(`new.${++made}`)
}
