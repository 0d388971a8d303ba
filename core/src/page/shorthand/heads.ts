/**
 * The words that stand for signs other than notes, rests and mensuration signs, and what follows their first colon:
 * `clef:C3`, `folio:3v`, `canon:"crescit in duplo"`.
 */
import type { Break, Mark, Sign, Signature, Stroke } from "../signs.js"
import { PROPERTIES } from "./properties.js"
import { readPitch, writePitch, type Surroundings } from "./property.js"
import { isBare, LARGEST, quote, readWhole, type Suffix } from "./tokens.js"
import { isShortAccidental, noteWord, readNoteWord } from "./words.js"

/** A sign as far as it has been read. */
export type SignDraft = { readonly kind: Sign["kind"] } & Readonly<Record<string, unknown>>

export interface Head {
  readonly kind: Sign["kind"]
  /** How it is written, for messages. */
  readonly form: string
  /** How many of the flags after the word are its own: none, one or all that are no property of the kind. */
  readonly own: "none" | "one" | "all"
  /** The draft, or undefined when the flags do not say what they must. */
  readonly read: (own: readonly Suffix[], around: Surroundings) => Readonly<Record<string, unknown>> | undefined
}

const STROKES: Record<string, Stroke["form"]> = {
  "'": "divisio-modi",
  perfectionis: "signum-perfectionis",
  rotundum: "signum-rotundum",
  syllabarum: "divisio-syllabarum",
  suspirium: "suspirium",
  finis: "finis-punctorum",
  bar: "bar",
}
const MARKS: Record<string, Mark["of"]> = {
  signum: "signum-congruentiae",
  "repeat-start": "repeat-start",
  "repeat-end": "repeat-end",
  "ending-open": "ending-open",
  "ending-closed": "ending-closed",
  "refrain-start": "refrain-start",
  "refrain-end": "refrain-end",
  canon: "canon",
  text: "text",
  section: "section",
  numeral: "numeral",
}
const BREAKS: readonly Break["of"][] = ["folio", "column", "line"]

const simple = (kind: Sign["kind"], word: string, draft: Readonly<Record<string, unknown>>): Head => ({
  kind,
  form: word,
  own: "none",
  read: () => draft,
})
const texted = (
  kind: Sign["kind"],
  word: string,
  key: string,
  fixed: Readonly<Record<string, unknown>>,
  needed: boolean,
): Head => ({
  kind,
  form: `${word}:"…"`,
  own: "one",
  // An empty remark is one; an empty name or text is none.
  read: ([first]) =>
    first?.name || (first && kind === "comment") ? { ...fixed, [key]: first.name } : needed ? undefined : fixed,
})

/** By the word that stands for it. */
export const HEADS: ReadonlyMap<string, Head> = new Map<string, Head>([
  [".", simple("dot", ".", {})],
  ["mens", simple("mensuration", "mens:tempus=3", {})],
  ...Object.entries(STROKES).map(([word, form]): [string, Head] => [word, simple("stroke", word, { form })]),
  ...Object.entries(MARKS).map(([word, of]): [string, Head] => [word, texted("mark", word, "text", { of }, false)]),
  ...BREAKS.map((of): [string, Head] => [of, texted("break", of, "n", { of }, false)]),
  ["comment", texted("comment", "comment", "text", {}, true)],
  ["other", texted("other", "other", "name", {}, true)],
  [
    "prop",
    {
      kind: "proportion",
      form: `prop:3/2, each a whole number from 1 to ${LARGEST}`,
      own: "one",
      read: readProportion,
    },
  ],
  ["clef", { kind: "clef", form: "clef:C3", own: "one", read: readClef }],
  ["sig", { kind: "signature", form: "sig:bf:ef4", own: "all", read: readSignature }],
  ["accid", { kind: "accidental", form: "accid:f:at=b3", own: "one", read: readAccidental }],
  ["custos", { kind: "custos", form: "custos:c4", own: "one", read: readCustos }],
])

function readProportion([first]: readonly Suffix[]) {
  const [num, numbase, more] = (first?.name ?? "").split("/")
  const [above, below] = [num, numbase].map(one => readWhole(one, 1, LARGEST))
  if (above === undefined || (numbase !== undefined && below === undefined) || more !== undefined) return undefined
  return { num: above, ...(below !== undefined && { numbase: below }) }
}
function readClef([first]: readonly Suffix[]) {
  const found = /^(C|F|GG|G)([1-9])$/.exec(first?.name ?? "")
  return found ? { shape: found[1], line: Number(found[2]) } : undefined
}
function readSignature(all: readonly Suffix[]) {
  const accidentals: Signature["accidentals"][number][] = []
  for (const { name, value } of all) {
    const parts = readNoteWord(name)
    const accidental = value ?? parts?.accidental
    if (!parts?.step || accidental === undefined) return undefined
    accidentals.push({ step: parts.step, accidental, ...(parts.octave !== undefined && { octave: parts.octave }) })
  }
  return { accidentals }
}
function readAccidental([first]: readonly Suffix[]) {
  return first ? { accidental: first.name } : undefined
}
function readCustos([first]: readonly Suffix[], around: Surroundings) {
  if (!first) return {}
  const pitch = readPitch(first.name, around)
  return pitch && { pitch }
}

/** Names of the flags that are properties of a kind, and so not its own first flag. */
const known = new Map<Sign["kind"], ReadonlySet<string>>(
  Object.entries(PROPERTIES).map(([kind, all]) => [
    kind as Sign["kind"],
    new Set((all as readonly { names: readonly string[] }[]).flatMap(({ names }) => names)),
  ]),
)

/** Parts the flags after a word into those that belong to the word itself and the properties of the sign. */
export function ownFlags(head: Head, suffixes: readonly Suffix[]): { own: Suffix[]; rest: Suffix[] } {
  const own: Suffix[] = []
  const rest: Suffix[] = []
  const names = known.get(head.kind)
  for (const suffix of suffixes) {
    const wanted = head.own === "all" || (head.own === "one" && own.length === 0)
    const isProperty = !suffix.quoted && names?.has(suffix.name)
    const valueFits = suffix.value === undefined || head.own === "all"
    if (wanted && suffix.kind === "flag" && !isProperty && valueFits) own.push(suffix)
    else rest.push(suffix)
  }
  return { own, rest }
}

const wordOf = <T extends string>(words: Record<string, T>, meaning: T) =>
  Object.keys(words).find(word => words[word] === meaning) as string

/** A flag that is a text: in quotes when it could be taken for a property of the sign. */
function ownText(kind: Sign["kind"], text: string | undefined): string {
  if (text === undefined) return ""
  return isBare(text) && !known.get(kind)?.has(text) ? `:${text}` : `:${JSON.stringify(text)}`
}

/** The word with its own flags. Notes, rests, ligatures and drawn mensuration signs are written elsewhere. */
export function writeHead(sign: Exclude<Sign, { kind: "note" | "rest" | "ligature" }>): string {
  switch (sign.kind) {
    case "dot":
      return "."
    case "mensuration":
      return "mens"
    case "stroke":
      return wordOf(STROKES, sign.form)
    case "mark":
      return wordOf(MARKS, sign.of) + (sign.text === undefined ? "" : `:${JSON.stringify(sign.text)}`)
    case "break":
      return sign.of + ownText("break", sign.n)
    case "comment":
      return `comment:${JSON.stringify(sign.text)}`
    case "other":
      return `other${ownText("other", sign.name)}`
    case "proportion":
      return `prop:${sign.num}${sign.numbase === undefined ? "" : `/${sign.numbase}`}`
    case "clef":
      return `clef:${sign.shape}${sign.line}`
    case "signature":
      return `sig${sign.accidentals.map(writeDegree).join("")}`
    case "accidental":
      return `accid${ownText("accidental", sign.accidental)}`
    case "custos":
      return `custos${sign.pitch ? `:${writePitch(sign.pitch)}` : ""}`
  }
}
function writeDegree({ step, accidental, octave }: Signature["accidentals"][number]): string {
  const word = noteWord({ step, accidental, octave })
  return `:${word}${isShortAccidental(accidental) ? "" : `=${quote(accidental)}`}`
}
