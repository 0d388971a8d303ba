/** What is asked for single voices: timbre, level, place, mute, solo. */
import {
  TIMBRES,
  type Problem,
  type Result,
  type Score,
  type Timbre,
  type VoiceId,
  type VoiceSound,
} from "@resolutio/core"
import type { HearFlags } from "./hear-flags.js"
import { either } from "./messages.js"

interface Asked {
  readonly timbre?: Timbre
  readonly voices: ReadonlyMap<VoiceId, Partial<VoiceSound>>
}

/** "organ" is for all voices, "tenor=organ" for one. */
export function voiceSounds(flags: HearFlags, score: Score): Result<Asked> {
  const wishes = new Map<VoiceId, Partial<VoiceSound>>()
  const problems: Problem[] = []
  let timbre: Timbre | undefined
  const wish = (place: string, name: string, more: Partial<VoiceSound>): void => {
    const found = voicesNamed(score, name)
    if (found.length === 0) problems.push(noVoice(place, name, score))
    for (const id of found) wishes.set(id, { ...wishes.get(id), ...more })
  }
  for (const text of flags.sound) {
    const [name, sound] = halves(text)
    const known = TIMBRES.find(one => one === sound.toLowerCase())
    if (!known)
      problems.push(
        bad("--sound", `There is no sound “${sound}”.`, `Write ${either(TIMBRES)}, for one voice tenor=${TIMBRES[0]}.`),
      )
    else if (name === undefined) timbre = known
    else wish("--sound", name, { timbre: known })
  }
  for (const [flag, key, from, to] of NUMBERS)
    for (const text of flags[key]) {
      const [name, number] = halves(text)
      const value = number === "" ? NaN : Number(number)
      if (name !== undefined && value >= from && value <= to) wish(flag, name, { [key]: value })
      else
        problems.push(
          bad(flag, `“${text}” cannot be taken.`, `Write a voice and a number from ${from} to ${to}: tenor=${to / 2}.`),
        )
    }
  for (const name of flags.mute) wish("--mute", name, { mute: true })
  for (const name of flags.solo) wish("--solo", name, { solo: true })
  if (problems.length > 0) return { ok: false, problems }
  return { ok: true, value: { ...(timbre ? { timbre } : {}), voices: wishes }, problems: [] }
}

const NUMBERS = [
  ["--level", "level", -60, 12],
  ["--place", "place", -1, 1],
] as const

function halves(text: string): [name: string | undefined, value: string] {
  const at = text.lastIndexOf("=")
  return at < 0 ? [undefined, text.trim()] : [text.slice(0, at).trim(), text.slice(at + 1).trim()]
}

/** By label in any case or by number; a part that several voices sing means all of these. */
export function voicesNamed({ voices }: Score, name: string): VoiceId[] {
  const wanted = name.trim().toLowerCase()
  const labelled = voices.filter(voice => voice.label.toLowerCase() === wanted)
  return (labelled.length > 0 ? labelled : voices.filter(voice => voice.n === name.trim())).map(voice => voice.id)
}

const noVoice = (place: string, name: string, { voices }: Score): Problem =>
  bad(
    place,
    `There is no voice “${name}”.`,
    `The voices are ${either(voices.map(one => (one.label === one.n ? one.n : `${one.label} (${one.n})`)))}.`,
  )

const bad = (place: string, what: string, mend: string): Problem => ({
  code: "bad-option",
  what,
  where: { place },
  mend,
  severity: "error",
})
