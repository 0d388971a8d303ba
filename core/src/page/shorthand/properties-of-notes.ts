/** What can be said of a note: stems, plica, syllables and all the rest. */
import type { Note, Plica, Stem, Syllable } from "../signs.js"
import { coloration, given } from "./properties-common.js"
import { choice, textual, truth, type Property } from "./property.js"
import { inBrackets, LARGEST, lookUp, pair, quote, readLength, readWhole, type Term } from "./tokens.js"
import { isShortAccidental } from "./words.js"

const DIRECTIONS: Record<string, Stem["direction"]> = {
  up: "up",
  down: "down",
  left: "left",
  right: "right",
  ne: "ne",
  nw: "nw",
  se: "se",
  sw: "sw",
  u: "up",
  d: "down",
}
const POSITIONS = ["left", "right", "center"] as const
const stems: Property<Note> = {
  kind: "stem",
  names: Object.keys(DIRECTIONS),
  form: "/up, /down, /sw … with (left length=2 form=oblique flag flag-position=left flag-form=hooked)",
  read: ({ name, args = [] }) => {
    const direction = lookUp(DIRECTIONS, name)
    const stem = direction && readStem(direction, args)
    return stem && { stems: [stem] }
  },
  write: note => note.stems.map(writeStem).join(""),
  list: true,
}
function readStem(direction: Stem["direction"], args: readonly Term[]): Stem | undefined {
  let stem: Stem = { direction }
  for (const { name, value } of args) {
    const position = POSITIONS.find(one => one === name)
    const length = readLength(value)
    if (position && value === undefined) stem = { ...stem, position }
    else if (name === "length" && length !== undefined) stem = { ...stem, length }
    else if (name === "form" && value) stem = { ...stem, form: value }
    else if (name === "flag" && value === undefined) stem = { ...stem, flag: { ...stem.flag } }
    else if (name === "flag-position" && value) stem = { ...stem, flag: { ...stem.flag, position: value } }
    else if (name === "flag-form" && value) stem = { ...stem, flag: { ...stem.flag, form: value } }
    else return undefined
  }
  return stem
}
function writeStem({ direction, position, length, form, flag }: Stem): string {
  const flagged = flag && flag.position === undefined && flag.form === undefined
  return `/${direction}${inBrackets([
    ...(position ? [position] : []),
    ...(length === undefined ? [] : [pair("length", length)]),
    ...(form === undefined ? [] : [pair("form", form)]),
    ...(flagged ? ["flag"] : []),
    ...(flag?.position === undefined ? [] : [pair("flag-position", flag.position)]),
    ...(flag?.form === undefined ? [] : [pair("flag-form", flag.form)]),
  ])}`
}

const PLICAS: Record<string, Plica> = {
  "": {},
  up: { direction: "up" },
  down: { direction: "down" },
  u: { direction: "up" },
  d: { direction: "down" },
}
const plica: Property<Note> = {
  kind: "plica",
  names: Object.keys(PLICAS),
  form: "\\up, \\down or \\ alone, \\down2 for two strokes, \\down(length=2)",
  read: ({ name, args = [] }) => {
    const [, word = "", strokes] = /^([a-z]*)([12]?)$/.exec(name) ?? [undefined, "-"]
    const lengths = args.map(one => (one.name === "length" ? readLength(one.value) : undefined))
    const plica = lookUp(PLICAS, word)
    if (!plica || lengths.includes(undefined)) return undefined
    const length = lengths[0]
    return {
      plica: {
        ...plica,
        ...(strokes && { strokes: Number(strokes) as 1 | 2 }),
        ...(length !== undefined && { length }),
      },
    }
  },
  write: ({ plica: is }) => {
    if (!is) return ""
    return `\\${is.direction ?? ""}${is.strokes ?? ""}${inBrackets(is.length === undefined ? [] : [pair("length", is.length)])}`
  },
}

/** `_` after the suffixes; the printer writes it within the note's word. */
const oblique: Property<Note> = {
  kind: "oblique",
  names: [],
  form: "_ after a note: [g_ e]",
  read: () => ({ oblique: true }),
  write: () => "",
}

const JOINS = ["-", " ", "_", "~"] as const
/** A syllable on a note that the line of lyrics does not reach; the builder adds those of the line. */
const syllables: Property<Note> = {
  kind: "flag",
  names: ["syllable"],
  form: ':syllable("text" stanza=1 join="-" italic)',
  read: ({ args = [] }) => {
    const syllable = readSyllable(args)
    return syllable && { syllables: [syllable] }
  },
  write: () => "",
  list: true,
}
function readSyllable(args: readonly Term[]): Syllable | undefined {
  const [first, ...rest] = args
  if (!first?.name || first.value !== undefined) return undefined
  let syllable: Syllable = { stanza: 1, text: first.name, join: " " }
  for (const { name, value } of rest) {
    const stanza = readWhole(value, 1, LARGEST)
    const join = JOINS.find(one => one === value)
    if (name === "stanza" && stanza !== undefined) syllable = { ...syllable, stanza }
    else if (name === "join" && join) syllable = { ...syllable, join }
    else if (name === "italic" && value === undefined) syllable = { ...syllable, italic: true }
    else return undefined
  }
  return syllable
}
export function writeSyllable({ text, stanza, join, italic }: Syllable): string {
  return `:syllable(${[
    JSON.stringify(text),
    ...(stanza === 1 ? [] : [pair("stanza", stanza)]),
    ...(join === " " ? [] : [pair("join", join)]),
    ...(italic ? ["italic"] : []),
  ].join(" ")})`
}

const oddAccidental = <S>(key: keyof S & string, name: string): Property<S> => ({
  ...textual<S>(key, name),
  write: sign => {
    const accidental = sign[key] as string | undefined
    return accidental === undefined || isShortAccidental(accidental) ? "" : `:${name}=${quote(accidental)}`
  },
})

export const NOTE: readonly Property<Note>[] = [
  stems,
  plica,
  oblique,
  coloration<Note>(),
  truth<Note>("duplex"),
  truth<Note>("wide"),
  choice<Note, "head">("head", { over: "over", beside: "beside" }),
  oddAccidental<Note>("accidental", "accidental"),
  {
    ...truth<Note>("accidentalByEditor", "by-editor"),
    write: note => (note.accidentalByEditor && !isShortAccidental(note.accidental) ? ":by-editor" : ""),
  },
  oddAccidental<Note>("accidentalInForce", "in-force"),
  textual<Note>("shape"),
  truth<Note>("fermata"),
  given<Note>(),
  syllables,
]
