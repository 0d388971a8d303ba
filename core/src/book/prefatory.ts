/**
 * Prefatory staves: before each staff of the first system the voice's name, how it begins in the source, in the old notation,
 * and, behind the modern clef, its range. As items in staff spaces, y 0 on the bottom line of the modern staff.
 */
import type { Page } from "../page/index.js"
import {
  drawIncipit,
  textWidth,
  type Incipit,
  type Item,
  type Mark,
  type TextMark,
  type TypeStyle,
} from "../drawing/index.js"
import { clefFor, type ClefConventions } from "../edition/index.js"
import { height } from "../edition/clefs.js"
import type { Score, ScorePitch, ScoreVoice } from "../score/index.js"
import { ambitusOf, type Ambitus } from "./ambitus.js"
import { ACCIDENTAL_WIDTH, NOTEHEAD_WIDTH, modernAccidentalPath, notehead } from "./modern-forms.js"

export interface PrefatoryStaff {
  /** Name and incipit; x is 0 at the page's edge. */
  readonly before: readonly Item[]
  /** The range; x is 0 where it ends, before the meter. */
  readonly range: readonly Item[]
}
export interface PrefatoryStaves {
  /** In the order of the score. */
  readonly staves: readonly PrefatoryStaff[]
  /** In staff spaces: what stands before the system, and what stands behind its clefs. */
  readonly width: number
  readonly rangeWidth: number
}

export interface PrefatoryOptions {
  readonly clefs?: ClefConventions
  /** What is written before the staves; "full" without it. "names": no incipit and no range; "incipits": no name. */
  readonly show?: "full" | "names" | "incipits"
}

/** Free between name and incipit, and between that and the system with its bracket. */
const AFTER_NAME = 1.2
const AFTER_INCIPIT = 1.9
/** Names are broken into lines of at most so much. */
const NAME_WIDTH = 10.5
const NAME: TypeStyle = { family: "words", size: 2.2 }

/** Of a score made from this page. Every staff of old notation is as long as the longest. */
export function prefatoryStaves(
  page: Page,
  score: Score,
  { clefs, show = "full" }: PrefatoryOptions = {},
): PrefatoryStaves {
  const full = show !== "names"
  const names = score.voices.map(({ label }) => (show === "incipits" ? [] : nameLines(label)))
  const nameWidth = Math.max(0, ...names.flat().map(line => textWidth(line, NAME)))
  const left = nameWidth > 0 ? nameWidth + AFTER_NAME : 0
  const parts = score.voices.map(voice => (full ? page.voices.find(one => one.id === voice.part) : undefined))
  const longest = Math.max(0, ...parts.map(part => (part ? drawIncipit(part).width : 0)))
  const staves = score.voices.map((voice, i): PrefatoryStaff => {
    const part = parts[i]
    const incipit = part && drawIncipit(part, { width: longest, role: "ink" })
    return {
      before: [...nameMarks(names[i]!), ...(incipit ? [placed(incipit, left)] : [])],
      range: full ? rangeMarks(voice, clefFor(voice, clefs).middle) : [],
    }
  })
  const accidentals = full && staves.some(({ range }) => hasAccidental(range))
  const ranges = full && staves.some(({ range }) => range.length > 0)
  return {
    staves,
    width: left + (full ? longest + AFTER_INCIPIT : 1),
    rangeWidth: ranges ? (accidentals ? ACCIDENTAL_WIDTH : 0) + NOTEHEAD_WIDTH + RANGE_GAP : 0,
  }
}

const hasAccidental = (range: readonly Item[]): boolean =>
  range.some(one => (one.shape === "group" ? hasAccidental(one.content) : one.part === "accidental"))

/** Free at both sides of a range together. */
const RANGE_GAP = 1.3

/** In the middle of the height of the modern staff, whatever its own number of lines. */
function placed(incipit: Incipit, x: number): Item {
  return { shape: "group", part: "incipit", x, y: (incipit.lines - 5) / 2, content: [incipit.group] }
}

/** A long name in several lines, broken between words. */
function nameLines(name: string): string[] {
  const lines: string[] = []
  for (const word of name.split(/\s+/).filter(Boolean)) {
    const last = lines.at(-1)
    const joined = last === undefined ? word : `${last} ${word}`
    if (last !== undefined && textWidth(joined, NAME) <= NAME_WIDTH) lines[lines.length - 1] = joined
    else lines.push(word)
  }
  return lines.slice(0, 4).map(line => shortened(line))
}
/** A single word beyond all measure is cut. */
function shortened(line: string): string {
  if (textWidth(line, NAME) <= NAME_WIDTH * 1.6) return line
  let short = line
  while (textWidth(`${short}…`, NAME) > NAME_WIDTH * 1.6) short = [...short].slice(0, -1).join("")
  return `${short}…`
}

const LINE = 2.4
function nameMarks(lines: readonly string[]): TextMark[] {
  const first = -2 + NAME.size * 0.28 - ((lines.length - 1) * LINE) / 2
  return lines.map((text, i) => ({
    shape: "text",
    part: "name",
    x: 0,
    y: first + i * LINE,
    text,
    type: NAME,
    fill: "ink",
  }))
}

/** Lowest and highest note, one over the other; an accidental where the signature does not say it already. */
function rangeMarks(voice: ScoreVoice, middle: number): Item[] {
  const ambitus = ambitusOf(voice)
  if (!ambitus) return []
  const signature = new Map(
    voice.signatures.findLast(({ onset }) => onset.num === 0)?.accidentals.map(one => [one.step, one.accidental]),
  )
  const marks = pitchesOf(ambitus).flatMap(pitch => pitchMarks(pitch, middle, signature.get(pitch.step) ?? ""))
  return [{ shape: "group", part: "ambitus", content: marks }]
}

const pitchesOf = ({ lowest, highest }: Ambitus): ScorePitch[] =>
  height(lowest) === height(highest) && lowest.accidental === highest.accidental ? [lowest] : [lowest, highest]

const HEAD_AT = -RANGE_GAP / 2 - NOTEHEAD_WIDTH
function pitchMarks(pitch: ScorePitch, middle: number, implied: string): Mark[] {
  const steps = height(pitch) - middle + 4
  const y = -steps / 2
  const head: Mark = { shape: "path", part: "head", path: notehead(HEAD_AT, y), fill: "ink" }
  const accidental = modernAccidentalPath(
    pitch.accidental === implied ? "" : pitch.accidental || "n",
    HEAD_AT - 0.25,
    y,
  )
  const sign: Mark[] = accidental ? [{ shape: "path", part: "accidental", path: accidental, fill: "ink" }] : []
  return [...ledgers(steps), ...sign, head]
}

/** Short lines for a head beyond the five: from the first one out to the head. */
function ledgers(steps: number): Mark[] {
  const lines: number[] = []
  for (let at = -2; at >= steps; at -= 2) lines.push(at)
  for (let at = 10; at <= steps; at += 2) lines.push(at)
  return lines.map(at => ({
    shape: "line",
    part: "ledger",
    x1: HEAD_AT - 0.35,
    x2: HEAD_AT + NOTEHEAD_WIDTH + 0.35,
    y1: -at / 2,
    y2: -at / 2,
    stroke: { role: "ink", width: 0.13 },
  }))
}
