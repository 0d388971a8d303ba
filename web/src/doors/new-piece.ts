/** A page with nothing on it but clefs. */
import { signId, voiceId, type Page, type Sign, type Voice } from "@resolutio/core"
import { NO_PAGE } from "../document/documents.js"

export interface NewPiece {
  readonly title: string
  /** From the highest down. */
  readonly voices: readonly string[]
  readonly notation: "black" | "white"
  /** Undefined where it is to be inferred. */
  readonly practice?: string
}

export function newPage({ title, voices, notation, practice }: NewPiece): Page {
  const names = voices.length > 0 ? voices : [""]
  return { ...NO_PAGE, title, voices: names.map((label, i) => newVoice(label, i, names.length, notation, practice)) }
}

function newVoice(label: string, i: number, all: number, notation: Voice["notation"], practice?: string): Voice {
  const n = String(i + 1)
  const clef: Sign = { id: signId(`${n}.1`), kind: "clef", shape: "C", line: clefLine(i, all), initial: true }
  return {
    id: voiceId(n),
    n,
    label,
    lines: 5,
    notation,
    ...(practice === undefined ? {} : { practice: { name: practice, options: {} } }),
    signs: [clef],
  }
}

/** From the first line for the highest voice to the fourth for the lowest: common practice of part books and choirbooks. */
const clefLine = (i: number, all: number): number => (all === 1 ? 3 : 1 + Math.round((3 * i) / (all - 1)))
