/** Modern notes, rests and openings on a staff of five lines, in staff spaces; y is 0 on the bottom line. */
import { around, markBox, moved, yOf, type Box, type Mark, type Path } from "../../../drawing/index.js"
import type { ModernValue, ShownAccidental } from "../../../score/index.js"
import { glyph, type GlyphName } from "./glyphs.js"

/** Stem and ledger lines as thick as the font's engraving defaults have them (SMuFL metadata). */
export const STEM_WIDTH = 0.13
const STEM = 3.5
export const HEAD_WIDTH = 1.18

export interface ModernForm {
  readonly marks: readonly Mark[]
  readonly box: Box
}
export const modernForm = (marks: readonly Mark[]): ModernForm => ({
  marks,
  box: marks.map(markBox).reduce(around, { left: 0, right: 0, top: 0, bottom: 0 }),
})

export const outline = (part: string, path: Path): Mark => ({ shape: "path", part, path, fill: "second" })
export const placedGlyph = (part: string, name: GlyphName, x: number, y: number, scale = 1): Mark =>
  outline(part, moved(glyph(name).path, x, y, scale, scale))

const HEADS: Readonly<Record<string, GlyphName>> = {
  breve: "noteheadDoubleWhole",
  "1": "noteheadWhole",
  "2": "noteheadHalf",
}
const headName = (dur: string): GlyphName => HEADS[dur] ?? "noteheadBlack"
export const headWidth = (dur: string): number => glyph(headName(dur)).width
export const hasStem = (dur: string): boolean => dur !== "breve" && dur !== "1"
export const flagsOf = (dur: string): number => Math.max(0, Math.round(Math.log2(Number(dur) || 1)) - 2)

export type Direction = "up" | "down"
/** Stems go towards the middle line; from it, down. */
export const directionAt = (position: number): Direction => (position >= 4 ? "down" : "up")

/** Middle of the stem, from the head's left edge. */
export const stemAt = (direction: Direction): number =>
  direction === "up" ? HEAD_WIDTH - STEM_WIDTH / 2 : STEM_WIDTH / 2

export interface NoteOptions {
  readonly position: number
  readonly direction: Direction
  readonly accidental?: ShownAccidental | undefined
  /** Its stem ends at this height on a beam: no flag then. */
  readonly beamAt?: number
  readonly fermata?: boolean
}

/** Head with its left edge at 0, accidental before it, dots behind it. */
export function noteForm({ dur, dots }: ModernValue, options: NoteOptions): ModernForm {
  const { position, accidental, fermata } = options
  const y = yOf(position)
  const width = headWidth(dur)
  const marks: Mark[] = [placedGlyph("modern-head", headName(dur), 0, y), ...ledgers(position, width)]
  if (hasStem(dur)) marks.push(...stemMarks(dur, y, options))
  const top = () => Math.min(yOf(8), ...marks.map(mark => markBox(mark).top))
  const inSpace = yOf(position % 2 === 0 ? position + 1 : position)
  for (let i = 0; i < dots; i++)
    marks.push(placedGlyph("modern-dot", "augmentationDot", width + 0.35 + i * 0.6, inSpace))
  if (accidental) marks.push(...accidentalMarks(accidental, y, top()))
  if (fermata)
    marks.push(placedGlyph("fermata", "fermataAbove", width / 2 - glyph("fermataAbove").width / 2, top() - 0.6))
  return modernForm(marks)
}

/** A stem long enough to reach the middle line. */
function stemMarks(dur: string, y: number, { direction, beamAt }: NoteOptions): Mark[] {
  const up = direction === "up"
  const flags = flagsOf(dur)
  const long = STEM + Math.max(0, flags - 2) * 0.75
  const usual = up ? Math.min(y - long, yOf(4)) : Math.max(y + long, yOf(4))
  const tip = beamAt ?? usual
  const x = up ? HEAD_WIDTH - STEM_WIDTH : 0
  const foot = up ? y - 0.168 : y + 0.168
  const stem: Mark = {
    shape: "rect",
    part: "modern-stem",
    x,
    y: Math.min(tip, foot),
    width: STEM_WIDTH,
    height: Math.abs(tip - foot),
    fill: "second",
  }
  if (flags === 0 || beamAt !== undefined) return [stem]
  const name = `flag${FLAGS[Math.min(flags, 3) - 1]!}${up ? "Up" : "Down"}` as GlyphName
  return [stem, placedGlyph("modern-flag", name, x, tip)]
}
const FLAGS = ["8th", "16th", "32nd"]

export const LEDGER = { out: 0.4, width: 0.16 }
function ledgers(position: number, width: number): Mark[] {
  const heights: number[] = []
  for (let at = -2; at >= position; at -= 2) heights.push(at)
  for (let at = 10; at <= position; at += 2) heights.push(at)
  return heights.map(at => ({
    shape: "line",
    part: "ledger",
    x1: -LEDGER.out,
    x2: width + LEDGER.out,
    y1: yOf(at),
    y2: yOf(at),
    stroke: { role: "staff", width: 0.1 },
  }))
}

const ACCIDENTALS: Readonly<Record<string, GlyphName>> = {
  f: "accidentalFlat",
  n: "accidentalNatural",
  s: "accidentalSharp",
  x: "accidentalDoubleSharp",
  ff: "accidentalDoubleFlat",
}
export const accidentalGlyph = (name: string): GlyphName => ACCIDENTALS[name] ?? "accidentalNatural"

/** Before the head; an editor's small above it; one that is only called to mind in brackets. */
function accidentalMarks({ accidental, kind }: ShownAccidental, y: number, top: number): Mark[] {
  const name = accidentalGlyph(accidental)
  const { width } = glyph(name)
  if (kind === "editor")
    return [placedGlyph("modern-accidental", name, (HEAD_WIDTH - width * 0.75) / 2, top - 1.1, 0.75)]
  if (kind === "written") return [placedGlyph("modern-accidental", name, -width - 0.25, y)]
  const bracket = glyph("accidentalParensRight").width
  const x = -width - bracket - 0.3
  return [
    placedGlyph("modern-accidental", "accidentalParensLeft", x - bracket, y),
    placedGlyph("modern-accidental", name, x, y),
    placedGlyph("modern-accidental", "accidentalParensRight", x + width, y),
  ]
}

const RESTS: Readonly<Record<string, readonly [GlyphName, position: number]>> = {
  breve: ["restDoubleWhole", 4],
  "1": ["restWhole", 6],
  "2": ["restHalf", 4],
  "4": ["restQuarter", 4],
  "8": ["rest8th", 4],
  "16": ["rest16th", 4],
}
export function restForm({ dur, dots }: ModernValue): ModernForm {
  const [name, position] = RESTS[dur] ?? (["rest32nd", 4] as const)
  const { width } = glyph(name)
  const marks = [placedGlyph("modern-rest", name, 0, yOf(position))]
  for (let i = 0; i < dots; i++) marks.push(placedGlyph("modern-dot", "augmentationDot", width + 0.3 + i * 0.6, yOf(5)))
  return modernForm(marks)
}

/** Two figures, one over the other, middle under middle. */
export function meterForm({ count, unit }: { readonly count: number; readonly unit: number }): ModernForm {
  const rows = [
    [String(count), 6],
    [String(unit), 2],
  ] as const
  const widthOf = (text: string) => [...text].reduce((sum, digit) => sum + glyph(digitName(digit)).width, 0)
  const widest = Math.max(...rows.map(([text]) => widthOf(text)))
  const marks = rows.flatMap(([text, position]) => {
    let x = (widest - widthOf(text)) / 2
    return [...text].map(digit => {
      const mark = placedGlyph("meter", digitName(digit), x, yOf(position))
      x += glyph(digitName(digit)).width
      return mark
    })
  })
  return modernForm(marks)
}
/** A sign with a change of meter before it. */
export function behindMeter(form: ModernForm, meter: { readonly count: number; readonly unit: number }): ModernForm {
  const own = meterForm(meter)
  const x = form.box.left - own.box.right - 0.6
  return modernForm([
    ...own.marks.map(mark => (mark.shape === "path" ? { ...mark, path: moved(mark.path, x, 0) } : mark)),
    ...form.marks,
  ])
}

const digitName = (digit: string): GlyphName => `timeSig${digit}` as GlyphName
