/**
 * Sound is made in a thread of its own, from the same list of tones as the command line's files. The voices are kept as they were
 * rendered, so that levels and places are a matter of mixing them anew.
 */
import {
  alignVoices,
  excerpt,
  readTogether,
  rivalOf,
  rivalsInTurn,
  toText,
  type MixSource,
  type Page,
  type Performance,
  type Reading,
  type Score,
  type SignId,
} from "@resolutio/core"
import { RATE, renderedInMemory, wavOf } from "@resolutio/press"
import { bank } from "../export/tools.js"
import type { FromPlayer, SoundMade, ToPlayer } from "./messages.js"
import { performed } from "./performed.js"
import { soundingsOf } from "./soundings.js"

interface Surroundings {
  postMessage(message: FromPlayer, moved?: Transferable[]): void
  addEventListener(name: "message", take: (event: MessageEvent<ToPlayer>) => void): void
}
const surroundings = self as unknown as Surroundings
const told = (share: number): void => surroundings.postMessage({ tell: "progress", share })

surroundings.addEventListener("message", ({ data }) => {
  made(data).then(
    sound => surroundings.postMessage({ tell: "sound", ...sound }, [sound.wav]),
    (error: unknown) =>
      surroundings.postMessage({ tell: "failed", what: error instanceof Error ? error.message : String(error) }),
  )
})

interface Read {
  readonly pageNumber: number
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
  /** With what is repeated as it is wanted. */
  readonly sung: Score
  readonly repeats: string
}
let read: Read | undefined

function readOf({ page, pageNumber, hearing: { repeats = "written" } }: ToPlayer): Read {
  const known = read?.pageNumber === pageNumber ? read : undefined
  if (known?.repeats === repeats) return known
  const readings = known?.readings ?? readTogether(page).readings
  const sung = alignVoices(page, readings, { repeats })
  return (read = { page, pageNumber, readings, score: known?.score ?? alignVoices(page, readings), sung, repeats })
}

interface Kept {
  readonly how: string
  readonly source: MixSource
}
let kept: Kept | undefined

/** Rendering takes most of the time, mixing the rest. */
const RENDERING = 0.85

async function made(asked: ToPlayer): Promise<SoundMade> {
  const { hearing, rivals } = asked
  const known = readOf(asked)
  const { performance, ...more } = rivals === undefined ? whole(known, asked) : pair(known, asked, rivals)
  const { voices, ...synthesis } = hearing
  const timbres = Object.entries(voices).map(([id, { timbre }]) => [id, timbre])
  const how = JSON.stringify([known.pageNumber, synthesis, timbres, rivals])
  if (kept?.how !== how) {
    kept = undefined
    const source = await renderedInMemory(performance, RATE, bank, share => told(share * RENDERING))
    kept = { how, source }
  }
  const mixing = (share: number): void => told(RENDERING + (1 - RENDERING) * share)
  const wav = await wavOf({ voices: performance.voices }, kept.source, mixing)
  return { wav: wav.buffer as ArrayBuffer, ...more }
}

interface Performed extends Omit<SoundMade, "wav"> {
  readonly performance: Performance
}

function whole({ score, sung }: Read, { hearing }: ToPlayer): Performed {
  const performance = performed(sung, hearing)
  return {
    performance,
    soundings: soundingsOf(performance, score),
    sentences: performance.sentences,
    // where only some voices change, all keep exact step
    changes: performance.equivalences.filter(({ keeps }) => keeps !== "none").map(({ onset }) => toText(onset)),
  }
}

function pair(known: Read, { hearing }: ToPlayer, sign: SignId): Performed {
  const { page, readings, score } = known
  const rival = rivalOf({ page, readings, score, sign, read: page => readTogether(page).readings })
  if (!rival.ok) throw new Error(rival.problems.map(({ what }) => what).join(" "))
  const { from, to, score: other, sentence } = rival.value
  const plain = { ...hearing, countIn: false }
  const both = rivalsInTurn(
    excerpt(performed(score, plain), { from, to }),
    excerpt(performed(other, plain), { from, to }),
  )
  const start = (name: string): number => both.passages.find(one => one.name === name)?.start ?? 0
  return {
    performance: both,
    soundings: soundingsOf(both, score),
    sentences: [sentence, ...both.sentences],
    changes: [],
    rivals: { a: start("A"), b: start("B"), sentence },
  }
}
