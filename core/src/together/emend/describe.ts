/** An emendation in words: what stands there, what would stand there. Levels go by the names of the original notes. */
import {
  flatSigns,
  type Ligature,
  type MensurationSign,
  type Note,
  type Page,
  type Rest,
  type Sign,
  type Voice,
} from "../../page/index.js"
import type { Reading } from "../../reading/index.js"
import { stepNumber } from "../../reading/pitches.js"
import { LEVEL_NAMES } from "../mensuration/types.js"
import { levelInWords } from "../mensuration/words.js"
import type { Candidate, Subject } from "./candidates.js"
import { edited, type Figure } from "./figures.js"

interface Described {
  readonly before: string
  readonly after: string
}

/** `now`, `then`: the voice as read before and after the change, for what drawn ligatures mean. */
export function describe(subject: Subject, candidate: Candidate, now: Reading, then: Reading): Described {
  const { voice, figures } = subject
  const after = edited(voice, candidate.edit)!
  const figure = figures[candidate.from]!
  const name = nameOf(figure)
  switch (candidate.kind) {
    case "dot-added":
      return { before: `${name} without a dot`, after: `${name} with a dot` }
    case "dot-dropped":
      return { before: `${name} with a dot`, after: `${name} without a dot` }
    case "dot-moved":
      return { before: `dot after ${name}`, after: `dot after ${dottedAfter(after, candidate)}` }
    case "stem-added":
    case "stem-dropped":
    case "level-changed":
      return { before: withStem(figure.sign), after: withStem(changedSign(after, figure)) }
    case "rest-changed":
      return rest(after, candidate, name)
    case "note-missing":
      return { before: `nothing before ${name}`, after: `${supplied(candidate)} before ${name}` }
    case "note-doubled":
      return { before: `${name} twice`, after: `${name} once` }
    case "pitch-shifted":
      return shift(figures, candidate, after)
    case "coloration-missing":
      return { before: `${counted(figures, candidate)} without colour`, after: `the same ${inkIn(candidate)}` }
    case "passage-missing":
      return {
        before: `nothing before ${name}`,
        after: `a gap before ${name}, written as rests: ${restsInWords(candidate.edit.in)}`,
      }
    case "passage-doubled":
      return { before: `${counted(figures, candidate)} twice`, after: "the same once" }
    case "mensuration-missing":
      return candidate.also ? signsOfSeveral(subject.page, candidate) : signs(voice, candidate, name)
    case "ligature-changed":
      return {
        before: `ligature ${levelsIn(figure.ligature!, now)}`,
        after: `ligature ${levelsIn(candidate.edit.in[0] as Ligature, then)}`,
      }
  }
}

function signs({ signs: all }: Voice, { edit, sign }: Candidate, name: string): Described {
  const old = edit.out.length > 0 ? all.find(one => one.id === sign) : undefined
  return {
    before: `${old ? inWords(old) : "no sign"} before ${name}`,
    after: `${inWords(edit.in[0]!)} before ${name}`,
  }
}

/** "the half circle in motetus and tenor", "the half circle with a dot in motetus and tenor". */
function signsOfSeveral({ voices }: Page, { edit, also = [] }: Candidate): Described {
  const before = new Map<string, string[]>()
  const after = new Map<string, string[]>()
  const add = (all: Map<string, string[]>, words: string, label: string): unknown =>
    all.set(words, [...(all.get(words) ?? []), label])
  for (const one of [edit, ...also]) {
    const { label, signs } = voices.find(({ id }) => id === one.voice)!
    const [now] = one.in as MensurationSign[]
    const old = signs.find(({ id }) => id === now!.id) as MensurationSign
    const modus = old.modusMinor !== now!.modusMinor
    add(before, inWords(old) + modusOf(old, modus), label)
    add(after, inWords(now!) + modusOf(now!, modus), label)
  }
  const said = (all: Map<string, string[]>): string =>
    [...all].map(([words, labels]) => `${words} in ${listed(labels)}`).join(", ")
  return { before: said(before), after: said(after) }
}

/** A drawn sign does not show it. */
const modusOf = ({ sign, modusMinor }: MensurationSign, wanted: boolean): string =>
  wanted && sign !== undefined ? ` (${levelInWords("modusMinor", modusMinor!)})` : ""

const listed = (labels: readonly string[]): string =>
  labels.length > 1 ? `${labels.slice(0, -1).join(", ")} and ${labels.at(-1)}` : labels.join("")

const nameOf = ({ sign, ligature }: Figure): string => `${inWords(sign)}${ligature ? " in a ligature" : ""}`

/** A note with its colour and its dot: others of the same level may stand in the list too. */
function supplied({ edit }: Candidate): string {
  const [note, dot] = edit.in
  const colour = note?.kind === "note" && note.coloration !== "none" ? `${note.coloration} ` : ""
  return `${colour}${inWords(note!)}${dot?.kind === "dot" ? " with a dot" : ""}`
}

/** "semibrevis c4", "rest of a brevis", "circle with a dot". */
export function inWords(sign: Sign): string {
  if (sign.kind === "note") return [sign.level ?? "note", pitchIn(sign)].filter(Boolean).join(" ")
  if (sign.kind === "rest") return `rest of ${restLength(sign)}`
  if (sign.kind === "proportion")
    return `the proportion ${sign.num}${sign.numbase === undefined ? "" : `/${sign.numbase}`}`
  if (sign.kind !== "mensuration") return sign.kind
  if (sign.sign === undefined && !sign.figures) return levelsInWords(sign) || "mensuration"
  const circle = sign.sign === "O" ? "circle" : sign.reversed ? "reversed half circle" : "half circle"
  const parts = [
    sign.dots ? "with a dot" : "",
    sign.strokes ? "with a stroke" : "",
    sign.figures ? `with ${sign.figures.join("/")}` : "",
  ]
  return ["the", circle, ...parts].filter(Boolean).join(" ")
}

/** "perfect tempus, prolatio minor", of what is stated without a sign. */
const levelsInWords = (sign: MensurationSign): string =>
  LEVEL_NAMES.flatMap(level => (sign[level] === undefined ? [] : levelInWords(level, sign[level]))).join(", ")

const pitchIn = ({ pitch }: Note): string => (pitch ? `${pitch.step}${pitch.octave}` : "")

/** "brevis, 4 × longa (2 spaces)" */
function restsInWords(rests: readonly Sign[]): string {
  const words = rests.map(one => inWords(one).replace(/^rest of (a )?/, ""))
  const runs = words.flatMap((word, i) => {
    if (word === words[i - 1]) return []
    const next = words.findIndex((other, at) => at > i && other !== word)
    const many = (next < 0 ? words.length : next) - i
    return [many > 1 ? `${many} × ${word}` : word]
  })
  return runs.join(", ")
}

function restLength({ level, spaces }: Rest): string {
  const strokes = spaces && spaces.den === 1 ? `${spaces.num} ${spaces.num === 1 ? "space" : "spaces"}` : ""
  return level === undefined
    ? strokes || "unknown length"
    : level === "longa" && strokes
      ? `a longa (${strokes})`
      : `a ${level}`
}

function withStem(sign: Sign): string {
  const down = sign.kind === "note" && sign.stems.some(stem => stem.direction === "down")
  return `${inWords(sign)}${down ? " with a stem down" : ""}`
}

function changedSign(after: Voice, figure: Figure): Sign {
  return flatSigns(after).find(({ sign }) => sign.id === figure.sign.id)?.sign ?? figure.sign
}

function dottedAfter(after: Voice, { sign }: Candidate): string {
  const flat = flatSigns(after).map(one => one.sign)
  const at = flat.findIndex(one => one.id === sign)
  return at > 0 ? inWords(flat[at - 1]!) : "the note beside it"
}

function rest(after: Voice, { edit, sign }: Candidate, name: string): Described {
  const still = flatSigns(after).find(one => one.sign.id === sign)
  if (!still) return { before: name, after: "no rest" }
  const added = edit.in.length > edit.out.length
  return added ? { before: name, after: `${name} twice` } : { before: name, after: inWords(still.sign) }
}

const count = (n: number, what: string): string => `${n} ${what}${n === 1 ? "" : "s"}`

function counted(figures: readonly Figure[], { from, to }: Candidate): string {
  const notes = figures.slice(from, to + 1)
  const first = notes[0]!
  return notes.length === 1 ? nameOf(first) : `${count(notes.length, "sign")} from ${nameOf(first)} on`
}

function inkIn({ edit }: Candidate): string {
  for (const sign of edit.in)
    for (const note of sign.kind === "ligature" ? sign.members : [sign])
      if (note.kind === "note" && note.coloration !== "none") return note.coloration
  return "coloured"
}

const STEPS = ["", "step", "third", "fourth", "fifth"]

function shift(figures: readonly Figure[], candidate: Candidate, after: Voice): Described {
  const figure = figures.slice(candidate.from, candidate.to + 1).find(({ sign }) => sign.kind === "note" && sign.pitch)!
  const old = figure.sign as Note
  const now = changedSign(after, figure) as Note
  const by = stepNumber(now.pitch!) - stepNumber(old.pitch!)
  return {
    before: counted(figures, candidate),
    after: `the same a ${STEPS[Math.abs(by)] ?? `${Math.abs(by) + 1}th`} ${by > 0 ? "higher" : "lower"}`,
  }
}

function levelsIn(ligature: Ligature, reading: Reading): string {
  const levels = new Map(reading.signs.map(sign => [sign.id, sign.level]))
  return ligature.members
    .filter(member => member.kind === "note")
    .map(note => `${levels.get(note.id) ?? note.level ?? "note"} ${pitchIn(note)}`.trim())
    .join(", ")
}
