/** A voice as rows of comparable tokens: one row for its pitches, one for its written signs, one for its durations. */
import { toNumber, toText, type SignId } from "../../base/index.js"
import { flatSigns, LEVELS, type Coloration, type FlatSign, type Voice } from "../../page/index.js"
import type { Reading, SignReading } from "../../reading/index.js"
import type { ComparedBy } from "./types.js"

/** A note or rest with what is written at it. */
export interface Figura {
  readonly sign: SignReading
  readonly coloration: Coloration
  /** Dots and strokes that follow it, in order: ".", "|". */
  readonly marks: string
  /** Of a rest: length of its stroke, where the page says it. */
  readonly spaces: string
}

/** Everything that is compared is a number to which a shift is added: names of levels, steps, logarithms of durations. */
export interface Token {
  readonly note: boolean
  readonly value: number
  /** What may differ a little: accidental; dots and colour; length of a rest's stroke. */
  readonly detail: string
}

export interface View {
  readonly of: "color" | "talea"
  readonly by: ComparedBy
  readonly figurae: readonly Figura[]
  readonly tokens: readonly Token[]
  /** True when this difference of values can be a transposition, a diminution, an augmentation. */
  readonly allows: (shift: number) => boolean
}

/** The notes and rests of the voice that the reading knows. */
export function figuraeOf(voice: Voice, reading: Reading): Figura[] {
  const read = new Map<SignId, SignReading>(reading.signs.map(sign => [sign.id, sign]))
  const found: Figura[] = []
  for (const { sign } of flatSigns(voice)) {
    const entry = read.get(sign.id)
    const mark = markOf(sign)
    const last = found.at(-1)
    if (mark && last) found[found.length - 1] = { ...last, marks: last.marks + mark }
    if (!entry || entry.number === 0 || (sign.kind !== "note" && sign.kind !== "rest")) continue
    const spaces = sign.kind === "rest" && sign.spaces ? toText(sign.spaces) : ""
    found.push({ sign: entry, coloration: sign.coloration, marks: "", spaces })
  }
  return found
}

/** Dots, and strokes that have to do with counting. */
function markOf(sign: FlatSign["sign"]): string {
  if (sign.kind === "dot") return "."
  const counts = ["divisio-modi", "signum-perfectionis", "signum-rotundum"]
  return sign.kind === "stroke" && counts.includes(sign.form) ? "|" : ""
}

const STEPS = "cdefgab"
/** Largest transposition looked for. */
const OCTAVE = 7
const NAMES = 3
/** Ratios of durations between statements: halves, thirds, quarters, and what proportions make. */
const RATIOS = [2, 3, 4, 6, 8, 9, 3 / 2, 4 / 3, 8 / 3, 9 / 4]
const LOGARITHMS = RATIOS.map(Math.log2)
export const NEARLY = 1e-6

/** Pitches of the notes, rests left out. */
export function pitchView(all: readonly Figura[]): View {
  const figurae = all.filter(one => one.sign.pitch !== null)
  const tokens = figurae.map(({ sign }) => {
    const [, step = "c", accidental = "", octave = "0"] = /^([a-g])(\D*)(-?\d+)$/.exec(sign.pitch!) ?? []
    return { note: true, value: Number(octave) * OCTAVE + STEPS.indexOf(step), detail: accidental }
  })
  return { of: "color", by: "pitches", figurae, tokens, allows: shift => Math.abs(shift) <= OCTAVE }
}

/** Written levels, rests, dots, colours. Whether notes are joined in ligatures makes no difference. */
export function signView(figurae: readonly Figura[]): View {
  const tokens = figurae.map(({ sign, coloration, marks, spaces }) => ({
    note: sign.kind === "note",
    value: sign.level === null ? LEVELS.length + NAMES : LEVELS.indexOf(sign.level),
    detail: sign.kind === "rest" ? spaces : `${marks}${coloration === "none" ? "" : coloration}`,
  }))
  return { of: "talea", by: "signs", figurae, tokens, allows: shift => Math.abs(shift) <= NAMES }
}

/** Durations as the reading has them. */
export function durationView(figurae: readonly Figura[]): View {
  const tokens = figurae.map(({ sign }) => ({
    note: sign.kind === "note",
    value: sign.duration.num > 0 ? Math.log2(toNumber(sign.duration)) : -100,
    detail: "",
  }))
  const allows = (shift: number) => LOGARITHMS.some(one => Math.abs(one - Math.abs(shift)) < NEARLY)
  return { of: "talea", by: "durations", figurae, tokens, allows }
}

/** How far two tokens are from each other: alike, a small thing apart, another value, a rest against a note. */
export type Mismatch = 0 | 1 | 2 | 3

/** `token` against what the series has, moved by `shift`. A moved accidental or rest says nothing by its detail. */
export function mismatch(by: ComparedBy, wanted: Token, token: Token, shift: number): Mismatch {
  if (wanted.note !== token.note) return 3
  if (Math.abs(wanted.value + shift - token.value) > NEARLY) return 2
  const moved = shift !== 0 && (by === "pitches" || !token.note)
  return wanted.detail === token.detail || moved ? 0 : 1
}
