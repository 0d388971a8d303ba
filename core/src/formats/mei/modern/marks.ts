/** What stands over the notes of a stretch: brackets and fermatas. */
import { compare, equals, minus, plus, ratio, times, toNumber } from "../../../base/index.js"
import type { EditionConventions } from "../../../edition/index.js"
import { bearsPlica } from "../../../score/index.js"
import type {
  LayerItem,
  NotatedBlock,
  NotatedScore,
  NotatedSign,
  Score,
  ScoreBracket,
  ScoreMark,
  ScoreVoice,
} from "../../../score/index.js"
import { markWords } from "../../mark-words.js"
import { element, type XmlElement } from "../../xml.js"
import { partId, plicaId, scoreId } from "./ids.js"

/** Brackets of a voice by the sign they begin on. */
export function bracketsByStart(voice: ScoreVoice): ReadonlyMap<string, readonly ScoreBracket[]> {
  const starts = new Map<string, ScoreBracket[]>()
  for (const bracket of voice.brackets) starts.set(bracket.from, [...(starts.get(bracket.from) ?? []), bracket])
  return starts
}

export interface MarkContext extends Pick<EditionConventions, "finals" | "plicas"> {
  /** Brackets of each voice by the sign they begin on. */
  readonly starts: readonly ReadonlyMap<string, readonly ScoreBracket[]>[]
  /** What the page has before each note or rest of a voice. */
  readonly source: readonly ReadonlyMap<string, readonly XmlElement[]>[]
  /** Note value of one beat, as the engraver counts beats in this stretch. */
  readonly unit: number
}

export function marksOf(block: NotatedBlock, { starts, source, unit, finals, plicas }: MarkContext): XmlElement[] {
  return block.layers.flatMap((layer, voice) => [
    ...beginningIn(layer).flatMap(({ id, wholeBar }) => {
      const before = source[voice]!.get(id) ?? []
      return wholeBar ? before.map(atBeginning) : before
    }),
    ...signsOf(layer).flatMap(sign => {
      const id = sign.event.id
      if (id === null) return []
      const brackets = sign.part === 0 ? (starts[voice]!.get(id) ?? []) : []
      return [
        ...brackets.map(bracket => bracketElement(bracket, sign, block, voice, unit)),
        ...(plicas === "dotted-slur" ? plicaSlur(sign) : []),
        ...(sign.last && hasFermata(sign, finals) ? [fermata(sign, id)] : []),
      ]
    }),
  ])
}

/** Ids of the notes and rests that begin in the stretch. */
function beginningIn(layer: readonly LayerItem[]): { readonly id: string; readonly wholeBar: boolean }[] {
  return layer.flatMap(item => {
    const begins: readonly Pick<NotatedSign, "event" | "part">[] =
      item.kind === "tuplet" ? item.signs : item.kind === "sign" || item.kind === "bar-rest" ? [item] : []
    return begins.flatMap(({ event: { id }, part }) =>
      part === 0 && id !== null ? [{ id, wholeBar: item.kind === "bar-rest" }] : [],
    )
  })
}

/** A rest through the whole bar stands in its middle; what stands before it belongs to the beginning. */
const atBeginning = (mark: XmlElement): XmlElement => ({
  ...mark,
  attributes: { ...mark.attributes, startid: undefined, tstamp: 1 },
})

export function signsOf(layer: readonly LayerItem[]): NotatedSign[] {
  return layer.flatMap(item => (item.kind === "tuplet" ? item.signs : item.kind === "sign" ? [item] : []))
}

function hasFermata({ event }: NotatedSign, finals: EditionConventions["finals"]): boolean {
  return event.fermata || (finals === "fermata" && event.kind === "note" && event.held)
}

/** From the note that bears a plica to the small note that it has become. */
function plicaSlur(sign: NotatedSign): XmlElement[] {
  const { event, part } = sign
  if (event.kind !== "note") return []
  const slur = (from: string, to: string) => element("slur", { startid: `#${from}`, endid: `#${to}`, lform: "dotted" })
  if (event.plicaOf !== undefined && part === 0) return [slur(scoreId(event.plicaOf), scoreId(event.id))]
  return bearsPlica(sign) ? [slur(partId(event.id, part), plicaId(event.id))] : []
}

function fermata(sign: NotatedSign, id: string): XmlElement {
  return element("fermata", { startid: `#${partId(id, sign.part)}`, place: "above" })
}

/**
 * Solid over a ligature, two open corners over coloration. The engraver refuses one that ends on the note it begins on, so
 * one over a single note ends on its next part, or else at a beat within it. A known ugliness: the engraver counts such beats by the meter in
 * force on the lowest staff, whatever the bracket's own staff has.
 */
function bracketElement(
  bracket: ScoreBracket,
  sign: NotatedSign,
  block: NotatedBlock,
  voice: number,
  unit: number,
): XmlElement {
  const form = bracket.kind === "ligature" ? { func: "ligature", lform: "solid" } : { func: "coloration" }
  const start = { ...form, staff: voice + 1, startid: `#${scoreId(bracket.from)}` }
  if (bracket.from !== bracket.to) return element("bracketSpan", { ...start, endid: `#${scoreId(bracket.to)}` })
  if (!sign.last) return element("bracketSpan", { ...start, endid: `#${partId(bracket.to, 1)}` })
  const within = plus(minus(sign.start, block.start), times(minus(sign.end, sign.start), ratio(3, 5)))
  return element("bracketSpan", { ...start, tstamp2: `0m+${(1 + unit * toNumber(within)).toFixed(4)}` })
}

/** A refrain is named over the uppermost voice that has it, and its end where something follows. */
function isSaid({ of, onset }: ScoreMark, voice: ScoreVoice, { voices, duration }: Score): boolean {
  if (of !== "refrain-start" && of !== "refrain-end") return false
  const above = voices.slice(0, voices.indexOf(voice))
  if (of === "refrain-end" && compare(onset, duration) >= 0) return true
  return above.some(({ marks }) => marks.some(mark => mark.of === of && equals(mark.onset, onset)))
}

/**
 * Canons, rubrics, refrains and numerals of a voice, in italics over the note that they stand before (after the last: over
 * it). Gives those of one stretch after another, each once.
 */
export function wordsOf(
  voice: ScoreVoice,
  { score, wholesPerUnit }: NotatedScore,
): (block: NotatedBlock, last: boolean) => XmlElement[] {
  const n = score.voices.indexOf(voice)
  const waiting = voice.marks.flatMap(mark => {
    if (isSaid(mark, voice, score)) return []
    const text = markWords(mark)
    return text ? [{ text, at: times(mark.onset, wholesPerUnit) }] : []
  })
  return (block, last) => {
    const signs = signsOf(block.layers[n]!).filter(({ event }) => event.id !== null)
    const due = waiting.splice(0, last ? waiting.length : waiting.filter(({ at }) => compare(at, block.end) < 0).length)
    return due.map(({ text, at }) => {
      const sign = signs.find(one => compare(one.start, at) >= 0) ?? signs.at(-1)
      const where = sign ? { startid: `#${partId(sign.event.id!, sign.part)}` } : { tstamp: 1 }
      return element("dir", { staff: n + 1, ...where, place: "above" }, element("rend", { fontstyle: "italic" }, text))
    })
  }
}
