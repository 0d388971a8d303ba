/** Signs of our own for tables and trees: written in shorthand, drawn as everywhere, read by the engine. */
import type { Rational } from "../../base/index.js"
import { drawSign, USUAL_CLEF, type Box, type Item } from "../../drawing/index.js"
import { ABBREVIATIONS, type Level, type Sign } from "../../page/index.js"
import { parseShorthand } from "../../page/shorthand/index.js"
import { readVoice, type MensurationSpan, type Reading } from "../../reading/index.js"
import { ownPage } from "./passage.js"

export interface PracticeWish {
  readonly name: string
  readonly options?: Readonly<Record<string, string>>
}

/** "ars-nova(minims=written)", as the head of a voice has it. */
export function practiceWord({ name, options = {} }: PracticeWish): string {
  const pairs = Object.entries(options).map(([key, value]) => `${key}=${value}`)
  return pairs.length === 0 ? name : `${name}(${pairs.join(" ")})`
}

export const isWhite = ({ name }: PracticeWish): boolean => name === "white"

/** A voice of a line of ours. */
export const voiceLines = (practice: PracticeWish, line: string): string =>
  `voice line ${isWhite(practice) ? "white" : "black"} practice=${practiceWord(practice)}\n${line}`

export function readLine(practice: PracticeWish, line: string): Reading {
  return readVoice(ownPage(voiceLines(practice, line)).voices[0]!)
}

/** What a note of a level lasts where nothing acts on it: before its like. */
export function wholeValue(practice: PracticeWish, sign: string, level: Level): Rational {
  const reading = readLine(practice, `${sign} ${ABBREVIATIONS[level]} o o o`)
  return reading.signs.find(one => one.kind === "note")!.duration
}

/** What a sign of mensuration says; undefined where it is none. */
export function spanOf(practice: PracticeWish, sign: string): MensurationSpan | undefined {
  const read = parseShorthand(voiceLines(practice, `${sign} B o`), "sign")
  if (!read.ok || read.problems.length > 0) return undefined
  // a sign, and with it a proportion, but no notes
  const kinds = read.value.voices[0]?.signs.map(one => one.kind) ?? []
  if (kinds[0] !== "mensuration" || kinds.filter(one => one === "note").length !== 1) return undefined
  return readLine(practice, `${sign} B o`).mensurations[0]
}

/** The signs of a line of shorthand. */
export const signsIn = (line: string, white = false): readonly Sign[] =>
  ownPage(`voice line ${white ? "white" : "black"}\n${line}`).voices[0]!.signs

export interface DrawnOwn {
  readonly item: Item
  /** In staff spaces; y is 0 on the bottom line. */
  readonly box: Box
}

/** Signs one after another on a staff, in staff spaces, without their ids: figures show many of one kind. */
export function drawOwn(signs: readonly Sign[], { white = false, lines = 5, gap = 0.5 } = {}): DrawnOwn {
  const content: Item[] = []
  let box: Box | undefined
  for (const sign of signs) {
    const drawn = drawSign(sign, { clef: USUAL_CLEF, before: 4 }, { white, lines })
    const x = box === undefined ? -drawn.box.left : box.right + gap - drawn.box.left
    content.push({ shape: "group", x, content: [withoutIds(drawn.item)] })
    const own = { ...drawn.box, left: drawn.box.left + x, right: drawn.box.right + x }
    box = box
      ? { left: box.left, right: own.right, top: Math.min(box.top, own.top), bottom: Math.max(box.bottom, own.bottom) }
      : own
  }
  return { item: { shape: "group", content }, box: box ?? { left: 0, right: 0, top: 0, bottom: 0 } }
}

export function withoutIds(item: Item): Item {
  if (item.shape !== "group") return item
  const { sign: _sign, ...group } = item
  return { ...group, content: group.content.map(withoutIds) }
}
