/** How each piece was heard last, kept on this machine. It is a matter of taste: what cannot be kept is let go. */
import { EQUIVALENCES, parseTuning, TEMPO_VALUES, TIMBRES, TUNINGS, type Tuning, type VoiceId } from "@resolutio/core"
import {
  changeFrom,
  PLICAS,
  REPEATS,
  SHIFTS,
  tableText,
  USUAL_HEARING,
  type ChangeHearing,
  type Hearing,
  type VoiceHearing,
} from "./hearing.js"

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
  const old = (kept ?? {}) as Partial<Hearing>
  const { speed, countIn, timbre, tempo, shift, changes } = old
  const isTempo = TEMPO_VALUES.some(one => one === tempo?.value) && within(tempo?.perMinute, 1, 2000) !== undefined
  return {
    speed: within(speed, 0.1, 10) ?? USUAL_HEARING.speed,
    countIn: countIn === true,
    timbre: TIMBRES.find(one => one === timbre) ?? USUAL_HEARING.timbre,
    ...(isTempo ? { tempo } : {}),
    ...given("tuning", saneTuning(old.tuning)),
    ...given(
      "equivalence",
      EQUIVALENCES.find(one => one === old.equivalence),
    ),
    ...(shift !== undefined && SHIFTS.includes(shift) ? { shift } : {}),
    ...given("reference", within(old.reference, 220, 880)),
    ...given("year", within(old.year, 800, 2100)),
    ...given("fermata", within(old.fermata, 1, 10)),
    ...given("final", within(old.final, 0, 30)),
    ...given("beats", within(old.beats, 1, 32)),
    ...given(
      "plica",
      PLICAS.find(one => one === old.plica),
    ),
    ...given(
      "repeats",
      REPEATS.find(one => one === old.repeats),
    ),
    ...(Array.isArray(changes) ? { changes: changes.filter(isChange) } : {}),
    voices: saneVoices(old.voices),
  }
}

function isChange(one: unknown): one is ChangeHearing {
  const { onset, keeps } = (one ?? {}) as Partial<ChangeHearing>
  return typeof onset === "string" && typeof keeps === "string" && changeFrom({ onset, keeps }) !== undefined
}

/** A name, or a table that can still be read. */
function saneTuning(kept: unknown): Tuning | undefined {
  const named = TUNINGS.find(one => one === kept)
  const { title, cents } = (kept ?? {}) as { title?: unknown; cents?: unknown }
  if (named || typeof title !== "string" || typeof cents !== "object" || cents === null) return named
  const table = parseTuning(tableText({ title, cents: cents as Record<string, number> }), title)
  return table.ok ? table.value : undefined
}

function saneVoices(voices: unknown): Hearing["voices"] {
  if (typeof voices !== "object" || voices === null) return {}
  const sane: [VoiceId, VoiceHearing][] = Object.entries(voices as Record<VoiceId, VoiceHearing | null>).map(
    ([id, own]) => [
      id as VoiceId,
      {
        ...given("level", within(own?.level, -60, 12)),
        ...given("place", within(own?.place, -1, 1)),
        ...given(
          "timbre",
          TIMBRES.find(one => one === own?.timbre),
        ),
        mute: own?.mute === true,
        solo: own?.solo === true,
      },
    ],
  )
  return Object.fromEntries(sane)
}

const given = <K extends string, T>(name: K, value: T | undefined): Partial<Record<K, T>> =>
  value === undefined ? {} : ({ [name]: value } as Record<K, T>)
const within = (value: unknown, from: number, to: number): number | undefined =>
  typeof value === "number" && value >= from && value <= to ? value : undefined
