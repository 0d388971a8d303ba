/** Sound is made in a thread of its own, from the same list of tones as the command line's files. */
import {
  alignVoices,
  perform,
  plus,
  readTogether,
  tactusSeconds,
  withCountIn,
  type Performance,
  type Rational,
  type Score,
} from "@resolutio/core"
import type { FromPlayer, Playing, Sounding, ToPlayer } from "./messages.js"
import { renderWav } from "./render.js"

interface Surroundings {
  postMessage(message: FromPlayer, moved?: Transferable[]): void
  addEventListener(name: "message", take: (event: MessageEvent<ToPlayer>) => void): void
}
const surroundings = self as unknown as Surroundings

surroundings.addEventListener("message", ({ data }) => {
  sounded(data).catch((error: unknown) =>
    surroundings.postMessage({ tell: "failed", what: error instanceof Error ? error.message : String(error) }),
  )
})

async function sounded({ page, playing, bank }: ToPlayer): Promise<void> {
  const score = alignVoices(page, readTogether(page).readings)
  const performed = performance(score, playing)
  const loaded = await fetch(bank)
  if (!loaded.ok) throw new Error("the voices could not be loaded")
  const wav = await renderWav(performed, await loaded.arrayBuffer(), share =>
    surroundings.postMessage({ tell: "progress", share }),
  )
  surroundings.postMessage(
    { tell: "sound", wav, soundings: soundingsOf(performed, score), sentences: performed.sentences },
    [wav],
  )
}

function performance(score: Score, { speed, countIn, mute }: Playing): Performance {
  const result = perform(score, { speed, voices: new Map(mute.map(id => [id, { mute: true }])) })
  if (!result.ok) throw new Error(result.problems[0]?.what ?? "it cannot be performed")
  return countIn ? withCountIn(result.value, 4, tactusSeconds(result.value, score)) : result.value
}

function soundingsOf({ sounds }: Performance, { voices }: Score): Sounding[] {
  const until = new Map(
    voices.flatMap(({ events }) => events).map(({ id, onset, duration }) => [id, toNumber(plus(onset, duration))]),
  )
  return sounds.flatMap(({ sign, note, start, end, onset }) =>
    sign === null ? [] : [{ sign, start, end, onset: toNumber(onset), until: until.get(note) ?? toNumber(onset) }],
  )
}
const toNumber = ({ num, den }: Rational): number => num / den
