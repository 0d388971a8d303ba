/** Whether a passage that is moved would rather go back. */
import type { Page } from "../../page/index.js"
import { allMeet } from "../hearing.js"
import type { Together } from "../read-together.js"
import type { Candidate } from "./candidates.js"
import { Stage } from "./stage.js"

interface Asked {
  readonly candidate: Candidate
  readonly regret: number
}
const asked = new WeakMap<Stage, Asked[]>()

/**
 * See `Terms`: half of what going back saves, as the voices sound with the shift, less half of what the shift saves as they
 * sound without it. Passages of a voice that overlap differ in their ends alone and are asked once, the likeliest first. Where
 * the voices do not meet something else has to be mended before, and nothing is asked.
 */
export function regretOf(stage: Stage, candidate: Candidate, page: Page, together: Together): number {
  const { shift } = candidate
  if (shift === undefined || !allMeet(together)) return 0
  const before = asked.get(stage) ?? []
  const alike = before.find(one => isAlike(one.candidate, candidate))
  if (alike) return alike.regret
  const back = new Stage(page, together, stage.options).savedWithin(candidate, -shift)
  const regret = (stage.savedWithin(candidate, shift) + back) / 2
  asked.set(stage, [...before, { candidate, regret }])
  return regret
}

const isAlike = (a: Candidate, b: Candidate): boolean =>
  a.voice === b.voice && a.shift === b.shift && a.from <= b.to && b.from <= a.to
