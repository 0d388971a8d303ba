/** What the table of a reading cannot carry. */
import type { Page } from "../../page/index.js"
import type { Reading } from "../../reading/index.js"
import { counted, ifAny } from "../losses.js"

/** Sentences, of what this page and its readings have. */
export function csvCannotCarry(page: Page, readings: readonly Reading[]): string[] {
  const signs = readings.flatMap(reading => reading.signs)
  const rivals =
    signs.filter(sign => sign.rivals.length > 0).length + readings.filter(one => one.rivals.length > 0).length
  return [
    "How the signs are drawn: stems, shapes of ligatures, colour, accidentals as written, clefs, words under the notes, folios and lines, places on a photograph; what an editor marked there as supplied, emended or hard to read, and other readings (the page itself, .mei or .figurae, keeps them).",
    "Which signs made a rule act, other rules that are true too, sources (read --format json has them).",
    ...ifAny(
      rivals,
      count =>
        `Rivals: ${counted(count, "sign or voice", "signs and voices")} could be read otherwise (read --format json has them).`,
    ),
    ...ifAny(page.decisions?.length ?? 0, count => `Who decided, and why: ${counted(count, "decision")}.`),
    ...ifAny(
      readings.reduce((sum, one) => sum + one.problems.length, 0),
      count => `${counted(count, "problem")} of the reading.`,
    ),
    ...(readings.length > 1 ? ["Whether the voices meet."] : []),
  ]
}
