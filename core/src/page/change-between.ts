/**
 * The change that leads from one page to another, as small as it can be: what has the same id is the same thing. For whoever has a
 * new page in hand (an emendation made, a text typed again) and wants it as an edit that can be undone and kept.
 */
import type { SignId } from "../base/index.js"
import { applyChange, type PageChange, type VoiceSettings } from "./change.js"
import { difference, same } from "./difference.js"
import type { Page, Voice } from "./page.js"
import type { Ligature, Sign } from "./signs.js"

/** Applying it to `before` gives a page equal to `after`. No change at all is `several` of none. */
export function changeBetween(before: Page, after: Page): PageChange {
  const walk = new Walk(before)
  for (const part of [ofPage, goneVoices, goneSigns, alternatives, newSigns, newVoices, decisions]) walk.go(part, after)
  const changes = same(walk.page, after) ? walk.changes : anew(before, after)
  return changes.length === 1 ? changes[0]! : { kind: "several", changes }
}

/** Changes made one after the other, each found on the page as the ones before it have left it. */
class Walk {
  readonly changes: PageChange[] = []
  constructor(public page: Page) {}

  go(find: (now: Page, wanted: Page) => readonly PageChange[], wanted: Page): void {
    for (const change of find(this.page, wanted)) {
      const changed = applyChange(this.page, change)
      // what cannot be made so is found at the end, and the whole is then made anew
      if (!changed.ok) return
      this.page = changed.value.page
      this.changes.push(change)
    }
  }
}

function ofPage(now: Page, { title, years, shapes, surfaces, zones, people }: Page): PageChange[] {
  const changes: PageChange[] = []
  if (now.title !== title) changes.push({ kind: "set-title", title })
  if (!same(now.years, years)) changes.push({ kind: "set-years", years: years ?? null })
  if (!same(now.shapes, shapes)) changes.push({ kind: "set-shapes", shapes })
  if (!same(now.surfaces, surfaces) || !same(now.zones, zones)) changes.push({ kind: "set-facsimile", surfaces, zones })
  if (!same(now.people, people)) changes.push({ kind: "set-people", people: people ?? null })
  return changes
}

const alternatives = (now: Page, wanted: Page): PageChange[] =>
  same(now.alternatives, wanted.alternatives) ? [] : [{ kind: "set-alternatives", alternatives: wanted.alternatives }]

/** Voices that are not wanted, or stand elsewhere. */
const goneVoices = (now: Page, wanted: Page): PageChange[] =>
  difference(now.voices, wanted.voices).gone.map(({ id }) => ({ kind: "delete-voice", voice: id }))

/** From the last to the first, so that each finds the one before which it stands. */
function newVoices(now: Page, wanted: Page): PageChange[] {
  const here = new Set<string>(now.voices.map(one => one.id))
  return wanted.voices.toReversed().flatMap((voice, i): PageChange[] => {
    const before = wanted.voices[wanted.voices.length - i]
    return here.has(voice.id) ? [] : [{ kind: "insert-voice", voice, ...(before && { before: before.id }) }]
  })
}

/** In voices that stay: their settings, and signs that are not wanted there. */
function goneSigns(now: Page, wanted: Page): PageChange[] {
  return pairs(now, wanted).flatMap(([old, voice]) => {
    const set = settingsBetween(old, voice)
    const settings: PageChange[] = set ? [{ kind: "set-voice", voice: old.id, set }] : []
    const stay = new Set<SignId>(voice.signs.map(sign => sign.id))
    const gone = old.signs.filter(sign => !stay.has(sign.id))
    return [...settings, ...gone.map(({ id }): PageChange => ({ kind: "delete-sign", sign: id }))]
  })
}

const pairs = (now: Page, wanted: Page): [Voice, Voice][] =>
  wanted.voices.flatMap((voice): [Voice, Voice][] => {
    const old = now.voices.find(one => one.id === voice.id)
    return old && old !== voice ? [[old, voice]] : []
  })

const SETTINGS = ["n", "label", "lines", "notation", "staffColour", "practice"] as const

function settingsBetween(old: Voice, voice: Voice): VoiceSettings | undefined {
  const changed = SETTINGS.filter(name => !same(old[name], voice[name]))
  return changed.length === 0 ? undefined : Object.fromEntries(changed.map(name => [name, voice[name] ?? null]))
}

/** Signs changed where they stand, then those that stand elsewhere, then new ones, each from the last to the first. */
function newSigns(now: Page, wanted: Page): PageChange[] {
  return pairs(now, wanted).flatMap(([old, voice]) => {
    const known = new Map(old.signs.map(sign => [sign.id, sign]))
    const replaced = voice.signs.flatMap(sign => {
      const was = known.get(sign.id)
      return was && !same(was, sign) ? replacing(was, sign) : []
    })
    const { now: placed } = difference(old.signs, voice.signs)
    const others = placed.toReversed().flatMap((one, i): PageChange[] => {
      if (one.old) return []
      const next = voice.signs[voice.signs.length - i]
      const before = next ? { before: next.id } : {}
      return known.has(one.sign.id)
        ? [{ kind: "move-sign", sign: one.sign.id, ...before }]
        : [{ kind: "insert-sign", voice: voice.id, sign: one.sign, ...before }]
    })
    return [...replaced, ...others]
  })
}

/** In a ligature of which the same notes are left, only the notes that changed. */
function replacing(old: Sign, sign: Sign): PageChange[] {
  if (old.kind !== "ligature" || sign.kind !== "ligature" || !sameButMembers(old, sign))
    return [{ kind: "replace-sign", sign }]
  return sign.members.flatMap((member, i): PageChange[] =>
    same(member, old.members[i]) ? [] : [{ kind: "replace-sign", sign: member }],
  )
}

function sameButMembers({ members: a, ...one }: Ligature, { members: b, ...other }: Ligature): boolean {
  return same(one, other) && a.length === b.length && a.every((member, i) => member.id === b[i]!.id)
}

/** Decisions on signs that went have gone with them; what is missing now is put back. */
function decisions({ decisions: now = [] }: Page, { decisions: wanted = [] }: Page): PageChange[] {
  const { gone, now: placed } = difference(now, wanted)
  const taken = gone.map(({ id }): PageChange => ({ kind: "delete-decision", decision: id }))
  const others = placed.toReversed().flatMap(({ sign: decision, old }, i): PageChange[] => {
    if (old) return same(old, decision) ? [] : [{ kind: "replace-decision", decision }]
    const next = wanted[wanted.length - i]
    return [{ kind: "insert-decision", decision, ...(next && { before: next.id }) }]
  })
  return [...taken, ...others]
}

/** All voices taken away and put there again: for what cannot be told sign by sign, such as a sign that went to another voice. */
function anew(before: Page, after: Page): PageChange[] {
  const walk = new Walk(before)
  const away = before.voices.map(({ id }): PageChange => ({ kind: "delete-voice", voice: id }))
  for (const part of [() => away, ofPage, alternatives, newVoices, decisions]) walk.go(part, after)
  return walk.changes
}
