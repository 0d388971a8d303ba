/** Going back and forth along the steps of a piece. Pure: pages are values. */
import { applyChange, type Page, type PageChange, type Problem } from "@resolutio/core"
import type { Step } from "../keep/types.js"

/** A page and where along its steps it stands. */
export interface Walked {
  readonly page: Page
  /** Number of steps done. */
  readonly at: number
  /** Why it could not be gone further: a step that does not fit is a mistake of ours, not of whoever made it. */
  readonly problems: readonly Problem[]
}

/** From after `at` steps to after `to` steps. What no step touches stays the same object. */
export function walk(page: Page, steps: readonly Step[], at: number, to: number): Walked {
  let now = page
  let here = at
  while (here !== to) {
    const step = to > here ? steps[here] : steps[here - 1]
    const change: PageChange | undefined = step && (to > here ? step.change : step.undo)
    const changed = change && applyChange(now, change)
    if (!changed?.ok) return { page: now, at: here, problems: changed?.problems ?? [] }
    now = changed.value.page
    here += to > here ? 1 : -1
  }
  return { page: now, at: here, problems: [] }
}

/** How many steps both have in common from the beginning. */
export function common(one: readonly Step[], other: readonly Step[]): number {
  let n = 0
  while (n < one.length && n < other.length && one[n]!.stamp === other[n]!.stamp) n++
  return n
}

/** Two acts of one gesture as one step. */
export function merged(first: Step, second: Step): Step {
  return {
    ...second,
    change: { kind: "several", changes: [first.change, second.change] },
    undo: { kind: "several", changes: [second.undo, first.undo] },
  }
}
