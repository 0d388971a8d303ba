/** `resolutio hear`: a piece as sound in a file, and when each sign is heard. */
import { basename, dirname, extname, join } from "node:path"
import {
  alignVoices,
  markersCsv,
  markersJson,
  markersOf,
  markersVtt,
  onlyVoice,
  perform,
  practising,
  rivalsInTurn,
  excerpt,
  type Marker,
  type Performance,
  type PerformedVoice,
  type Problem,
  type Result,
  type Score,
} from "@resolutio/core"
import { refusedFile, writeWhole } from "./files.js"
import type { HearFlags } from "./hear-flags.js"
import { performanceOptions, fine, wrong } from "./hear-options.js"
import { heardPart, partOf, unheard } from "./hear-part.js"
import { Stopped, watch, type Watch } from "./patience.js"
import { rivalsAt } from "./hear-rivals.js"
import { ENCODED } from "./hear-encode.js"
import { writeSounds, type SoundFile } from "./hear-write.js"
import { readInput } from "./input.js"
import { refuse, showProblem } from "./messages.js"
import { endingOf, unknownEnding } from "./output.js"
import { readOptions, readWith, type PageRead } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, STOPPED, type Shell } from "./shell.js"

const SOUND_ENDINGS = [".wav", ...ENCODED]
const MARKER_ENDINGS = [".csv", ".json", ".vtt"]

export async function hear(file: string, flags: HearFlags, shell: Shell): Promise<number> {
  const names = namesOf(flags)
  const options = readOptions(flags)
  const input = readInput(file)
  if (names.length > 0 || !options.ok || !input.ok)
    return refuse([...names, ...[options, input].flatMap(one => (one.ok ? [] : one.problems))], shell, file)
  const read = readWith(input.value.page, options.value, flags.alone)
  const score = alignVoices(read.page, read.readings, { repeats: flags.repeats })
  const heard = heardWith(read, score, flags, options.value)
  if (!heard.ok) return refuse(heard.problems, shell, file)
  const { performance, sentences } = heard.value
  const nothing = unheard(performance)
  if (nothing.length > 0) return refuse([...nothing, ...performance.problems, ...score.problems], shell, file)
  const files = filesOf(flags, performance)
  const refused = [...files.map(one => one.name), ...flags.markers].flatMap(
    name => refusedFile(name, flags.force ?? false) ?? [],
  )
  if (refused.length > 0) return refuse(refused, shell, file)
  const written = await sounded(performance, files, flags, shell)
  if (written === "stopped") return STOPPED
  if (!written.ok) return refuse(written.problems, shell, file)
  const unwritten = writeMarkers(flags, heard.value, score.title, shell)
  for (const sentence of sentences) shell.err(plain(sentence))
  const problems = [
    ...written.problems,
    ...unwritten,
    ...input.value.problems,
    ...read.readings.flatMap(one => one.problems),
    ...score.problems,
    ...performance.problems,
  ]
  for (const one of problems) shell.err(showProblem(one, file))
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

/** What is wrong with the names of files to write, before anything is read. */
function namesOf({ output, markers, files, rivals }: HearFlags): Problem[] {
  const sound = SOUND_ENDINGS.includes(endingOf(output)) ? [] : [unknownEnding(output, SOUND_ENDINGS)]
  const marks = markers
    .filter(name => !MARKER_ENDINGS.includes(endingOf(name)))
    .map(name => ({ ...unknownEnding(name, MARKER_ENDINGS), where: { place: "--markers" } }))
  const twoThings = rivals !== undefined && files !== "all"
  const both = twoThings
    ? wrong("--files", "Rivals are heard in one file, with all voices.", "Leave out --files or --rivals.").problems
    : []
  return [...sound, ...marks, ...both]
}

/** What is heard under a name ("A", "B"), or all of it under null. */
interface HeardReading {
  readonly name: string | null
  readonly read: PageRead
}
interface Heard {
  readonly performance: Performance
  readonly readings: readonly HeardReading[]
  /** How it is sounded, for the person. */
  readonly sentences: readonly string[]
}

function heardWith(
  read: PageRead,
  score: Score,
  flags: HearFlags,
  reading: Parameters<typeof readWith>[1],
): Result<Heard> {
  const options = performanceOptions(flags, score)
  const part = partOf(flags, read.page, score)
  if (!options.ok || !part.ok)
    return { ok: false, problems: [options, part].flatMap(one => (one.ok ? [] : one.problems)) }
  const a = perform(score, options.value)
  if (!a.ok) return a
  if (flags.rivals === undefined) {
    const performance = heardPart(a.value, score, part.value)
    return fine({
      performance,
      sentences: performance.sentences,
      readings: [{ name: null, read }],
    })
  }
  const rivals = rivalsAt(read, score, reading, flags)
  if (!rivals.ok) return rivals
  const b = perform(rivals.value.score, options.value)
  if (!b.ok) return b
  const from = part.value.from ?? rivals.value.from
  const to = part.value.to ?? rivals.value.to
  const pair = rivalsInTurn(excerpt(a.value, { from, to }), excerpt(b.value, { from, to }))
  const performance = part.value.times > 1 ? excerpt(pair, { times: part.value.times }) : pair
  return fine({
    performance,
    sentences: [rivals.value.sentence, ...a.value.sentences],
    readings: [
      { name: "A", read },
      { name: "B", read: rivals.value },
    ],
  })
}

/** All in one file; or a file for each voice, named after it, in which it is alone or loud. */
function filesOf({ files, output, balance }: HearFlags, { voices }: Performance): SoundFile[] {
  if (files === "all") return [{ name: output, voices }]
  const asked = voices.filter(one => one.heard)
  return asked.map(voice => ({
    name: nameFor(output, voice, voices),
    voices: files === "each" ? onlyVoice(voices, voice.id) : practising(voices, voice.id),
    ...(balance && files === "each" ? { asLoudAsIn: voices } : {}),
  }))
}

/** "motet.wav" gives "motet-2-tenor.wav". */
function nameFor(output: string, { id, label }: PerformedVoice, voices: readonly PerformedVoice[]): string {
  const ending = extname(output)
  const number = voices.findIndex(one => one.id === id) + 1
  const word = label
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "")
  const tail = word === "" || word === String(number) ? "" : `-${word}`
  return join(dirname(output), `${basename(output, ending)}-${number}${tail}${ending}`)
}

async function sounded(
  performance: Performance,
  files: readonly SoundFile[],
  flags: HearFlags,
  shell: Shell,
): Promise<Result<null> | "stopped"> {
  const waiting: Watch = watch(shell)
  try {
    const written = await writeSounds(performance, files, flags.force ?? false, waiting)
    waiting.done()
    if (!written.ok) return written
    for (const name of written.value) shell.err(`Written: ${plain(name)}`)
    if (written.value.length > 0) shell.err(QUIET)
    return { ok: true, value: null, problems: written.problems }
  } catch (error) {
    waiting.done()
    if (!(error instanceof Stopped) && (error as Error).name !== "AbortError") throw error
    shell.err("Stopped; nothing was written.")
    return "stopped"
  }
}

const QUIET = "It is soft, at -18 LUFS. Begin with the volume low all the same, and raise it when you are ready."

function writeMarkers(flags: HearFlags, { performance, readings }: Heard, title: string, shell: Shell): Problem[] {
  if (flags.markers.length === 0) return []
  const markers = readings.flatMap(({ name, read }) => {
    // Bars are counted as the modern score has them by default, repeats as signs.
    const all = markersOf(performance, alignVoices(read.page, read.readings), read.readings)
    return all.filter(one => name === null || one.passage === name)
  })
  markers.sort((a, b) => a.start - b.start)
  return flags.markers.flatMap(name => {
    const problem = writeWhole(name, markerText(endingOf(name), title, markers), flags.force)
    if (!problem) shell.err(`Written: ${plain(name)}`)
    return problem ? [problem] : []
  })
}

function markerText(ending: string, title: string, markers: readonly Marker[]): string {
  if (ending === ".csv") return markersCsv(markers)
  return ending === ".vtt" ? markersVtt(title, markers) : markersJson(title, markers)
}
