/** Durations as they stand in a band: "6", "1½", "4⅓". */
import type { Rational } from "../base/index.js"

const VULGAR: Readonly<Record<string, string>> = {
  "1/2": "½",
  "1/3": "⅓",
  "2/3": "⅔",
  "1/4": "¼",
  "3/4": "¾",
  "1/6": "⅙",
  "5/6": "⅚",
  "1/8": "⅛",
  "3/8": "⅜",
  "5/8": "⅝",
  "7/8": "⅞",
}

/** Whole and a part of it, where there is a letter for it; else a fraction. */
export function countText({ num, den }: Rational): string {
  if (den === 1) return String(num)
  const part = VULGAR[`${num % den}/${den}`]
  const whole = Math.floor(num / den)
  return part === undefined ? `${num}/${den}` : `${whole === 0 ? "" : whole}${part}`
}
