/** Bytes of a standard MIDI file. */
import { toNumber, type Rational } from "../../base/index.js"

/** A time in ticks and the bytes of what happens then. */
export interface MidiEvent {
  readonly tick: number
  readonly bytes: readonly number[]
}

/** Events in the order of their ticks; of those at one tick, as given. */
export function midiFile(ticksPerQuarter: number, tracks: readonly (readonly MidiEvent[])[]): Uint8Array {
  const header = [
    ...ascii("MThd"),
    ...fixed(6, 4),
    ...fixed(1, 2),
    ...fixed(tracks.length, 2),
    ...fixed(ticksPerQuarter, 2),
  ]
  const chunks = tracks.map(trackChunk)
  const all = new Uint8Array(header.length + chunks.reduce((total, chunk) => total + chunk.length, 0))
  all.set(header)
  let at = header.length
  for (const chunk of chunks) {
    all.set(chunk, at)
    at += chunk.length
  }
  return all
}

function trackChunk(events: readonly MidiEvent[]): Uint8Array {
  const body: number[] = []
  let tick = 0
  for (const event of [...events].sort((a, b) => a.tick - b.tick)) {
    body.push(...variable(event.tick - tick), ...event.bytes)
    tick = event.tick
  }
  body.push(0, 0xff, 0x2f, 0)
  return Uint8Array.from([...ascii("MTrk"), ...fixed(body.length, 4), ...body])
}

export function trackName(text: string): number[] {
  return meta(0x03, latin1(text))
}
export function textEvent(text: string): number[] {
  return meta(0x01, latin1(text))
}
export function lyric(text: string): number[] {
  return meta(0x05, latin1(text))
}
export function tempo(quartersPerMinute: number): number[] {
  return meta(0x51, fixed(Math.min(0xffffff, Math.max(1, Math.round(60_000_000 / quartersPerMinute))), 3))
}
/** `unit` is a power of two; `beat`, in whole notes, is what a metronome clicks (the format counts it in 96ths). */
export function timeSignature(count: number, unit: number, beat: Rational): number[] {
  const clocks = Math.min(255, Math.max(1, Math.round(96 * toNumber(beat))))
  return meta(0x58, [Math.min(255, count), Math.log2(unit), clocks, 8])
}
export function program(channel: number, number: number): number[] {
  return [0xc0 | channel, number]
}
export function noteOn(channel: number, key: number, velocity: number): number[] {
  return [0x90 | channel, key, velocity]
}
export function noteOff(channel: number, key: number): number[] {
  return [0x80 | channel, key, 0]
}

function meta(type: number, data: readonly number[]): number[] {
  return [0xff, type, ...variable(data.length), ...data]
}

function fixed(value: number, bytes: number): number[] {
  return Array.from({ length: bytes }, (_, i) => Math.floor(value / 256 ** (bytes - 1 - i)) % 256)
}

/** Seven bits to a byte, the highest first. */
function variable(value: number): number[] {
  const bytes = [value % 128]
  for (let left = Math.floor(value / 128); left > 0; left = Math.floor(left / 128)) bytes.unshift((left % 128) | 0x80)
  return bytes
}

function ascii(text: string): number[] {
  return [...text].map(letter => letter.charCodeAt(0))
}

export function isLatin1(text: string): boolean {
  return [...text].every(letter => letter.codePointAt(0)! <= 0xff)
}

/** Texts of a MIDI file are Latin-1: other letters lose their marks, or become "?". */
function latin1(text: string): number[] {
  return [...text].flatMap(letter => {
    if (letter.codePointAt(0)! <= 0xff) return [letter.charCodeAt(0)]
    const plain = letter.normalize("NFKD").replace(/\p{M}/gu, "")
    return [...plain].map(part => (part.codePointAt(0)! <= 0x7f ? part.charCodeAt(0) : 0x3f))
  })
}
