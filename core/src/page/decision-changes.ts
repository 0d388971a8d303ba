/** Changes to the decisions kept beside the signs, and what becomes of them when their sign goes. */
import { done, failed, type Result, type SignId } from "../base/index.js"
import { decisionIdTaken, noSignForIt, noSuchDecision } from "./change-problems.js"
import type { Changed, PageChange } from "./change.js"
import type { Decision } from "./decision.js"
import type { Page } from "./page.js"
import type { Sign } from "./signs.js"
import { everySign } from "./walk.js"

/** The page with these decisions; without any it has no list of them. */
function withDecisions(page: Page, decisions: readonly Decision[]): Page {
  const { decisions: _, ...rest } = page
  return decisions.length > 0 ? { ...rest, decisions } : rest
}

/** `taken`: all ids of the page. */
export function insertDecision(
  page: Page,
  { decision, before }: Extract<PageChange, { kind: "insert-decision" }>,
  taken: Iterable<string>,
): Result<Changed> {
  const old = page.decisions ?? []
  const at = before === undefined ? old.length : old.findIndex(one => one.id === before)
  if (at < 0) return failed(noSuchDecision(before!))
  for (const id of taken) if (id === decision.id) return failed(decisionIdTaken(decision.id))
  if (!stands(page, decision.sign)) return failed(noSignForIt(decision))
  return done({
    page: withDecisions(page, old.toSpliced(at, 0, decision)),
    undo: { kind: "delete-decision", decision: decision.id },
  })
}

function stands(page: Page, id: SignId): boolean {
  for (const voice of page.voices) for (const sign of everySign(voice.signs)) if (sign.id === id) return true
  return false
}

export function deleteDecision(page: Page, id: SignId): Result<Changed> {
  const old = page.decisions ?? []
  const at = old.findIndex(one => one.id === id)
  if (at < 0) return failed(noSuchDecision(id))
  return done({ page: withDecisions(page, old.toSpliced(at, 1)), undo: insertion(old, at) })
}

export function replaceDecision(page: Page, decision: Decision): Result<Changed> {
  const old = page.decisions ?? []
  const at = old.findIndex(one => one.id === decision.id)
  if (at < 0) return failed(noSuchDecision(decision.id))
  if (decision.sign !== old[at]!.sign && !stands(page, decision.sign)) return failed(noSignForIt(decision))
  return done({
    page: withDecisions(page, old.with(at, decision)),
    undo: { kind: "replace-decision", decision: old[at]! },
  })
}

function insertion(old: readonly Decision[], at: number): PageChange {
  const next = old[at + 1]
  return { kind: "insert-decision", decision: old[at]!, ...(next && { before: next.id }) }
}

/** After signs were taken away: the decisions on them go too, and come back when the change is undone. */
export function withoutDecisionsOn(gone: readonly Sign[], left: readonly Sign[], changed: Changed): Changed {
  const old = changed.page.decisions
  if (old === undefined) return changed
  const ids = new Set<SignId>([...everySign(gone)].map(sign => sign.id))
  for (const sign of everySign(left)) ids.delete(sign.id)
  const back = old.flatMap((one, at) => (ids.has(one.sign) ? [insertion(old, at)] : []))
  if (back.length === 0) return changed
  return {
    page: withDecisions(
      changed.page,
      old.filter(one => !ids.has(one.sign)),
    ),
    // the last first, so that each finds the one before which it stood
    undo: { kind: "several", changes: [changed.undo, ...back.reverse()] },
  }
}
