/**
 * The smallest change from one page to another that was typed anew: a sign that is still there keeps its id, and with it its
 * decisions and whatever else hangs on it.
 */
import type { SignId } from "../../base/index.js"
import { idGiver, type PageChange, type VoiceSettings } from "../change.js"
import type { Page, Voice } from "../page.js"
import type { Ligature, Sign } from "../signs.js"
import { asSame, lookOf, sayTheSame } from "./bare.js"
import { commonPairs, gapsOf, type Gap } from "./common.js"

/**
 * What makes the title, years, shapes, voices and signs of `page` look like those of `typed`, whose ids mean nothing; undefined where
 * they do already. Photographs, other readings, people and decisions of `page` stay.
 */
export function changeTo(page: Page, typed: Page): PageChange | undefined {
  const give = idGiver(page)
  const changes: PageChange[] = []
  if (page.title !== typed.title) changes.push({ kind: "set-title", title: typed.title })
  if (!sayTheSame(page.years, typed.years)) changes.push({ kind: "set-years", years: typed.years ?? null })
  if (!sayTheSame(page.shapes, typed.shapes)) changes.push({ kind: "set-shapes", shapes: typed.shapes })
  changes.push(...voiceChanges(page.voices, typed.voices, give))
  if (changes.length < 2) return changes[0]
  return { kind: "several", changes }
}

function voiceChanges(before: readonly Voice[], after: readonly Voice[], give: () => SignId): PageChange[] {
  const names = (voices: readonly Voice[]): string[] => voices.map(voice => voice.label)
  const pairs = commonPairs(names(before), names(after))
  const changes = pairs.flatMap(([a, b]) => (before[a] === after[b] ? [] : changesWithin(before[a]!, after[b]!, give)))
  const taken = new Set<string>(before.map(voice => voice.id))
  for (const gap of gapsOf(pairs, before.length, after.length)) {
    const [old, now] = [before.slice(...gap.before), after.slice(...gap.after)]
    const both = Math.min(old.length, now.length)
    for (let i = 0; i < both; i++) changes.push(...changesWithin(old[i]!, now[i]!, give))
    for (const voice of old.slice(both)) changes.push({ kind: "delete-voice", voice: voice.id })
    const next = before[gap.before[1]]
    for (const voice of now.slice(both))
      changes.push({
        kind: "insert-voice",
        voice: { ...voice, id: freeId(voice.id, taken), signs: voice.signs.map(sign => fresh(sign, give)) },
        ...(next && { before: next.id }),
      })
  }
  return changes
}

function freeId(wanted: Voice["id"], taken: Set<string>): Voice["id"] {
  let id: string = wanted
  for (let n = 2; taken.has(id); n++) id = `${wanted}-${n}`
  taken.add(id)
  return id as Voice["id"]
}

const SETTINGS = ["n", "label", "lines", "notation"] as const
const OPTIONAL_SETTINGS = ["staffColour", "practice"] as const

function changesWithin(before: Voice, after: Voice, give: () => SignId): PageChange[] {
  const differs = (name: keyof Voice): boolean => !sayTheSame(before[name], after[name])
  const set: VoiceSettings = Object.fromEntries([
    ...SETTINGS.filter(differs).map(name => [name, after[name]] as const),
    ...OPTIONAL_SETTINGS.filter(differs).map(name => [name, after[name] ?? null] as const),
  ])
  const signs = signChanges(before, after.signs, give)
  return Object.keys(set).length > 0 ? [{ kind: "set-voice", voice: before.id, set }, ...signs] : signs
}

function signChanges(before: Voice, after: readonly Sign[], give: () => SignId): PageChange[] {
  const pairs = commonPairs(before.signs.map(lookOf), after.map(lookOf))
  return gapsOf(pairs, before.signs.length, after.length).flatMap(gap => changesIn(gap, before, after, give))
}

/** In a gap signs of one kind are one and the same sign that was altered; the others are new, or gone. */
function changesIn(gap: Gap, voice: Voice, after: readonly Sign[], give: () => SignId): PageChange[] {
  const [old, now] = [voice.signs.slice(...gap.before), after.slice(...gap.after)]
  const pairs = commonPairs(old.map(kindOf), now.map(kindOf))
  const altered = pairs.map(([a, b]): PageChange => ({ kind: "replace-sign", sign: alteredTo(old[a]!, now[b]!, give) }))
  const rest = gapsOf(pairs, old.length, now.length).flatMap((one): PageChange[] => {
    const next = old[one.before[1]] ?? voice.signs[gap.before[1]]
    return [
      ...old.slice(...one.before).map(({ id }): PageChange => ({ kind: "delete-sign", sign: id })),
      ...now.slice(...one.after).map((sign): PageChange => ({
        kind: "insert-sign",
        voice: voice.id,
        ...(next && { before: next.id }),
        sign: fresh(sign, give),
      })),
    ]
  })
  return [...altered, ...rest]
}
const kindOf = ({ kind }: Sign): string => kind

function alteredTo(before: Sign, after: Sign, give: () => SignId): Sign {
  if (before.kind !== "ligature" || after.kind !== "ligature") return asSame(after, before)
  return { ...asSame(after, before), members: membersOf(before, after, give) }
}

/** Members that look alike, or else are of one kind, are the same. */
function membersOf(before: Ligature, after: Ligature, give: () => SignId): Ligature["members"] {
  const same = new Map<number, Sign>()
  const pairs = commonPairs(before.members.map(lookOf), after.members.map(lookOf))
  for (const [a, b] of pairs) same.set(b, before.members[a]!)
  for (const gap of gapsOf(pairs, before.members.length, after.members.length)) {
    const [old, now] = [before.members.slice(...gap.before), after.members.slice(...gap.after)]
    for (const [a, b] of commonPairs(old.map(kindOf), now.map(kindOf))) same.set(gap.after[0] + b, old[a]!)
  }
  return after.members.map((member, i) => {
    const old = same.get(i)
    return old === undefined ? { ...member, id: give() } : asSame(member, old)
  })
}

/** A sign that is new on the page. */
function fresh(sign: Sign, give: () => SignId): Sign {
  const id = give()
  return sign.kind === "ligature"
    ? { ...sign, id, members: sign.members.map(member => ({ ...member, id: give() })) }
    : { ...sign, id }
}
