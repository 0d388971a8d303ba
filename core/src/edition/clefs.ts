/** Modern clefs, and which of them a voice gets. */
import type { ScorePitch, ScoreVoice } from "../score/index.js"

const STEPS = ["c", "d", "e", "f", "g", "a", "b"] as const
/** Diatonic steps above C0. */
export function height({ step, octave }: Pick<ScorePitch, "step" | "octave">): number {
  return octave * 7 + STEPS.indexOf(step)
}
/** The pitch, without an accidental, at a height. */
export function pitchAt(height: number): ScorePitch {
  return { step: STEPS[height % 7]!, accidental: "", octave: Math.floor(height / 7) }
}

/** Names of the modern clefs; those of C and F by the voice that they were made for. */
export const CLEF_NAMES = [
  "treble",
  "treble-8",
  "bass",
  "alto",
  "tenor",
  "soprano",
  "mezzo-soprano",
  "baritone",
] as const
/** One of them. */
export type ClefName = (typeof CLEF_NAMES)[number]

export interface ModernClef {
  readonly name: ClefName
  readonly shape: "G" | "C" | "F"
  /** From the bottom, 1 to 5. */
  readonly line: number
  /** It sounds an octave lower than it stands. */
  readonly octaveBelow: boolean
  /** Height of the middle line. */
  readonly middle: number
}

/** Heights of the notes that the clefs name: middle c, the f below it and the g above it. */
const NAMED = {
  C: height({ step: "c", octave: 4 }),
  F: height({ step: "f", octave: 3 }),
  G: height({ step: "g", octave: 4 }),
}

function clef(name: ClefName, shape: ModernClef["shape"], line: number, octaveBelow = false): ModernClef {
  return { name, shape, line, octaveBelow, middle: NAMED[shape] + 2 * (3 - line) - (octaveBelow ? 7 : 0) }
}

const CLEFS: Readonly<Record<ClefName, ModernClef>> = {
  treble: clef("treble", "G", 2),
  "treble-8": clef("treble-8", "G", 2, true),
  bass: clef("bass", "F", 4),
  alto: clef("alto", "C", 3),
  tenor: clef("tenor", "C", 4),
  soprano: clef("soprano", "C", 1),
  "mezzo-soprano": clef("mezzo-soprano", "C", 2),
  baritone: clef("baritone", "F", 3),
}

/** The clef of this name. */
export function clefNamed(name: ClefName): ModernClef {
  return CLEFS[name]
}

/** Which clefs an edition uses. */
export interface ClefConventions {
  /** Each voice gets the one of these that suits its range; at least one. */
  readonly from: readonly ClefName[]
  /** Voices that have another, by label in small letters or by number. */
  readonly voices: Readonly<Record<string, ClefName>>
}

/** The clefs that every singer reads. */
export const USUAL_CLEFS: ClefConventions = { from: ["treble", "treble-8", "bass"], voices: {} }

/** The clef that is asked for, or else the one under which the fewest ledger lines are needed. */
export function clefFor(voice: ScoreVoice, clefs: ClefConventions = USUAL_CLEFS): ModernClef {
  // names of voices come from files: "constructor" and its like are not in the table unless it says so
  const name = [voice.label.toLowerCase(), voice.n].find(one => Object.hasOwn(clefs.voices, one))
  const asked = name === undefined ? undefined : clefs.voices[name]
  if (asked) return CLEFS[asked]
  const heights = voice.events.flatMap(event => (event.kind === "note" && event.pitch ? [height(event.pitch)] : []))
  const choice = clefs.from.map(name => CLEFS[name])
  if (heights.length === 0) return choice.find(one => one.name === "treble-8") ?? choice[0] ?? CLEFS["treble-8"]
  const cost = ({ middle }: ModernClef) =>
    heights.reduce((total, at) => total + Math.abs(at - middle) + 4 * Math.max(0, Math.abs(at - middle) - 5), 0)
  return choice.reduce((best, one) => (cost(one) < cost(best) ? one : best))
}
