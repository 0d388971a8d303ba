/**
 * What each value of an option means. Beside the options and not in them, since only who chooses among them reads it: a window that
 * opens need not fetch it.
 */
import { ARS_ANTIQUA_VALUES } from "./values-ars-antiqua.js"
import { MENSURAL_VALUES } from "./values-mensural.js"

/** What a value of a practice's option means, in a clause without a full stop, and who says so. */
export interface OptionValueTold {
  readonly meaning: string
  /** A treatise by title, date and place; or "inference", what a program needs and no treatise says. */
  readonly source: string
}

/** Undefined where there is no such option or value. */
export function optionValueTold(option: string, value: string): OptionValueTold | undefined {
  const told = (ARS_ANTIQUA_VALUES[option] ?? MENSURAL_VALUES[option])?.[value]
  return told && { meaning: told[0], source: told[1] }
}
