/** An editor's decision in words. */
import { canonWords } from "./canon-words.js"
import type { ChosenAccidental, Decision } from "./decision.js"
import { writeFormStep } from "./form.js"
import { lengthsText, type LengthUnit } from "./length-text.js"
import type { Page } from "./page.js"
import { shortPlace } from "./places.js"
import { flatSigns } from "./walk.js"

/**
 * "it lasts 6 minims", "it does not last 6 or 4 minims", "it is a dot of division". `unit`: that of the voice; without it durations
 * are bare numbers.
 */
export function decisionWords(
  { duration, not, dot, canon, form = [], accidental, notAccidental }: Decision,
  unit?: LengthUnit,
): string {
  if (accidental !== undefined) return `it is sung ${ACCIDENTAL_WORDS[accidental]}`
  if (notAccidental !== undefined)
    return `it is not sung ${notAccidental.map(one => ACCIDENTAL_WORDS[one]).join(" or ")}`
  if (duration !== undefined) return `it lasts ${lengthsText([duration], unit)}`
  if (not !== undefined) return `it does not last ${lengthsText(not, unit)}`
  if (dot !== undefined) return `it is a dot of ${dot}`
  return canon === undefined ? `sung in the order ${form.map(writeFormStep).join(" ")}` : `sung by ${canonWords(canon)}`
}

/** What a chosen accidental is called. */
export const ACCIDENTAL_WORDS: Readonly<Record<ChosenAccidental, string>> = { s: "sharp", f: "flat", n: "natural" }

/** Who decided it and why: "The editor: as in the tenor"; "" where neither is said. */
export function decisionReason({ people = {} }: Pick<Page, "people">, { who, why }: Decision): string {
  const name = who === undefined ? undefined : people[who] || who
  return [name, why].filter(part => part !== undefined).join(": ")
}

/** "tenor 12"; "the dot after tenor 12", or the stroke; the id of a sign that is no such thing. */
export function decisionPlace(page: Page, { sign: id }: Pick<Decision, "sign">): string {
  const place = shortPlace(page, id)
  if (place !== undefined) return place
  for (const voice of page.voices) {
    const flat = flatSigns(voice)
    const at = flat.findIndex(({ sign }) => sign.id === id)
    if (at < 0) continue
    const before = flat.slice(0, at).findLast(({ sign }) => sign.kind === "note" || sign.kind === "rest")
    const after =
      before === undefined ? `at the beginning of ${voice.label}` : `after ${shortPlace(page, before.sign.id)}`
    return `the ${flat[at]!.sign.kind} ${after}`
  }
  return id
}
