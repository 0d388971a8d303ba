/** What is needed to make a decision as a change of the page. */
import type { SignId } from "../base/index.js"
import type { PageChange } from "./change.js"
import type { Decision } from "./decision.js"
import type { Page } from "./page.js"
import type { Sign } from "./signs.js"
import { flatSigns } from "./walk.js"

/** A decision of the same kind on the same sign gives way to it; a refusal is added to others. */
export function puttingDecision(page: Page, decision: Decision): PageChange {
  const { decisions = [] } = page
  const kind = KINDS.find(one => decision[one] !== undefined)
  const old = kind && decisions.find(one => one[kind] !== undefined && isSame(page, one, decision, kind))
  if (old) return { kind: "replace-decision", decision: { ...decision, id: old.id } }
  return { kind: "insert-decision", decision }
}

const KINDS = ["duration", "dot", "canon", "form"] as const

/** Of a canon there is one in each voice, and one order of parts in a piece. */
function isSame(page: Page, old: Decision, now: Decision, kind: (typeof KINDS)[number]): boolean {
  if (kind === "form") return true
  return kind === "canon" ? voiceWith(page, old.sign) === voiceWith(page, now.sign) : old.sign === now.sign
}

const voiceWith = ({ voices }: Page, id: SignId): string | undefined =>
  voices.find(voice => flatSigns(voice).some(({ sign, ligature }) => sign.id === id || ligature?.id === id))?.id

/** The dot after a note or rest and before the next one, or the stroke there where there is no dot. */
export function markAfter(page: Page, sign: Sign): Sign | undefined {
  for (const voice of page.voices) {
    const flat = flatSigns(voice)
    const at = flat.findIndex(one => one.sign.id === sign.id)
    if (at < 0) continue
    const after = flat.slice(at + 1)
    const end = after.findIndex(one => one.sign.kind === "note" || one.sign.kind === "rest")
    const near = after.slice(0, end < 0 ? undefined : end).map(one => one.sign)
    return near.find(one => one.kind === "dot") ?? near.find(one => one.kind === "stroke")
  }
  return undefined
}

/** The editor by id or name; one that the page does not know is added to its people. */
export function personNamed(page: Page, who: string | undefined): { id: string; change?: PageChange } | undefined {
  const name = who?.trim().replace(/\s+/g, " ")
  if (!name) return undefined
  const people = page.people ?? {}
  const known = Object.keys(people).find(id => id === name || people[id] === name)
  if (known !== undefined) return { id: known }
  const plainName = name.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase()
  const stem = `editor-${plainName.replace(/[^a-z0-9]+/g, "-")}`.replace(/-+$/, "")
  const taken = new Set([
    ...Object.keys(people),
    ...page.voices.flatMap(one => flatSigns(one).map(({ sign }) => sign.id)),
  ])
  let id = stem
  for (let n = 2; taken.has(id); n++) id = `${stem}-${n}`
  return { id, change: { kind: "set-people", people: { ...people, [id]: name } } }
}
