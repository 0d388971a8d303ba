/** What can be said of each kind of sign, in the order in which the printer says it. */
import type {
  AccidentalSign, Break, Clef, Coloration, Comment, Custos, Dot, Editorial, Given, Ligature, Mark, MensurationSign, Note,
  Other, Plica, Proportion, Rest, Sign, Signature, Stem, Stroke, Syllable,
} from "../signs.js"
import { areDrawable, isDrawable, isShortAccidental } from "./words.js"
import { choice, composed, levelled, numeric, pitched, record, textual, truth, writeRecord, type Property } from "./property.js"
import { inBrackets, lookUp, pair, quote, readNumber, type Term } from "./tokens.js"

export const COLORATIONS: Record<string, Coloration> = {
  none: "none", red: "red", "red-void": "red-void", void: "void", black: "black", other: "other",
  "half-left": "half-left", "half-right": "half-right", "half-top": "half-top", "half-bottom": "half-bottom",
}
/** Coloration is written by the printer of spans, which knows what is in force: here it is only read. */
const coloration = <S extends { readonly coloration: Coloration }>(): Property<S> => ({
  ...choice<S, "coloration">("coloration", COLORATIONS as Record<string, S["coloration"]>),
  write: () => "",
})

export const EDITORIAL_KINDS = ["supplied", "unclear", "corr", "lem", "rdg", "reg", "add"] as const
const EDITORIAL_PARTS = ["resp", "cert", "reason", "source"] as const

/** `supplied(resp=ed reason="worn")`, also in the line of an alternative. */
export function readEditorial(term: Term): Editorial | undefined {
  const kind = EDITORIAL_KINDS.find(one => one === term.name)
  const parts = record(term.args ?? [])
  if (!kind || !parts || Object.keys(parts).some(name => !EDITORIAL_PARTS.includes(name as never))) return undefined
  return { kind, ...parts }
}
export function writeEditorial(editorial: Editorial): string {
  const parts = EDITORIAL_PARTS.flatMap(name => (editorial[name] === undefined ? [] : [pair(name, editorial[name])]))
  return editorial.kind + inBrackets(parts)
}
const editorial: Property<Sign> = {
  kind: "flag",
  names: EDITORIAL_KINDS,
  form: ":supplied(resp=… cert=… reason=… source=…)",
  read: term => {
    const found = term.value === undefined ? readEditorial(term) : undefined
    return found && { editorial: found }
  },
  write: sign => (sign.editorial ? `:${writeEditorial(sign.editorial)}` : ""),
}

/** What any sign may have. The id is seen to by the builder and the printer, who know which one is expected. */
const COMMON: readonly Property<Sign>[] = [
  textual<Sign>("id"),
  textual<Sign>("zone"),
  editorial,
  composed<Sign>("extra", "extra", record, writeRecord),
].map(one => (one.names[0] === "id" ? { ...one, write: () => "" } : one))

const QUALITIES = ["perfecta", "imperfecta", "altera", "minor", "maior"] as const
const given = <S extends { readonly given?: Given }>(): Property<S> =>
  composed<S>("given", "given", readGiven, ({ quality, num, numbase }: Given) => [
    ...(quality ? [quality] : []),
    ...(num === undefined ? [] : [pair("num", num)]),
    ...(numbase === undefined ? [] : [pair("numbase", numbase)]),
  ])
function readGiven(args: readonly Term[]): Given | undefined {
  let found: Given = {}
  for (const { name, value } of args) {
    const quality = QUALITIES.find(one => one === name)
    const number = readNumber(value)
    if (quality && value === undefined) found = { ...found, quality }
    else if ((name === "num" || name === "numbase") && number !== undefined) found = { ...found, [name]: number }
    else return undefined
  }
  return found
}

const DIRECTIONS: Record<string, Stem["direction"]> = {
  up: "up", down: "down", left: "left", right: "right", ne: "ne", nw: "nw", se: "se", sw: "sw", u: "up", d: "down",
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
  join: (before, now) => ({ stems: [...(before.stems ?? []), ...(now.stems ?? [])] }),
}
function readStem(direction: Stem["direction"], args: readonly Term[]): Stem | undefined {
  let stem: Stem = { direction }
  for (const { name, value } of args) {
    const position = POSITIONS.find(one => one === name)
    const length = readNumber(value)
    if (position && value === undefined) stem = { ...stem, position }
    else if (name === "length" && length !== undefined) stem = { ...stem, length }
    else if (name === "form" && value !== undefined) stem = { ...stem, form: value }
    else if (name === "flag" && value === undefined) stem = { ...stem, flag: { ...stem.flag } }
    else if (name === "flag-position" && value !== undefined) stem = { ...stem, flag: { ...stem.flag, position: value } }
    else if (name === "flag-form" && value !== undefined) stem = { ...stem, flag: { ...stem.flag, form: value } }
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
  "": {}, up: { direction: "up" }, down: { direction: "down" }, u: { direction: "up" }, d: { direction: "down" },
}
const plica: Property<Note> = {
  kind: "plica",
  names: Object.keys(PLICAS),
  form: "\\up, \\down or \\ alone, \\down2 for two strokes, \\down(length=2)",
  read: ({ name, args = [] }) => {
    const [, word = "", strokes] = /^([a-z]*)([12]?)$/.exec(name) ?? [undefined, "-"]
    const lengths = args.map(one => (one.name === "length" ? readNumber(one.value) : undefined))
    const plica = lookUp(PLICAS, word)
    if (!plica || lengths.includes(undefined)) return undefined
    const length = lengths[0]
    return { plica: { ...plica, ...(strokes && { strokes: Number(strokes) as 1 | 2 }), ...(length !== undefined && { length }) } }
  },
  write: ({ plica: is }) => {
    if (!is) return ""
    return `\\${is.direction ?? ""}${is.strokes ?? ""}${inBrackets(is.length === undefined ? [] : [pair("length", is.length)])}`
  },
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
  join: (before, now) => ({ syllables: [...(before.syllables ?? []), ...(now.syllables ?? [])] }),
}
function readSyllable(args: readonly Term[]): Syllable | undefined {
  const [first, ...rest] = args
  if (!first || first.value !== undefined) return undefined
  let syllable: Syllable = { stanza: 1, text: first.name, join: " " }
  for (const { name, value } of rest) {
    const stanza = readNumber(value)
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

const near = <S extends { readonly near?: "previous" | "next" }>(): Property<S> => ({
  kind: "flag",
  names: ["near"],
  form: ":near=previous or :near=next",
  read: ({ value }) => (value === "previous" || value === "next" ? ({ near: value } as Partial<S>) : undefined),
  write: sign => (sign.near ? `:near=${sign.near}` : ""),
})

const NOTE: readonly Property<Note>[] = [
  stems,
  plica,
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
const REST: readonly Property<Rest>[] = [
  coloration<Rest>(), numeric<Rest>("loc"), near<Rest>(), truth<Rest>("fermata"), given<Rest>(),
]
const DOT: readonly Property<Dot>[] = [
  choice<Dot, "given">("given", { aug: "aug", div: "div" }), textual<Dot>("form"), numeric<Dot>("loc"),
]
const STROKE: readonly Property<Stroke>[] = [numeric<Stroke>("length"), numeric<Stroke>("loc"), near<Stroke>()]
const LIGATURE: readonly Property<Ligature>[] = [
  choice<Ligature, "form">("form", { recta: "recta", obliqua: "obliqua" }),
  choice<Ligature, "propriety">("propriety", {
    "cum-proprietate": "cum", "sine-proprietate": "sine", "opposita-proprietate": "opposita",
  }),
  choice<Ligature, "perfection">("perfection", { "cum-perfectione": "cum", "sine-perfectione": "sine" }),
  truth<Ligature>("conjunctura"),
]

/**
 * Whether it stands in the definition of the voice. Signs before the first other one do unless `:within` is said;
 * the builder and the printer see to that.
 */
const initial = <S extends { readonly initial?: boolean }>(): Property<S> => ({
  kind: "flag",
  names: ["initial", "within"],
  form: ":initial or :within",
  read: ({ name, value }) => (value === undefined ? ({ initial: name === "initial" } as Partial<S>) : undefined),
  write: () => "",
})
const DIVISIONS: Record<string, 2 | 3> = { "2": 2, "3": 3, imperfect: 2, perfect: 3, minor: 2, major: 3 }
/** A level of a mensuration sign: `:tempus=3`, also `:tempus=perfect`. */
const division = (key: "modusMaior" | "modusMinor" | "tempus" | "prolatio", ...names: string[]): Property<MensurationSign> => ({
  kind: "flag",
  names,
  form: `:${names[0]}=2 or :${names[0]}=3`,
  read: ({ value }) => {
    const found = lookUp(DIVISIONS, value ?? "")
    return found && { [key]: found }
  },
  write: sign => (sign[key] ? `:${names[0]}=${sign[key]}` : ""),
})
const counted = (key: "dots" | "strokes"): Property<MensurationSign> => ({
  ...numeric<MensurationSign>(key),
  write: sign => (sign[key] === undefined || (sign.sign && isDrawable(sign[key])) ? "" : `:${key}=${sign[key]}`),
})
const figures: Property<MensurationSign> = {
  ...composed<MensurationSign>(
    "figures",
    "figures",
    args => {
      const all = args.map(({ name, value }) => (value === undefined ? readNumber(name) : undefined))
      return all.includes(undefined) ? undefined : all
    },
    (all: readonly number[]) => all.map(String),
  ),
}
const drawnFigures: Property<MensurationSign> = {
  ...figures,
  write: sign => (sign.sign && areDrawable(sign.figures) ? "" : figures.write(sign)),
}
const MENSURATION: readonly Property<MensurationSign>[] = [
  counted("dots"),
  counted("strokes"),
  truth<MensurationSign>("reversed"),
  choice<MensurationSign, "orientation">("orientation", { "90CW": "90CW", "90CCW": "90CCW" }),
  drawnFigures,
  textual<MensurationSign>("letter"),
  division("modusMaior", "modusmaior", "maximodus"),
  division("modusMinor", "modus", "modusminor"),
  division("tempus", "tempus"),
  division("prolatio", "prolatio"),
  numeric<MensurationSign>("num"),
  numeric<MensurationSign>("numbase"),
  levelled<MensurationSign>("level"),
  textual<MensurationSign>("shape"),
  initial<MensurationSign>(),
]
const CLEF: readonly Property<Clef>[] = [numeric<Clef>("octaveShift", "octave"), initial<Clef>()]
const ACCIDENTAL: readonly Property<AccidentalSign>[] = [
  pitched<AccidentalSign>("pitch", "at"), truth<AccidentalSign>("byEditor", "by-editor"),
]

/** By kind; each list begins with what is the kind's own. */
export const PROPERTIES: { readonly [K in Sign["kind"]]: readonly Property<Extract<Sign, { kind: K }>>[] } = {
  note: [...NOTE, ...common<Note>()],
  rest: [...REST, ...common<Rest>()],
  dot: [...DOT, ...common<Dot>()],
  stroke: [...STROKE, ...common<Stroke>()],
  ligature: [...LIGATURE, ...common<Ligature>()],
  mensuration: [...MENSURATION, ...common<MensurationSign>()],
  proportion: common<Proportion>(),
  clef: [...CLEF, ...common<Clef>()],
  signature: [initial<Signature>(), ...common<Signature>()],
  accidental: [...ACCIDENTAL, ...common<AccidentalSign>()],
  custos: common<Custos>(),
  break: common<Break>(),
  mark: common<Mark>(),
  comment: common<Comment>(),
  other: common<Other>(),
}
function common<S extends Sign>(): readonly Property<S>[] {
  return COMMON as unknown as readonly Property<S>[]
}
