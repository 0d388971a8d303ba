/** For tests: what a reader of the file has to find, told from the score alone. */
import { plus, ratio, times, toNumber, type Rational } from "../../../base/index.js"
import { soundingAccidental, type NotatedScore, type ScoreNote, type ScoreVoice } from "../../../score/index.js"

/** A note or rest as it sounds. */
export interface Sounding {
  readonly id: string
  /** In quarter notes from the beginning. */
  readonly from: number
  readonly to: number
  /** "b-1 4": step, semitones, octave; "rest"; "?" for a note without a pitch. */
  readonly pitch: string
  /** "1 begin Ve": stanza, place in the word, text; those of one note and stanza together. */
  readonly syllables: readonly string[]
  /** Of rests joined to one: the ids of all. */
  readonly ids?: readonly string[]
}

const SEMITONES: Readonly<Record<string, number>> = { f: -1, n: 0, s: 1 }

/** Silence that stands for no sign is left out. */
export function expectedOf({ score, wholesPerUnit }: NotatedScore): Sounding[][] {
  const quarters = times(wholesPerUnit, ratio(4))
  const at = (time: Rational) => toNumber(times(time, quarters))
  return score.voices.map(voice => {
    const syllables = syllablesOf(voice)
    return voice.events.flatMap((event): Sounding[] => {
      if (event.id === null) return []
      const when = { from: at(event.onset), to: at(plus(event.onset, event.duration)) }
      if (event.kind === "rest") return [{ id: event.id, ...when, pitch: "rest", syllables: [] }]
      return [{ id: event.id, ...when, pitch: pitchOf(event), syllables: syllables.get(event) ?? [] }]
    })
  })
}

function pitchOf(note: ScoreNote): string {
  if (!note.pitch) return "?"
  return `${note.pitch.step}${SEMITONES[soundingAccidental(note)]} ${note.pitch.octave}`
}

function syllablesOf(voice: ScoreVoice): Map<ScoreNote, string[]> {
  const open = new Set<number>()
  const all = new Map<ScoreNote, string[]>()
  for (const event of voice.events)
    if (event.kind === "note")
      all.set(
        event,
        event.syllables.map(({ stanza, text, join }) => {
          const begins = !open.has(stanza)
          if (join === "-") open.add(stanza)
          else open.delete(stanza)
          const place = begins ? (join === "-" ? "begin" : "single") : join === "-" ? "middle" : "end"
          return `${stanza} ${place} ${text}`
        }),
      )
  return all
}

/** Rests one after another as one: where a bar is silent the file has one rest for all that the page writes there. */
export function withRestsJoined(all: readonly Sounding[]): Sounding[] {
  const joined: Sounding[] = []
  for (const one of all) {
    const before = joined.at(-1)
    if (before?.pitch === "rest" && one.pitch === "rest" && before.to === one.from)
      joined[joined.length - 1] = { ...before, to: one.to, ids: [...(before.ids ?? [before.id]), one.id] }
    else joined.push(one)
  }
  return joined
}

/** What differs by more than `tick` quarter notes, or at all; a line each. */
export function differences(wanted: readonly Sounding[], other: readonly Sounding[], tick: number): string[] {
  const [expected, found] = [withRestsJoined(wanted), withRestsJoined(other)]
  const lines = expected.length === found.length ? [] : [`${found.length} notes and rests, not ${expected.length}`]
  const near = (a: number, b: number) => Math.abs(a - b) <= tick
  expected.forEach((one, i) => {
    const other = found[i]
    const alike =
      other &&
      one.id === other.id &&
      near(one.from, other.from) &&
      near(one.to, other.to) &&
      one.pitch === other.pitch &&
      one.syllables.join("|") === other.syllables.join("|")
    if (!alike) lines.push(`${JSON.stringify(other)} rather than ${JSON.stringify(one)}`)
  })
  return lines
}
