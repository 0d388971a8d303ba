/**
 * A performance as messages for a MIDI synthesizer that holds the sound bank: the same for the browser and for files.
 * The tuning is sent as the MIDI Tuning Standard has it (single note tuning change, MIDI 1.0 Detailed Specification 4.2):
 * a key is only a label, to which any pitch may be given, so that a g sharp and an a flat have each their own.
 */
import type { VoiceId } from "../base/index.js"
import type { Performance, Sound } from "./types.js"
import type { Timbre } from "./names.js"
import type { PerformedVoice } from "./voices.js"

/** Programs of the sound bank. */
export const PROGRAMS: Readonly<Record<Exclude<Timbre, "tone">, number>> = {
  voices: 52,
  recorder: 74,
  organ: 19,
  strings: 24,
}

export interface SynthMessage {
  /** In seconds from the beginning. */
  readonly seconds: number
  /** From 0; a synthesizer with more than 16 takes `bytes` for the group of 16 in which it lies. */
  readonly channel: number
  /** With its status byte; its channel is `channel` modulo 16. */
  readonly bytes: readonly number[]
}

export interface SynthScript {
  /** To be sent before the beginning: programs, levels, places, tuning. */
  readonly setup: readonly SynthMessage[]
  /** In the order of time. */
  readonly messages: readonly SynthMessage[]
  /** Channel of each voice, and of the count-in under null. */
  readonly channels: ReadonlyMap<VoiceId | null, number>
  /** How many channels are needed, from 0. */
  readonly channelCount: number
}

export interface SynthOptions {
  /** Sound muted voices too, all in the middle and at one level: for a caller that mixes by itself. */
  readonly dry?: boolean
  /** In decibels, for all; 0 without it. */
  readonly level?: number
}

/** A voice that is to sound as a plain tone takes the recorder, the nearest to it. */
export function synthScript(performance: Performance, { dry = false, level = 0 }: SynthOptions = {}): SynthScript {
  const { voices } = performance
  const channels = new Map<VoiceId | null, number>(voices.map((voice, at) => [voice.id, channelOf(at)]))
  channels.set(null, channelOf(voices.length))
  const programs = new Map<VoiceId | null, number>(voices.map(voice => [voice.id, programOf(voice.timbre)]))
  programs.set(null, PROGRAMS.strings)
  const silent = new Set(voices.filter(voice => !dry && !voice.heard).map(voice => voice.id))
  const heard = performance.sounds.filter(({ voice }) => voice === null || !silent.has(voice))
  const keys = labels(heard, programs)
  const counted: Pick<PerformedVoice, "level" | "place"> = { level: 0, place: 0 }
  const setup = [
    ...[null, ...voices].flatMap(voice => {
      const id = voice?.id ?? null
      return opening(channels.get(id)!, programs.get(id)!, dry ? counted : (voice ?? counted), level)
    }),
    ...tuningMessages(keys),
  ]
  return {
    setup,
    messages: notes(heard, channels, programs, keys),
    channels,
    channelCount: channelOf(voices.length) + 1,
  }
}

/** The tenth of each sixteen is for drums. */
function channelOf(voice: number): number {
  return voice + Math.floor((voice + 6) / 15)
}

const programOf = (timbre: Timbre): number => PROGRAMS[timbre === "tone" ? "recorder" : timbre]

const VOLUME = 7
const PAN = 10
/** Reverberation and chorus, which General MIDI has on from the start. */
const EFFECTS = [91, 93]

function opening(
  channel: number,
  program: number,
  { level, place }: Pick<PerformedVoice, "level" | "place">,
  more: number,
): SynthMessage[] {
  const send = (...bytes: number[]): SynthMessage => ({ seconds: 0, channel, bytes })
  const part = channel % 16
  return [
    send(0xc0 | part, program),
    send(0xb0 | part, VOLUME, volumeOf(level + more)),
    send(0xb0 | part, PAN, Math.min(127, Math.max(0, Math.round(64 + 63 * place)))),
    ...EFFECTS.map(effect => send(0xb0 | part, effect, 0)),
  ]
}

/** By the curve that General MIDI recommends, 40 · log(volume / 127) decibels; 100, its usual value, is 0 decibels here. */
const volumeOf = (level: number): number => Math.min(127, Math.max(0, Math.round(100 * 10 ** (level / 40))))

/** Which key stands for which pitch, program by program: the nearest one where it is free, else one near it. */
type Labels = ReadonlyMap<number, ReadonlyMap<string, Label>>
interface Label {
  readonly key: number
  readonly sound: Sound
}

const pitchName = ({ hertz }: Sound): string => hertz.toFixed(4)

function labels(sounds: readonly Sound[], programs: ReadonlyMap<VoiceId | null, number>): Labels {
  const all = new Map<number, Map<string, Label>>()
  const wanted = new Map<number, Sound[]>()
  const seen = new Set<string>()
  for (const sound of sounds) {
    const program = programs.get(sound.voice)!
    const name = `${program} ${pitchName(sound)}`
    if (seen.has(name)) continue
    seen.add(name)
    wanted.set(program, [...(wanted.get(program) ?? []), sound])
  }
  for (const [program, own] of wanted) all.set(program, labelsOf(own))
  return all
}

/** The purest keep their keys; of 128 at most, the rest share the nearest one. */
function labelsOf(sounds: readonly Sound[]): Map<string, Label> {
  const taken = new Set<number>()
  const found = new Map<string, Label>()
  const byPurity = sounds.toSorted((a, b) => Math.abs(a.cents) - Math.abs(b.cents))
  const late: Sound[] = []
  for (const sound of byPurity) {
    if (taken.has(sound.key)) late.push(sound)
    else {
      taken.add(sound.key)
      found.set(pitchName(sound), { key: sound.key, sound })
    }
  }
  for (const sound of late) {
    const key = nearestFree(sound.key, taken) ?? sound.key
    taken.add(key)
    found.set(pitchName(sound), { key, sound })
  }
  return found
}

function nearestFree(key: number, taken: ReadonlySet<number>): number | undefined {
  for (let by = 1; by < 128; by++)
    for (const near of [key + by, key - by]) if (near >= 0 && near < 128 && !taken.has(near)) return near
  return undefined
}

/** So many notes fit into one message. */
const NOTES_IN_ONE = 100

function tuningMessages(all: Labels): SynthMessage[] {
  return [...all].flatMap(([program, own]) => {
    const tuned = [...own.values()].map(({ key, sound }) => [key, ...frequency(sound)])
    return slices(tuned, NOTES_IN_ONE).map(some => ({
      seconds: 0,
      channel: 0,
      bytes: [0xf0, 0x7f, 0x7f, 0x08, 0x02, program, some.length, ...some.flat(), 0xf7],
    }))
  })
}

function slices<T>(list: readonly T[], size: number): T[][] {
  return Array.from({ length: Math.ceil(list.length / size) }, (_, n) => list.slice(n * size, (n + 1) * size))
}

/** Semitone below, and the rest in 16384ths of a semitone, seven bits to a byte. */
function frequency({ key, cents }: Sound): [number, number, number] {
  const parts = Math.min(128 * 16384 - 2, Math.max(0, Math.round((key + cents / 100) * 16384)))
  const rest = parts % 16384
  return [(parts - rest) / 16384, rest >> 7, rest & 127]
}

function notes(
  sounds: readonly Sound[],
  channels: ReadonlyMap<VoiceId | null, number>,
  programs: ReadonlyMap<VoiceId | null, number>,
  keys: Labels,
): SynthMessage[] {
  const all = sounds.flatMap((sound): SynthMessage[] => {
    const channel = channels.get(sound.voice)!
    const { key } = keys.get(programs.get(sound.voice)!)!.get(pitchName(sound))!
    return [
      { seconds: sound.start, channel, bytes: [0x90 | (channel % 16), key, sound.velocity] },
      { seconds: sound.end, channel, bytes: [0x80 | (channel % 16), key, 0] },
    ]
  })
  // What ends at a moment ends before what begins there.
  return all.sort((a, b) => a.seconds - b.seconds || (a.bytes[0]! & 0x10) - (b.bytes[0]! & 0x10))
}
