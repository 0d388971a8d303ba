/** What `resolutio decide` prints: decisions made, what can be chosen at a place, what a decision changed. */
import {
  changesBetween,
  decisionPlace,
  decisionReason,
  decisionWords,
  explainShort,
  findSign,
  fitOf,
  fitSentence,
  shortPlace,
  toText,
  type Decision,
  type Page,
  type Reading,
  type SignChange,
  type SignReading,
  type VoiceRival,
} from "@resolutio/core"
import type { PageRead } from "./reading.js"
import { lastingText } from "./table.js"

/** All decisions of the page, numbered, with what the rules would have read. */
export function listed({ page, readings }: PageRead): string[] {
  const { decisions = [] } = page
  if (decisions.length === 0) return ["No decisions."]
  return decisions.map((one, at) => `${at + 1}  ${told(page, readings, one)}`)
}

function told(page: Page, readings: readonly Reading[], decision: Decision): string {
  const reason = decisionReason(page, decision)
  const label = decision.label === undefined ? "" : ` [${decision.label}]`
  const unit = entryOf(readings, decision.sign)?.reading.unit
  return `${decision.id}: ${decisionPlace(page, decision)}: ${decisionWords(decision, unit)}${disagreement(readings, decision)}${reason ? ` (${reason})` : ""}${label}`
}

function disagreement(readings: readonly Reading[], { sign: id }: Decision): string {
  const entry = entryOf(readings, id)?.entry
  if (entry?.rulesTakeFor !== undefined) return `; the rules would have taken it for ${words(entry.rulesTakeFor)}`
  const who = entry?.othersSay ? "the voices together" : "the rules"
  return entry?.rulesSay === undefined ? "" : `; ${who} would have read ${toText(entry.rulesSay)}`
}

const words = (rule: string): string => rule.replaceAll("-", " ")

function entryOf(readings: readonly Reading[], id: string): { reading: Reading; entry: SignReading } | undefined {
  for (const reading of readings) {
    const entry = reading.signs.find(sign => sign.id === id)
    if (entry) return { reading, entry }
  }
  return undefined
}

/** How the sign is read, its rivals and those of its voice, and the decisions on it. */
export function choices({ page, readings }: PageRead, place: string): string[] {
  const found = entryOf(readings, findSign(page, place)!.id)
  if (!found) return ["It does not last, and there is nothing to decide on it."]
  const { reading, entry } = found
  const decisions = (page.decisions ?? []).filter(one => one.sign === entry.id)
  return [
    ...(entry.number > 0 ? lasting(page, reading, entry) : mark(reading, entry)),
    ...(decisions.length > 0 ? ["Decided:", ...decisions.map(one => `  ${told(page, readings, one)}`)] : []),
  ]
}

function mark(reading: Reading, entry: SignReading): string[] {
  const taken = entry.takenFor === undefined ? "It is taken for nothing." : `It is taken for ${words(entry.takenFor)}.`
  return [taken, explainShort(reading, entry), "Choose with --dot division, addition, perfection or alteration."]
}

function lasting(page: Page, reading: Reading, entry: SignReading): string[] {
  const rivals = entry.rivals.map(
    (rival, at) => `  ${at + 1}  ${toText(rival.duration)}  ${rival.rule}  ${percent(rival.chance)}`,
  )
  const ways = reading.rivals.map((rival, at) => `  ${at + 1}  ${way(page, reading, rival)}`)
  return [
    `${shortPlace(page, entry.id)}: ${lastingText(entry.duration, reading.unit)}. ${explainShort(reading, entry)}`,
    ...(rivals.length > 0 ? ["Rivals (--rival N):", ...rivals] : [withoutRivals(reading, entry)]),
    ...(ways.length > 0 ? [`Other readings of ${reading.label} as a whole (--voice-rival N):`, ...ways] : []),
  ]
}

/** A sign without rivals of its own may still last otherwise where the whole voice is read otherwise. */
function withoutRivals({ rivals }: Reading, { id }: SignReading): string {
  const lengths = rivals.map(({ signs }) => signs.get(id))
  const numbers = lengths.flatMap((one, at) => (one === undefined ? [] : [at + 1]))
  const fix = "--duration fixes any length."
  if (numbers.length === 0) return `It has no rivals; ${fix}`
  const values = [...new Set(lengths.flatMap(one => (one === undefined ? [] : [toText(one)])))]
  const many = numbers.length > 1
  return `It has no rivals of its own: only as part of ${many ? "other readings" : "another reading"} of the whole voice (below, ${numbers.join(" and ")}) would it last otherwise, ${values.join(" or ")}; ${fix}`
}

const percent = (chance: number): string => (chance < 0.01 ? "under 1 %" : `${Math.round(chance * 100)} %`)
/** So many signs of another reading are named. */
const NAMED = 6

function way(page: Page, reading: Reading, { duration, signs }: VoiceRival): string {
  const named = [...signs].slice(0, NAMED).map(([id, lasts]) => `${shortPlace(page, id) ?? id}: ${toText(lasts)}`)
  const more = signs.size > NAMED ? `, and ${signs.size - NAMED} more` : ""
  return `${named.join(", ")}${more}; in all ${toText(duration)} (now ${toText(reading.duration)})`
}

/** What is decided now, what changed by it, and whether the voices meet. */
export function effect(before: PageRead, after: PageRead): string[] {
  const old = new Set(before.page.decisions)
  const now = new Set(after.page.decisions)
  const made = [...now].filter(one => !old.has(one))
  const gone = [...old].filter(one => !now.has(one) && !made.some(other => other.id === one.id))
  const changes = changesBetween(before.readings, after.readings)
  const fits = [fitOf(before.readings), fitOf(after.readings)]
  return [
    ...made.map(one => `Decided: ${told(after.page, after.readings, one)}.`),
    ...gone.map(one => `Taken back: ${told(before.page, before.readings, one)}.`),
    ...(changes.length > 0 ? ["Read otherwise now:"] : ["Nothing else is read otherwise."]),
    ...changes.map(one => `  ${changed(after.page, one)}`),
    ...(fits[0]!.together === fits[1]!.together ? [] : [fitSentence(fits[1]!)]),
  ]
}

function changed(page: Page, { reading, before, after }: SignChange): string {
  const place = decisionPlace(page, { sign: after.id })
  if (after.number === 0)
    return `${place}: ${words(after.takenFor ?? "nothing")} (was ${words(before.takenFor ?? "nothing")})`
  return `${place}: ${toText(after.duration)} (was ${toText(before.duration)}). ${explainShort(reading, after)}`
}
