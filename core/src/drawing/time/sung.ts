/** The words of a voice: the syllables of its first stanza, with the note under which each stands. */
import type { Syllable } from "../../page/index.js"
import type { TypeStyle } from "../scene/scene.js"
import { ELISION, textWidth } from "../text/width.js"
import type { Look } from "./options.js"
import type { TimeVoice } from "./timeline.js"

export interface Sung {
  /** Number of the note in its voice. */
  readonly sign: number
  readonly text: string
  /** The last one's on this note. */
  readonly join: Syllable["join"]
  readonly type: TypeStyle
  readonly width: number
}

export function sungOf({ signs }: TimeVoice, { types }: Look): Sung[] {
  const sung: Sung[] = []
  const first = firstStanza(signs)
  if (first === Infinity) return sung
  signs.forEach(({ sign }, at) => {
    if (sign.kind !== "note" || sign.syllables.length === 0) return
    const [only] = sign.syllables
    const own = sign.syllables.length === 1 && only!.stanza === first ? sign.syllables : ofStanza(sign.syllables, first)
    const last = own.at(-1)
    if (!last) return
    const text = own.length === 1 ? last.text : joined(own)
    const type = last.italic ? types.italicWords : types.words
    sung.push({ sign: at, text, join: last.join, type, width: textWidth(text, type) })
  })
  return sung
}
/** Those of the same voice in the last layout, of the same look, where the notes are still the same. */
export function sungAgain(
  time: TimeVoice,
  look: Look,
  before: { readonly time: TimeVoice; readonly sung: readonly Sung[] } | undefined,
): readonly Sung[] {
  const known = before?.time.signs
  const isSame = known?.length === time.signs.length && time.signs.every(({ sign }, i) => sign === known[i]!.sign)
  return before && isSame ? before.sung : sungOf(time, look)
}

const ofStanza = (all: readonly Syllable[], stanza: number): readonly Syllable[] =>
  all.filter(one => one.stanza === stanza)
const joined = (own: readonly Syllable[]): string =>
  own.map((one, i) => one.text + (i === own.length - 1 ? "" : BETWEEN[one.join])).join("")

/** Two syllables on one note. */
const BETWEEN = { "-": "", " ": " ", _: " ", "~": ELISION } as const

function firstStanza(signs: TimeVoice["signs"]): number {
  let first = Infinity
  for (const { sign } of signs)
    if (sign.kind === "note") for (const { stanza } of sign.syllables) first = Math.min(first, stanza)
  return first
}

/** Those of the notes from this number up to that. */
export function sungIn(sung: readonly Sung[], from: number, to: number): readonly Sung[] {
  return sung.slice(firstSung(sung, from), firstSung(sung, to))
}

function firstSung(sung: readonly Sung[], from: number): number {
  let [low, high] = [0, sung.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (sung[middle]!.sign < from) low = middle + 1
    else high = middle
  }
  return low
}
