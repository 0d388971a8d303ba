/** How each piece was heard last, kept on this machine. It is a matter of taste: what cannot be kept is let go. */
import { EQUIVALENCES, TEMPO_VALUES, TIMBRES, TUNINGS, type VoiceId } from "@resolutio/core"
import { SHIFTS, USUAL_HEARING, type Hearing, type VoiceHearing } from "./hearing.js"

const KEPT = "resolutio hearing"
/** Of so many pieces; those heard last. */
const MOST = 60

type Entries = [piece: string, hearing: unknown][]

function entries(): Entries {
  try {
    const all: unknown = JSON.parse(localStorage.getItem(KEPT) ?? "[]")
    return Array.isArray(all) ? all.filter((one): one is Entries[number] => Array.isArray(one)) : []
  } catch {
    return []
  }
}

export function keepHearing(piece: string, hearing: Hearing): void {
  const others = entries().filter(([one]) => one !== piece)
  try {
    localStorage.setItem(KEPT, JSON.stringify([[piece, hearing], ...others].slice(0, MOST)))
  } catch {
    // it is a matter of taste only
  }
}

export const keptHearing = (piece: string): Hearing => saneHearing(entries().find(([one]) => one === piece)?.[1])

/** What was kept by another version, or spoilt, is taken as far as it can be. */
export function saneHearing(kept: unknown): Hearing {
  const { speed, countIn, timbre, tempo, tuning, equivalence, reference, shift, voices } = (kept ??
    {}) as Partial<Hearing>
  const isTempo = TEMPO_VALUES.some(one => one === tempo?.value) && within(tempo?.perMinute, 1, 2000) !== undefined
  return {
    speed: within(speed, 0.1, 10) ?? USUAL_HEARING.speed,
    countIn: countIn === true,
    timbre: TIMBRES.find(one => one === timbre) ?? USUAL_HEARING.timbre,
    ...(isTempo ? { tempo } : {}),
    ...(TUNINGS.some(one => one === tuning) ? { tuning } : {}),
    ...(EQUIVALENCES.some(one => one === equivalence) ? { equivalence } : {}),
    ...given("reference", within(reference, 220, 880)),
    ...(shift !== undefined && SHIFTS.includes(shift) ? { shift } : {}),
    voices: saneVoices(voices),
  }
}

function saneVoices(voices: unknown): Hearing["voices"] {
  if (typeof voices !== "object" || voices === null) return {}
  const sane: [VoiceId, VoiceHearing][] = Object.entries(voices as Record<VoiceId, VoiceHearing | null>).map(
    ([id, own]) => [
      id as VoiceId,
      {
        ...given("level", within(own?.level, -60, 12)),
        ...given("place", within(own?.place, -1, 1)),
        mute: own?.mute === true,
        solo: own?.solo === true,
      },
    ],
  )
  return Object.fromEntries(sane)
}

const given = <K extends string>(name: K, value: number | undefined) => (value === undefined ? {} : { [name]: value })
const within = (value: unknown, from: number, to: number): number | undefined =>
  typeof value === "number" && value >= from && value <= to ? value : undefined
