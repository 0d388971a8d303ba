/** How well the notes of a voice agree with the sign before them. */
import type { Voice } from "../../page/index.js"
import type { Chosen, ReadOptions } from "../../reading/settings.js"
import { countingOf, isGrouped, trial } from "./candidates.js"
import { sectionsOf } from "./tokens.js"
import { TEMPER } from "./weights.js"

/** Natural logarithm of odds against no measure, up to the next sign; 0 where there are no notes. */
export function fitOfSign(voice: Voice, chosen: Chosen, options: ReadOptions): number {
  const grouped = isGrouped(chosen.practice.name, chosen.settings)
  const counting = countingOf(sectionsOf(voice, chosen, options, grouped), chosen)
  const [first] = counting.sections
  if (first === undefined) return 0
  const sections = [{ ...first, stated: new Set<never>() }]
  return TEMPER * trial({ ...counting, sections }, first.measuring).fit
}
