/** From a sign's word and suffixes in the tree to a draft of the sign, with the state that goes from sign to sign. */
import type { TreeCursor } from "@lezer/common"
import type { Level } from "../level.js"
import type { Coloration, Note, Sign } from "../signs.js"
import { HEADS, ownFlags, type SignDraft } from "./heads.js"
import { PROPERTIES } from "./properties.js"
import type { Property } from "./property.js"
import { excerpt, type Reporter } from "./reporter.js"
import { forChildren, readSuffix, type Suffix } from "./tokens.js"
import { levelOf, MOST_DOTS, MOST_STROKES, readMensurationWord, readNoteWord, readRestWord } from "./words.js"

/** What holds until it is changed. */
export interface Running {
  /** null: expressly none; undefined: none has been said yet. */
  level: Level | null | undefined
  octave: number | undefined
  coloration: Coloration
}

/** Something in the text that stands for a sign: its word and what hangs on it. */
export interface Written {
  readonly node: string
  readonly word: string
  readonly suffixes: readonly Suffix[]
  readonly at: number
}

export function readWritten(cursor: TreeCursor, text: string): Written {
  const suffixes: Suffix[] = []
  let node = ""
  let word = ""
  const at = cursor.from
  forChildren(cursor, child => {
    const suffix = readSuffix(child, text)
    if (suffix) suffixes.push(suffix)
    else if (!child.type.isError && node === "") {
      node = child.name
      word = text.slice(child.from, child.to)
    }
  })
  return { node, word, suffixes, at }
}

/** Undefined for a level, which is no sign, and for a word that is nothing; the latter is reported. */
export function readSign(written: Written, running: Running, report: Reporter): SignDraft | undefined {
  const { node, word, suffixes, at } = written
  switch (node) {
    case "LevelWord":
      running.level = levelOf(word)
      if (suffixes[0]) reportLoose(suffixes[0], report)
      return undefined
    case "NoteWord":
      return withProperties(readNote(word, running, at, report), suffixes, running, report)
    case "RestWord":
      return withProperties(readRest(word, running, at, report), suffixes, running, report)
    case "MensurationWord":
      return withProperties(readMensuration(word, at, report), suffixes, running, report)
    default:
      return readHead(written, running, report)
  }
}

function reportLoose(suffix: Suffix, report: Reporter): void {
  report.error(
    suffix.from,
    "loose-suffix",
    "A level is no sign, so nothing can hang on it.",
    "Write it after the note: B c4:red.",
  )
}

function readNote(word: string, running: Running, at: number, report: Reporter): SignDraft {
  const parts = readNoteWord(word) ?? {}
  if (parts.level !== undefined) running.level = parts.level
  if (running.level === undefined)
    report.error(
      at,
      "no-level",
      `"${word}" has no level.`,
      "Write Mx, L, B, S, M, Sm, F or Sf before the first note (or ? for none).",
    )
  if (parts.octave !== undefined) running.octave = parts.octave
  if (parts.step && running.octave === undefined) {
    report.error(
      at,
      "no-octave",
      `"${word}" has no octave; 4 was taken.`,
      `Write the octave after the first pitch: ${word}4.`,
    )
    running.octave = 4
  }
  return {
    kind: "note",
    ...(running.level && { level: running.level }),
    ...(parts.step && { pitch: { step: parts.step, octave: running.octave } }),
    ...(parts.accidental && { accidental: parts.accidental }),
    ...(parts.byEditor && { accidentalByEditor: true }),
    ...(parts.inForce && { accidentalInForce: parts.inForce }),
    coloration: running.coloration,
    stems: [],
    ...(parts.oblique && { oblique: true }),
    syllables: [],
  }
}

function readMensuration(word: string, at: number, report: Reporter): SignDraft {
  const parts = readMensurationWord(word)
  if (!parts)
    report.error(
      at,
      "bad-mensuration",
      `"${excerpt(word)}" is no sign of mensuration.`,
      `Write at most ${MOST_DOTS} dots, then at most ${MOST_STROKES} strokes, then figures of 1 or more: O, C., C|, O2, C|3/2.`,
    )
  return { kind: "mensuration", ...(parts ?? { sign: word.startsWith("O") ? "O" : "C" }) }
}

function readRest(word: string, running: Running, at: number, report: Reporter): SignDraft {
  const parts = readRestWord(word)
  if (!parts) report.error(at, "bad-rest", `"${word}" is no rest.`, "Write r, rB, r2/3 (length in spaces) or rL2.")
  const level = parts?.level === undefined ? running.level : parts.level
  return {
    kind: "rest",
    ...(level && { level }),
    ...(parts?.spaces && { spaces: parts.spaces }),
    coloration: running.coloration,
  }
}

function readHead({ word, suffixes, at }: Written, running: Running, report: Reporter): SignDraft | undefined {
  const head = HEADS.get(word)
  if (!head) {
    report.error(at, "unknown-word", `"${excerpt(word)}" is not a word of the shorthand.`, mendWord(word))
    return undefined
  }
  const { own, rest } = ownFlags(head, suffixes)
  const draft = head.read(own, running)
  if (!draft) {
    report.error(at, "bad-sign", `"${excerpt(word)}" does not say all it must.`, `Write it like this: ${head.form}`)
    return undefined
  }
  return withProperties({ kind: head.kind, ...draft }, rest, running, report)
}

function mendWord(word: string): string {
  if (/^[ABD-NP-Za-z]{1,2}-?\d*$/.test(word) && levelOf(word.charAt(0).toUpperCase() + word.slice(1).toLowerCase()))
    return "Levels are written Mx L B S M Sm F Sf, with these capitals."
  if (/^(?:Mx|Sm|Sf|[LBSMF])[a-g]/.test(word)) return "A level and a pitch are two words: B c4."
  if (/^[A-G]/.test(word)) return "Pitches are small letters, a to g, with an octave: c4."
  if (/^[hH]\d*$/.test(word)) return "Write b for the natural and bf for the flat one."
  return "Notes are pitches such as c4 (or o without a pitch) after a level such as B; a remark begins with %."
}

/** Adds what the suffixes say. What cannot be read is reported and left out. */
export function withProperties(
  draft: SignDraft,
  suffixes: readonly Suffix[],
  running: Running,
  report: Reporter,
): SignDraft {
  if (suffixes.length === 0) return draft
  const said: Record<string, unknown> = {}
  for (const suffix of suffixes) {
    const property = propertyOf(draft.kind, suffix)
    const found = property?.read(suffix, running)
    if (!property) reportUnknown(draft.kind, suffix, report)
    else if (!found)
      report.error(
        suffix.from,
        "bad-property",
        `"${excerpt(suffix.name)}" is not said in the way it must be.`,
        `Write ${property.form}`,
      )
    else {
      const twice = Object.keys(found).find(key => key in said)
      if (!twice) Object.assign(said, found)
      else if (property.list) (said[twice] as unknown[]).push(...(found[twice] as unknown[]))
      else
        report.error(
          suffix.from,
          "said-twice",
          `What "${excerpt(suffix.name)}" says has been said of this sign already.`,
          "Take one of the two away.",
        )
    }
  }
  return { ...draft, ...said }
}

type AnyProperty = Property<Record<string, unknown>>
const lookup = new Map<string, AnyProperty>(
  Object.entries(PROPERTIES).flatMap(([kind, all]) =>
    (all as readonly unknown[] as readonly AnyProperty[]).flatMap(property =>
      property.kind === "flag"
        ? property.names.map((name): [string, AnyProperty] => [`${kind} flag ${name}`, property])
        : [[`${kind} ${property.kind}`, property] as [string, AnyProperty]],
    ),
  ),
)
function propertyOf(kind: Sign["kind"], suffix: Suffix): AnyProperty | undefined {
  return lookup.get(suffix.kind === "flag" ? `${kind} flag ${suffix.name}` : `${kind} ${suffix.kind}`)
}

function reportUnknown(kind: Sign["kind"], suffix: Suffix, report: Reporter): void {
  const names = (PROPERTIES[kind] as readonly { readonly kind: string; readonly names: readonly string[] }[])
    .filter(property => property.kind === "flag")
    .flatMap(property => property.names)
  const article = /^[aeiou]/.test(kind) ? "an" : "a"
  const mark = { flag: ":", stem: "/", plica: "\\", oblique: "_" }[suffix.kind]
  report.error(
    suffix.from,
    "unknown-property",
    `${article === "an" ? "An" : "A"} ${kind} has no "${mark}${excerpt(suffix.name)}".`,
    `What can be said of ${article} ${kind}: ${names.map(name => `:${name}`).join(" ")}`,
  )
}

/** The syllables list of a note draft, to which lines of lyrics add. */
export function syllablesOf(draft: SignDraft): Note["syllables"][number][] {
  return draft.syllables as Note["syllables"][number][]
}
