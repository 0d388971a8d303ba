/** Which accidentals a modern staff must show so that a modern reader sings what is in force. */
import { compare, times, type Rational } from "../base/index.js"
import type { Step } from "../page/index.js"
import type { Bar } from "./bars.js"
import type { ScoreEvent, ScoreNote, ScoreVoice } from "./types.js"

/**
 * "written": stands on the page, on the line before the note. "editor": an editor's, above the note, for it alone.
 * "reminder": stands elsewhere on the page and is in force here, though by the modern rule (to the end of the bar)
 * it would not be, or no longer; in brackets. "caution": only reminds, see `cautions.ts`; in brackets too.
 */
export interface ShownAccidental {
  readonly accidental: string
  readonly kind: "written" | "editor" | "reminder" | "caution"
}

const NATURAL = "n"

/** By the event that bears them; bars and scale as in `notate`. */
export function shownAccidentals(
  voice: ScoreVoice,
  bars: readonly Bar[],
  scale: Rational,
): ReadonlyMap<ScoreEvent, ShownAccidental> {
  const shown = new Map<ScoreEvent, ShownAccidental>()
  let bar = 0
  let inBar = new Map<string, string>()
  for (const event of voice.events) {
    const start = times(event.onset, scale)
    while (bars[bar] && compare(bars[bar]!.end, start) <= 0) {
      bar++
      inBar = new Map()
    }
    if (event.kind !== "note" || !event.pitch) continue
    const place = `${event.pitch.step}${event.pitch.octave}`
    const implied = inBar.get(place) ?? signatureFor(voice, event)
    const sign = accidentalOf(event, implied)
    if (!sign) continue
    shown.set(event, sign)
    if (sign.kind !== "editor") inBar.set(place, sign.accidental)
  }
  return shown
}

/** What sounds, as MEI names it; "n" where nothing alters the note. */
export function soundingAccidental(note: ScoreNote): string {
  return note.pitch?.accidental || NATURAL
}

/**
 * What an old sign is today. A sharp, often drawn as a cross, calls for mi and a flat for fa (mensural theory of the hexachords,
 * 14th to 16th century), so on the letters that are mi or fa already (e and b, f and c) they only take back the other sign.
 */
export function modernAccidental(step: Step, accidental: string): string {
  const sign = accidental === "x" ? "s" : accidental
  if (sign === "s" && (step === "b" || step === "e")) return NATURAL
  if (sign === "f" && (step === "f" || step === "c")) return NATURAL
  return sign
}

function accidentalOf(note: ScoreNote, implied: string): ShownAccidental | undefined {
  const accidental = soundingAccidental(note)
  if (note.written) return { accidental, kind: note.written.byEditor ? "editor" : "written" }
  return accidental === implied ? undefined : { accidental, kind: "reminder" }
}

function signatureFor(voice: ScoreVoice, note: ScoreNote): string {
  const signature = voice.signatures.findLast(({ onset }) => compare(onset, note.onset) <= 0)
  return signature?.accidentals.find(({ step }) => step === note.pitch?.step)?.accidental ?? NATURAL
}
