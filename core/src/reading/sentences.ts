/** One short sentence for each rule, said of one sign: the thing first, the term second. */
import { toText } from "../base/index.js"
import type { Reading, SignReading } from "./types.js"

export interface Said {
  readonly sign: SignReading
  /** "the breve", "the rest of a semibreve" */
  readonly name: string
  /** Causes, as "the semibreve after it (5)", joined. */
  readonly because: string
  /** So many of the causes are notes or rests. */
  readonly fellows: number
  readonly duration: string
  readonly unit: string
  readonly before: boolean
  readonly after: boolean
}

type Sentence = (s: Said) => string

const lasts = (s: Said): string => `${s.duration} ${s.unit}`

function partOfPair({ duration }: SignReading): string {
  if (duration.num * 2 === duration.den) return "one half"
  return duration.num * 2 > duration.den ? "the greater" : "the lesser"
}

export const SENTENCES: Readonly<Record<string, Sentence>> = {
  "as-written": s => `It has the value of its shape, ${lasts(s)}; nothing acts on it.`,
  "similis-ante-similem": s => `It stays perfect, for one of its own kind follows: ${s.because}.`,
  "number-complete": s => `It stays whole: what follows (${s.because}) fills its perfections without it.`,
  "nothing-acts": s => `It stays whole, ${lasts(s)}: nothing takes a part of it.`,
  "imperfectio-a-parte-post": s => `It loses its last third to what follows: ${s.because}.`,
  "imperfectio-a-parte-ante": s => `It loses its first third to what precedes: ${s.because}.`,
  "imperfectio-ab-utraque-parte": s => `It loses a third, half of it to each side: ${s.because}.`,
  "imperfectio-ad-partem": s =>
    `A part of it gives way ${s.before && s.after ? "on both sides" : s.before ? "in front" : "at the end"}: ${s.because}.`,
  "imperfectio-ad-totum-et-partem": s => `It loses a third of the whole and one of a part: ${s.because}.`,
  alteratio: s => `It is doubled, so that the perfection is full: ${s.because}.`,
  "alteratio-et-imperfectio": s => `It is doubled, then gives a part to what precedes: ${s.because}.`,
  "punctus-perfectionis": s =>
    s.sign.duration.num === 0 ? "It marks the note before it as perfect." : "The mark after it keeps it perfect.",
  "punctus-divisionis": () => "It adds no time; it parts one perfection from the next.",
  "punctus-additionis": s =>
    s.sign.duration.num === 0 ? "It adds half to the note before it." : `The dot after it adds half: ${lasts(s)}.`,
  syncopatio: s => `It is counted past its neighbours with later ones (syncopation): ${lasts(s)}.`,
  "breves-in-threes": () => "No long before it is free, so the breves are counted in threes.",
  "count-from-zero": () =>
    "The long before is already imperfect from the front, so the breves are counted in threes from here.",
  closure: s => `The usual choice would leave a perfection open; this one closes it: ${lasts(s)}.`,
  "duplex-longa": s => `A double long in one body: ${lasts(s)}.`,
  "semibrevis-minor-maior": s => `Of a pair of semibreves on a breve it is ${partOfPair(s.sign)}, ${lasts(s)}.`,
  "semibreves-aequales": s => `One of three equal semibreves on a breve, ${lasts(s)}.`,
  "semibreves-undivided": s => `In a run without division it falls into this group, ${lasts(s)}.`,
  "semibreves-pro-altera": s => `Its group stands in the place of an altera: ${lasts(s)}.`,
  "semibrevis-sola": s => `A semibreve alone on its breve is an error; the least value is kept, ${lasts(s)}.`,
  "brevis-divisa": s => `One of ${s.fellows + 1} semibreves on a breve, ${lasts(s)}.`,
  "via-naturae": s => `A plain semibreve of a group on one breve, by nature ${lasts(s)}.`,
  "via-artis": s => `The stem sets its value by art: ${lasts(s)}.`,
  "stem-lengthens": s => `The tail marks the greater of the pair: ${lasts(s)}.`,
  ligatura: s => `Its place in the drawn form of the ligature makes it a ${s.name.replace(/^the /, "")}: ${lasts(s)}.`,
  conjunctura: s => `In a conjunctura each keeps the value of its own shape: ${lasts(s)}.`,
  plica: () => "It bears a plica.",
  "pausa-manet": s => `A rest keeps its value, ${lasts(s)}.`,
  "finis-punctorum": () => "It closes the section and is not measured; the note before the last is held.",
  suspirium: s => `The stroke stands close to it and takes its time from it: ${lasts(s)}.`,
  coloratio: s => `Its colour takes a third: ${lasts(s)}.`,
  semicoloratio: s => `Half of it is coloured and loses a third: ${lasts(s)}.`,
  "minor-color": s => `One of a coloured pair in imperfect time: ${lasts(s)}.`,
  "isolated-black": s => `A single coloured note in imperfect time: ${lasts(s)}.`,
  "black-minims": s => `By the number of black minims in its group: ${lasts(s)}.`,
  proportio: s => `Its value is only scaled by the proportion in force: ${lasts(s)}.`,
  "local-shape": s => `The shape has this value in this piece: ${lasts(s)}.`,
  decision: s => `An editor decided it: ${lasts(s)}.`,
  given: s => `The file gives its duration: ${lasts(s)}.`,
}

/** "triplum 12" of a sign by its number, or the bare id for a sign that does not last. */
export function nameOf(reading: Reading, sign: SignReading): string {
  const kind =
    sign.kind === "rest" ? `${sign.level ?? "short"} rest` : sign.kind === "note" ? (sign.level ?? "note") : sign.kind
  return sign.number > 0 ? `${kind} ${sign.number}` : kind
}

/** Names of the values in the older group of treatises (De mensurabili musica, c. 1240-60); undefined where they agree. */
export function olderName(sign: SignReading): string | undefined {
  const tempora = sign.duration.num / sign.duration.den
  if (sign.level === "longa" && tempora === 2) return "recta longa"
  if (sign.level === "longa" && tempora === 3) return "longa beyond measure"
  return sign.level === "brevis" && tempora === 2 ? "brevis maior" : undefined
}

export function unitName(reading: Reading, sign: SignReading): string {
  const one = sign.duration.num === sign.duration.den
  if (reading.unit === "tempus") return one ? "tempus" : "tempora"
  return one ? "minim" : "minims"
}

export const durationText = (sign: SignReading): string => toText(sign.duration)
