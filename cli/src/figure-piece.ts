/** The piece of a figure and the passage that is asked for: by moments, by voices, or by the numbers of signs. */
import {
  alignVoices,
  findSign,
  findVoice,
  plus,
  type FigureAsked,
  type PassagePart,
  type Problem,
  type Result,
} from "@resolutio/core"
import { partOf } from "./draw-time.js"
import type { FigureFlags } from "./figure.js"
import { readInput } from "./input.js"
import { chooseVoices, noSuchSign, readOptions, readWith, type PageRead } from "./reading.js"

export interface FigurePiece {
  readonly asked: Pick<FigureAsked, "piece" | "part" | "select">
  readonly problems: readonly Problem[]
}

export function pieceFor(file: string, flags: FigureFlags): Result<FigurePiece> {
  const options = readOptions(flags)
  const input = readInput(file)
  if (!options.ok || !input.ok)
    return { ok: false, problems: [options, input].filter(one => !one.ok).flatMap(one => one.problems) }
  const read = readWith(input.value.page, options.value, flags.alone)
  const score = alignVoices(read.page, read.readings)
  const part = flags.signs === undefined ? momentsPart(flags, read) : signsPart(flags.signs, read)
  const select = selected(flags.select, read)
  if (!part.ok || !select.ok)
    return { ok: false, problems: [part, select].filter(one => !one.ok).flatMap(one => one.problems) }
  const problems = [...input.value.problems, ...read.readings.flatMap(one => one.problems), ...score.problems]
  return { ok: true, value: { asked: { piece: read, part: part.value, ...select.value }, problems }, problems: [] }
}

function momentsPart(flags: FigureFlags, read: PageRead): Result<PassagePart> {
  const score = alignVoices(read.page, read.readings)
  const part = partOf(flags, score)
  const voices = chooseVoices(read, flags.voice ?? [])
  if (!part.ok || !voices.ok)
    return { ok: false, problems: [part, voices].filter(one => !one.ok).flatMap(one => one.problems) }
  const named = flags.voice && flags.voice.length > 0 ? { voices: voices.value.map(one => one.n) } : {}
  return { ok: true, value: { ...part.value, ...named }, problems: [] }
}

const SIGNS = /^(?:(.*?)\s+)?(\d+)\s*(?:\.\.|…|-|–)\s*(\d+)$/

/** "tenor 3..12": from the beginning of the third note or rest to the end of the twelfth; without a voice, of the first. */
function signsPart(text: string, read: PageRead): Result<PassagePart> {
  const found = SIGNS.exec(text.trim())
  if (!found) return badSigns(text, "Write a voice and the numbers of two notes or rests in it: --signs “tenor 3..12”.")
  const [, name = read.page.voices[0]?.label ?? "1", first, last] = found
  const voice = findVoice(read.page, name)
  if (!voice) return { ok: false, problems: [noSuchSign(text, read)] }
  const score = alignVoices(read.page, read.readings)
  const reading = read.readings.find(one => one.voice === voice.id)
  const events = score.voices.find(one => one.id === voice.id)?.events ?? []
  const eventOf = (number: string) => {
    const sign = reading?.signs.find(one => one.number === Number(number))
    return sign && events.find(one => one.id === sign.id)
  }
  const [begin, end] = [eventOf(first!), eventOf(last!)]
  if (!begin || !end) return { ok: false, problems: [noSuchSign(text, read)] }
  if (Number(first) > Number(last)) return badSigns(text, "Write the smaller number first.")
  const duration = end.kind === "note" && end.held ? end.readDuration : end.duration
  return { ok: true, value: { from: begin.onset, to: plus(end.onset, duration), voices: [voice.n] }, problems: [] }
}

function badSigns<T>(text: string, mend: string): Result<T> {
  const what = `“${text}” does not say which notes to show.`
  return { ok: false, problems: [{ code: "bad-signs", what, where: { place: "--signs" }, mend, severity: "error" }] }
}

function selected(place: string | undefined, read: PageRead): Result<Pick<FigureAsked, "select">> {
  if (place === undefined) return { ok: true, value: {}, problems: [] }
  if (place === "none") return { ok: true, value: { select: null }, problems: [] }
  const sign = findSign(read.page, place)
  if (!sign || (sign.kind !== "note" && sign.kind !== "rest")) return { ok: false, problems: [noSuchSign(place, read)] }
  return { ok: true, value: { select: sign.id }, problems: [] }
}
