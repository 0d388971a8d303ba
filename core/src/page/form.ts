/** The order in which the parts of a piece are sung. */

/** One part sung through. */
export interface FormStep {
  /** A letter: parts are named A, B, C … in the order of the page, from mark to mark. */
  readonly part: string
  /** Number of the stanza whose words it takes; those of the first where undefined. */
  readonly stanza?: number
}

/** "A", or "A2" with the words of the second stanza. Undefined when it says no such thing. */
export function readFormStep(text: string): FormStep | undefined {
  const found = /^([A-Z])([1-9]\d?)?$/.exec(text)
  if (!found) return undefined
  return { part: found[1]!, ...(found[2] && { stanza: Number(found[2]) }) }
}

export const writeFormStep = ({ part, stanza }: FormStep): string => `${part}${stanza ?? ""}`
