/** Random changes that can be made on a page. */
import * as fc from "fast-check"
import { signId } from "../../base/index.js"
import { idGiver, type PageChange } from "../change.js"
import type { Page } from "../page.js"
import type { Sign } from "../signs.js"
import { everySign } from "../walk.js"
import { decision, years } from "./random-page.js"
import { note } from "./random-figurae.js"
import { otherSign } from "./random-signs.js"
import { text, type Names } from "./random-parts.js"

/** One to four changes on a page that has at least one voice. Deleted signs are named by none after. */
export function randomChange(page: Page): fc.Arbitrary<PageChange> {
  const names: Names = {
    shapes: page.shapes.length > 0 ? page.shapes.map(one => one.name) : ["dragma"],
    people: Object.keys(page.people ?? { editor1: "" }),
    sources: Object.keys(page.people ?? { srcA: "" }),
    zones: page.zones.length > 0 ? page.zones.map(one => one.id) : ["zone1"],
  }
  const give = idGiver(page)
  const fresh = fc.oneof(note("unknown", names), otherSign(names)).map((sign): Sign => ({ ...sign, id: give() }))
  const voice = fc.constantFrom(...page.voices)
  const insert = fc.tuple(voice, fresh, fc.nat()).map(([{ id, signs }, sign, at]): PageChange => {
    const places = [...signs.filter(one => !isBound(page, one)), undefined]
    const before = places[at % places.length]?.id
    return { kind: "insert-sign", voice: id, sign, ...(before && { before }) }
  })
  const general = [
    insert,
    fc.tuple(voice, text).map(([{ id }, label]): PageChange => ({ kind: "set-voice", voice: id, set: { label } })),
    text.map((title): PageChange => ({ kind: "set-title", title })),
    years.map(({ years }): PageChange => ({ kind: "set-years", years: years ?? null })),
  ]
  general.push(...decisionChanges(page, give))
  const free = page.voices.flatMap(one => one.signs).filter(sign => !isBound(page, sign))
  if (free.length === 0) return fc.oneof(...general)
  const old = fc.constantFrom(...free)
  const kinds = [
    ...general,
    insert,
    old.map((sign): PageChange => ({ kind: "delete-sign", sign: sign.id })),
    fc
      .tuple(old, note("unknown", names))
      .map(([sign, other]): PageChange => ({ kind: "replace-sign", sign: { ...other, id: sign.id } })),
    fc.tuple(old, fc.nat()).map(([sign, at]) => edited(sign, at)),
  ]
  return fc.oneof(...kinds)
}

/** Decisions made, taken back and changed. */
function decisionChanges(page: Page, give: () => ReturnType<typeof signId>): fc.Arbitrary<PageChange>[] {
  const able = page.voices.flatMap(one => [...everySign(one.signs)]).filter(({ kind }) => DECIDABLE.has(kind))
  if (able.length === 0) return []
  const fresh = decision(fc.constantFrom(...able))
  const old = page.decisions ?? []
  const made = fc.tuple(fresh, fc.nat()).map(([one, at]): PageChange => {
    const before = [...old, undefined][at % (old.length + 1)]?.id
    return { kind: "insert-decision", decision: { ...one, id: give() }, ...(before && { before }) }
  })
  if (old.length === 0) return [made]
  const known = fc.constantFrom(...old)
  return [
    made,
    known.map(({ id }): PageChange => ({ kind: "delete-decision", decision: id })),
    fc.tuple(known, fresh).map(([{ id }, one]): PageChange => ({
      kind: "replace-decision",
      decision: { ...one, id },
    })),
  ]
}
const DECIDABLE = new Set<Sign["kind"]>(["note", "rest", "dot"])

/** Some member of a sign changed, the others as they were. */
function edited(sign: Sign, at: number): PageChange {
  const zone = at % 2 === 0 ? "zone1" : undefined
  if (sign.kind === "note") {
    const changes: Partial<typeof sign>[] = [
      { level: "longa", duplex: undefined },
      { pitch: { step: "d", octave: 4 } },
      { coloration: "red" },
      { stems: [] },
      { syllables: [{ stanza: 1, text: "la", join: " " }] },
      { plica: { direction: "up" } },
    ]
    return {
      kind: "replace-sign",
      sign: JSON.parse(JSON.stringify({ ...sign, ...changes[at % changes.length] })) as Sign,
    }
  }
  if (sign.kind === "ligature" && sign.members.length > 1) {
    const member = sign.members[at % sign.members.length]!
    if (member.kind === "note") {
      const { oblique: _, ...rest } = { ...member, pitch: { step: "f", octave: 3 } as const }
      return { kind: "replace-sign", sign: rest }
    }
    return { kind: "delete-sign", sign: member.id }
  }
  return { kind: "replace-sign", sign: JSON.parse(JSON.stringify({ ...sign, zone })) as Sign }
}

/** Signs of the voice's beginning, and those for which there are other readings. */
function isBound(page: Page, sign: Sign): boolean {
  const bound = new Set(page.alternatives.flatMap(one => one.insteadOf))
  return ("initial" in sign && sign.initial === true) || [...everySign([sign])].some(one => bound.has(signId(one.id)))
}
