/** What can be named of how a piece is heard: apart, so that who only checks a name fetches no more. */

/**
 * The value that keeps its length across a change of sign. "minim": the minim at its ordinary length (in the thirteenth
 * century the tempus), so that the speed of the score's unit stays; proportions and strokes are in the durations already.
 */
export type Equivalence = "minim" | "semibreve" | "breve" | "beat"
export const EQUIVALENCES: readonly Equivalence[] = ["minim", "semibreve", "breve", "beat"]

/** A value that a beat can be. "tactus": what the hand beats, a semibreve at its ordinary length. */
export type TempoValue = "perfectio" | "longa" | "brevis" | "tempus" | "semibrevis" | "minima" | "semiminima" | "tactus"
export const TEMPO_VALUES: readonly TempoValue[] = [
  "perfectio",
  "longa",
  "brevis",
  "tempus",
  "semibrevis",
  "minima",
  "semiminima",
  "tactus",
]

/** "tone" is a plain sine, for measuring; the others are in the sound bank. */
export type Timbre = "voices" | "recorder" | "organ" | "strings" | "tone"
export const TIMBRES: readonly Timbre[] = ["voices", "recorder", "organ", "strings", "tone"]
