/** The levels of written notes and rests. */

/** Largest first. The index of a level is its number in the theory pages: maxima 0 … semifusa 7. */
export const LEVELS = ["maxima", "longa", "brevis", "semibrevis", "minima", "semiminima", "fusa", "semifusa"] as const
/** What is written, whatever it lasts. */
export type Level = (typeof LEVELS)[number]
/** The trade's abbreviations, as the shorthand writes them. */
export const ABBREVIATIONS: Record<Level, string> = {
  maxima: "Mx",
  longa: "L",
  brevis: "B",
  semibrevis: "S",
  minima: "M",
  semiminima: "Sm",
  fusa: "F",
  semifusa: "Sf",
}
