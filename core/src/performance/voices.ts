/** The sound of each voice: timbre, level, place, and which are heard. */
import type { VoiceId } from "../base/index.js"
import type { Timbre } from "./names.js"
import type { Score, ScoreVoice } from "../score/index.js"

export interface VoiceSound {
  readonly timbre: Timbre
  /** In decibels; 0 is the ordinary level. */
  readonly level: number
  /** From -1, left, to 1, right. */
  readonly place: number
  readonly mute: boolean
  /** Where any voice is solo, only such voices are heard. */
  readonly solo: boolean
}

export interface PerformedVoice extends VoiceSound {
  readonly id: VoiceId
  /** The voice of the page that it is sung from. */
  readonly part: VoiceId
  readonly n: string
  readonly label: string
  /** Not muted, and solo where any is. */
  readonly heard: boolean
}

/** How far apart the outer voices stand; the others stand evenly between them. */
const WIDTH = 0.6

export type VoiceWishes = ReadonlyMap<VoiceId, Partial<VoiceSound>>

export function performedVoices(
  score: Score,
  wishes: VoiceWishes = new Map(),
  timbre: Timbre = "voices",
): PerformedVoice[] {
  const sounds = score.voices.map((voice, at) => ({
    timbre,
    level: 0,
    place: placeOf(at, score.voices.length),
    mute: false,
    solo: false,
    ...wishes.get(voice.id),
  }))
  const anySolo = sounds.some(one => one.solo)
  return sounds.map((sound, at) => ({
    ...named(score.voices[at]!),
    ...sound,
    heard: !sound.mute && (!anySolo || sound.solo),
  }))
}

const named = ({ id, part, n, label }: ScoreVoice) => ({ id, part, n, label })

/** Where a voice stands from left to right, -1 to 1, when nobody says where. */
export function placeOf(at: number, count: number): number {
  return count === 1 ? 0 : Math.round(1000 * (-WIDTH + (2 * WIDTH * at) / (count - 1))) / 1000
}

/** The voices with one loud and the others soft, for practice. */
export function practising(voices: readonly PerformedVoice[], loud: VoiceId, softer = 12): PerformedVoice[] {
  return voices.map(voice => ({
    ...voice,
    level: voice.id === loud ? voice.level : voice.level - softer,
    heard: voice.heard || voice.id === loud,
  }))
}

/** The voices with only one heard. */
export function onlyVoice(voices: readonly PerformedVoice[], only: VoiceId): PerformedVoice[] {
  return voices.map(voice => ({ ...voice, heard: voice.id === only }))
}
