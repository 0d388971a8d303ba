/** Evidence in plain sentences. */
import type { DotUse } from "./onward.js"

/** What a heap of notes says. */
export interface Spoken {
  readonly rule: string
  readonly level: number
  readonly dot?: DotUse | undefined
}

const NAMES = ["maxima", "long", "breve", "semibreve", "minim", "semiminim", "fusa", "semifusa"]
const plural = (level: number): string => `${NAMES[level]}s`

/** "4", "4 and 9", "4, 9 and 13, and 5 more" */
export function numbersIn(numbers: readonly number[], more: number): string {
  const known = numbers.length > 1 ? `${numbers.slice(0, -1).join(", ")} and ${numbers.at(-1)}` : `${numbers[0] ?? ""}`
  return more > 0 ? `${known}, and ${more} more` : known
}

/** A sentence for what these notes (by number) say; `speaksFor`: for the candidate, or against it. */
export function inWords({ rule, level }: Spoken, numbers: readonly number[], more: number, speaksFor: boolean): string {
  const at = numbersIn(numbers, more)
  const many = numbers.length + more > 1
  const dots = many ? `dots at ${at}` : `the dot at ${at}`
  const notes = `${many ? plural(level) : `the ${NAMES[level]}`} at ${at}`
  switch (rule) {
    case "off-its-place":
      return speaksFor
        ? `${notes} ${many ? "stand" : "stands"} off the beat, as in a syncopation, and the rest agrees with it`
        : `${notes} ${many ? "begin" : "begins"} where no ${NAMES[level]} begins`
    case "in-its-place":
      return speaksFor
        ? `${notes} ${many ? "begin where they are" : "begins where it is"} expected`
        : `${notes} ${many ? "are" : "is"} rather expected elsewhere`
    case "alteration":
      return speaksFor
        ? `${notes}, the second of two before a larger note, ${many ? "are" : "is"} doubled`
        : `${notes} would have to be doubled`
    case "dot-of-division":
      return speaksFor ? `${dots} ${many ? "part" : "parts"} perfections` : `${dots} would have to part perfections`
    case "dot-of-perfection":
      return speaksFor
        ? `${dots} ${many ? "keep perfections" : "keeps a perfection"} whole`
        : `${dots} would have nothing to keep whole`
    case "dot-of-addition":
      return speaksFor ? `${dots} ${many ? "add" : "adds"} a half` : `${dots} would have to add a half`
    case "dot-without-meaning":
      return `${dots} would mean nothing that is taught`
    default:
      return speaksFor
        ? `smaller notes, as at ${at}, stand where nothing larger begins`
        : `smaller notes, as at ${at}, stand where larger ones might begin`
  }
}
