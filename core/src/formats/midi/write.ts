/** A score as a standard MIDI file of type 1: a track of tempo and meters, then one track for each voice. */
import { leastCommonMultiple, minus, plus, ratio, times, toNumber, type Rational } from "../../base/index.js"
import {
  plicaShare,
  beatOf,
  meterChanges,
  notate,
  quartersPerMinute,
  soundingAccidental,
  wholesPerUnit,
  type NotatedScore,
  type Score,
  type ScoreEvent,
  type ScoreNote,
  type ScorePitch,
  type ScoreVoice,
  type ValueOptions,
} from "../../score/index.js"
import { lyric, midiFile, noteOff, noteOn, program, tempo, timeSignature, trackName, type MidiEvent } from "./bytes.js"

const VELOCITY = 72
/** General MIDI's choir, numbered from 0. */
const CHOIR = 52
/** The header has 15 bits for it. */
const MOST_TICKS = 32_767
/** Where no number holds all times: one that holds 64ths of a quarter, ninths, fifths and sevenths. */
const USUAL_TICKS = 20_160

/**
 * The file. Ticks are exact wherever a quarter note of at most 32767 ticks allows it, else each time is put on the nearest
 * tick. A note with a plica whose share of the time is known sounds as two. Throws a RangeError for a reduction that is no
 * power of two up to 32.
 */
export function writeMidi(score: Score, options: ValueOptions = {}): Uint8Array {
  const { ticks, tickOf } = midiTime(score, options)
  const conductor = conductorTrack(notate(score, options), quartersPerMinute(score, options), ticks)
  return midiFile(ticks, [conductor, ...score.voices.map((voice, i) => voiceTrack(voice, channelOf(i), tickOf))])
}

/** How times of the score become ticks of the file. */
export function midiTime(score: Score, options: ValueOptions) {
  const quartersPerUnit = times(wholesPerUnit(score, options), ratio(4))
  const ticks = ticksPerQuarter(score, quartersPerUnit)
  const inTicks = (time: Rational) => times(times(time, quartersPerUnit), ratio(ticks))
  return {
    ticks,
    tickOf: (time: Rational) => Math.round(toNumber(inTicks(time))),
    exact: score.voices.every(voice =>
      voice.events.every(event => timesIn(event).every(time => inTicks(time).den === 1)),
    ),
  }
}

/** When it begins, and the share of its plica. */
function timesIn(event: ScoreEvent): Rational[] {
  const share = event.kind === "note" && event.plica?.pitch && plicaShare(event)
  return share ? [event.onset, share] : [event.onset]
}

/** How many ticks a quarter has in the file: the least multiple of what all times need that is 480 or more. */
export function ticksPerQuarter(score: Score, quartersPerUnit: Rational): number {
  let needed = 1
  for (const voice of score.voices)
    for (const event of voice.events) {
      for (const time of timesIn(event)) needed = leastCommonMultiple(needed, times(time, quartersPerUnit).den)
      if (needed > MOST_TICKS) return USUAL_TICKS
    }
  needed = leastCommonMultiple(needed, times(score.duration, quartersPerUnit).den)
  if (needed > MOST_TICKS) return USUAL_TICKS
  const enough = needed * Math.ceil(480 / needed)
  return enough > MOST_TICKS ? needed : enough
}

/** Nine is for drums. */
function channelOf(voice: number): number {
  const channel = voice % 15
  return channel >= 9 ? channel + 1 : channel
}

/**
 * Meters are those of the first voice. At each the speed stands again, in quarter notes the same, so that a sequencer can
 * change it mensuration by mensuration; its click is the beat of the mensuration.
 */
function conductorTrack(notated: NotatedScore, speed: Rational, ticks: number): MidiEvent[] {
  const bytes = tempo(toNumber(speed))
  const events: MidiEvent[] = [
    { tick: 0, bytes: trackName(notated.score.title) },
    { tick: 0, bytes },
  ]
  for (const { at, meter } of meterChanges(notated, 0)) {
    const tick = Math.round(4 * ticks * toNumber(at))
    if (tick > 0) events.push({ tick, bytes })
    events.push({ tick, bytes: timeSignature(meter.count, meter.unit, beatOf(meter)) })
  }
  return events
}

function voiceTrack(voice: ScoreVoice, channel: number, tickOf: (time: Rational) => number): MidiEvent[] {
  const events: MidiEvent[] = [
    { tick: 0, bytes: trackName(voice.label) },
    { tick: 0, bytes: program(channel, CHOIR) },
  ]
  for (const note of voice.events) {
    if (note.kind === "rest") continue
    const start = tickOf(note.onset)
    for (const syllable of note.syllables.filter(one => one.stanza === 1))
      events.push({ tick: start, bytes: lyric(syllable.join === "-" ? `${syllable.text}-` : syllable.text) })
    for (const { key, from, to } of soundsOf(note)) {
      events.push({ tick: tickOf(from), bytes: noteOn(channel, key, VELOCITY) })
      events.push({ tick: tickOf(to), bytes: noteOff(channel, key) })
    }
  }
  return events
}

interface Sound {
  readonly key: number
  readonly from: Rational
  readonly to: Rational
}

/** Nothing for a note without a pitch. */
function soundsOf(note: ScoreNote): Sound[] {
  const key = note.pitch && keyOf(note.pitch, soundingAccidental(note))
  if (key === null) return []
  const end = plus(note.onset, note.duration)
  const share = plicaShare(note)
  if (!share || !note.plica?.pitch) return [{ key, from: note.onset, to: end }]
  const parting = minus(end, share)
  const other = keyOf(note.plica.pitch, note.plica.pitch.accidental)
  return [{ key, from: note.onset, to: parting }, ...(other === null ? [] : [{ key: other, from: parting, to: end }])]
}

const STEPS: Readonly<Record<string, number>> = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 }
const ALTERATIONS: Readonly<Record<string, number>> = { s: 1, f: -1, x: 2, ss: 2, ff: -2, ts: 3, tf: -3, nf: -1, ns: 1 }

/** 60 is the middle c; null outside 0 to 127. */
export function keyOf(pitch: ScorePitch, accidental: string): number | null {
  const key = 12 * (pitch.octave + 1) + STEPS[pitch.step]! + (ALTERATIONS[accidental] ?? 0)
  return key >= 0 && key <= 127 ? key : null
}
