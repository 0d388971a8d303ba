/**
 * Edits as values: a change can be applied, undone, saved as JSON and applied again. A changed page shares with the
 * old one whatever the change did not touch; voices that were not touched are the same objects.
 */
import { done, failed, unreachable, type Result, type SignId, type VoiceId } from "../base/index.js"
import { signId } from "../base/index.js"
import { lastMember, missing, noMember, taken } from "./change-problems.js"
import { deleteDecision, insertDecision, replaceDecision, withoutDecisionsOn } from "./decision-changes.js"
import type { Decision } from "./decision.js"
import type { Alternative, LocalShape, Page, Surface, Voice, Zone } from "./page.js"
import type { Ligature, Sign } from "./signs.js"
import { everySign } from "./walk.js"
import type { Years } from "./years.js"

/** One edit as a value: it can be applied, undone, saved. Ids stay with their signs. */
export type PageChange =
  /** Puts a new sign before another one (at the end without `before`) of a voice, or of a ligature in it. */
  | {
      readonly kind: "insert-sign"
      readonly voice: VoiceId
      readonly ligature?: SignId
      readonly before?: SignId
      readonly sign: Sign
    }
  /** Decisions on it (or on the members of a ligature) go with it, here and wherever else signs are taken away. */
  | { readonly kind: "delete-sign"; readonly sign: SignId }
  /** The sign that has this one's id gives way to it. */
  | { readonly kind: "replace-sign"; readonly sign: Sign }
  /** Moves a sign within its voice or ligature. */
  | { readonly kind: "move-sign"; readonly sign: SignId; readonly before?: SignId }
  | { readonly kind: "insert-voice"; readonly voice: Voice; readonly before?: VoiceId }
  | { readonly kind: "delete-voice"; readonly voice: VoiceId }
  /** Sets what is named; null takes an optional member away. */
  | { readonly kind: "set-voice"; readonly voice: VoiceId; readonly set: VoiceSettings }
  | { readonly kind: "set-title"; readonly title: string }
  /** null: nothing is said. */
  | { readonly kind: "set-years"; readonly years: Years | null }
  | { readonly kind: "set-shapes"; readonly shapes: readonly LocalShape[] }
  | { readonly kind: "set-facsimile"; readonly surfaces: readonly Surface[]; readonly zones: readonly Zone[] }
  | { readonly kind: "set-alternatives"; readonly alternatives: readonly Alternative[] }
  | { readonly kind: "set-people"; readonly people: Readonly<Record<string, string>> | null }
  /** Puts a new decision before another one; at the end without `before`. */
  | { readonly kind: "insert-decision"; readonly decision: Decision; readonly before?: SignId }
  | { readonly kind: "delete-decision"; readonly decision: SignId }
  /** The decision that has this one's id gives way to it. */
  | { readonly kind: "replace-decision"; readonly decision: Decision }
  /** All of them, one after the other, or none. */
  | { readonly kind: "several"; readonly changes: readonly PageChange[] }

export type VoiceSettings = {
  readonly [K in "n" | "label" | "lines" | "notation"]?: Voice[K]
} & {
  readonly [K in "staffColour" | "practice"]?: Voice[K] | null
}

/** A page after a change, and the change that leads back. */
export interface Changed {
  readonly page: Page
  readonly undo: PageChange
}

/**
 * Applies a change. Fails with a problem, and changes nothing, when what it names is not there or an id to insert is
 * taken. Applying `undo` to the new page gives a page equal to the old one.
 */
export function applyChange(page: Page, change: PageChange): Result<Changed> {
  switch (change.kind) {
    case "insert-sign":
      return insertSign(page, change)
    case "delete-sign":
      return deleteSign(page, change.sign)
    case "replace-sign":
      return replaceSign(page, change.sign)
    case "move-sign":
      return moveSign(page, change.sign, change.before)
    case "insert-voice":
      return insertVoice(page, change.voice, change.before)
    case "delete-voice":
      return deleteVoice(page, change.voice)
    case "set-voice":
      return setVoice(page, change.voice, change.set)
    case "set-title":
      return done({ page: { ...page, title: change.title }, undo: { kind: "set-title", title: page.title } })
    case "set-years":
      return setYears(page, change.years)
    case "set-shapes":
      return done({ page: { ...page, shapes: change.shapes }, undo: { kind: "set-shapes", shapes: page.shapes } })
    case "set-facsimile": {
      const { surfaces, zones } = change
      const undo = { kind: "set-facsimile", surfaces: page.surfaces, zones: page.zones } as const
      return done({ page: { ...page, surfaces, zones }, undo })
    }
    case "set-alternatives": {
      const undo = { kind: "set-alternatives", alternatives: page.alternatives } as const
      return done({ page: { ...page, alternatives: change.alternatives }, undo })
    }
    case "set-people":
      return setPeople(page, change.people)
    case "insert-decision":
      return insertDecision(page, change, idsIn(page))
    case "delete-decision":
      return deleteDecision(page, change.decision)
    case "replace-decision":
      return replaceDecision(page, change.decision)
    case "several":
      return applyAll(page, change.changes)
    default:
      return unreachable(change)
  }
}

function applyAll(page: Page, changes: readonly PageChange[]): Result<Changed> {
  const undos: PageChange[] = []
  let now = page
  for (const change of changes) {
    const result = applyChange(now, change)
    if (!result.ok) return result
    now = result.value.page
    undos.unshift(result.value.undo)
  }
  return done({ page: now, undo: { kind: "several", changes: undos } })
}

/** Gives ids that neither the page nor this giver has given to a sign or decision before. */
export function idGiver(page: Page, prefix = "new-"): () => SignId {
  const taken = new Set<string>(idsIn(page))
  let running = 0
  return () => {
    do running++
    while (taken.has(prefix + running))
    return signId(prefix + running)
  }
}

function* idsIn(page: Page): Generator<SignId> {
  for (const voice of page.voices) for (const sign of everySign(voice.signs)) yield sign.id
  for (const other of page.alternatives) for (const sign of everySign(other.signs)) yield sign.id
  for (const decision of page.decisions ?? []) yield decision.id
}

/** A run of signs in which a change takes place: those of a voice, or of a ligature in it. */
interface Run {
  readonly voice: Voice
  readonly ligature?: Ligature
  readonly signs: readonly Sign[]
}

function runOf(page: Page, id: SignId): (Run & { readonly index: number }) | undefined {
  for (const voice of page.voices)
    for (let i = 0; i < voice.signs.length; i++) {
      const sign = voice.signs[i]!
      if (sign.id === id) return { voice, signs: voice.signs, index: i }
      if (sign.kind !== "ligature") continue
      const index = sign.members.findIndex(member => member.id === id)
      if (index >= 0) return { voice, ligature: sign, signs: sign.members, index }
    }
  return undefined
}

function withRun(page: Page, run: Run, signs: readonly Sign[]): Page {
  const { voice, ligature } = run
  const inVoice = ligature
    ? voice.signs.map(sign => (sign === ligature ? { ...ligature, members: signs as Ligature["members"] } : sign))
    : signs
  return { ...page, voices: page.voices.map(one => (one === voice ? { ...voice, signs: inVoice } : one)) }
}

function insertSign(page: Page, change: Extract<PageChange, { kind: "insert-sign" }>): Result<Changed> {
  const { sign, before } = change
  const run = namedRun(page, change.voice, change.ligature)
  if (!run) return failed(missing(change.ligature ?? change.voice))
  if (run.ligature && !canJoin(sign)) return failed(noMember(sign))
  const fresh = new Set([...everySign([sign])].map(one => one.id))
  for (const id of idsIn(page)) if (fresh.has(id)) return failed(taken(id))
  const at = before === undefined ? run.signs.length : run.signs.findIndex(one => one.id === before)
  if (at < 0) return failed(missing(before!))
  const signs = [...run.signs.slice(0, at), sign, ...run.signs.slice(at)]
  return done({ page: withRun(page, run, signs), undo: { kind: "delete-sign", sign: sign.id } })
}

function namedRun(page: Page, voiceId: VoiceId, ligatureId: SignId | undefined): Run | undefined {
  const voice = page.voices.find(one => one.id === voiceId)
  if (!voice || ligatureId === undefined) return voice && { voice, signs: voice.signs }
  const ligature = voice.signs.find(sign => sign.id === ligatureId)
  return ligature?.kind === "ligature" ? { voice, ligature, signs: ligature.members } : undefined
}

function canJoin(sign: Sign): boolean {
  return sign.kind === "note" || sign.kind === "dot" || sign.kind === "rest" || sign.kind === "other"
}

function deleteSign(page: Page, id: SignId): Result<Changed> {
  const run = runOf(page, id)
  if (!run) return failed(missing(id))
  const { voice, ligature, signs, index } = run
  if (ligature && signs.length === 1) return failed(lastMember(ligature))
  const undo: PageChange = {
    kind: "insert-sign",
    voice: voice.id,
    ...(ligature && { ligature: ligature.id }),
    ...before(signs[index + 1]),
    sign: signs[index]!,
  }
  const changed = { page: withRun(page, run, signs.toSpliced(index, 1)), undo }
  return done(withoutDecisionsOn([signs[index]!], [], changed))
}

/** The sign that followed; at the end nothing is named. */
function before(next: { readonly id: SignId } | undefined): { before?: SignId } {
  return next ? { before: next.id } : {}
}

function replaceSign(page: Page, sign: Sign): Result<Changed> {
  const run = runOf(page, sign.id)
  if (!run) return failed(missing(sign.id))
  if (run.ligature && !canJoin(sign)) return failed(noMember(sign))
  const old = run.signs[run.index]!
  const kept = new Set([...everySign([old])].map(one => one.id))
  const fresh = [...everySign([sign])].map(one => one.id).filter(id => !kept.has(id))
  if (fresh.length > 0) {
    const ids = new Set<SignId>(fresh)
    for (const id of idsIn(page)) if (ids.has(id)) return failed(taken(id))
  }
  const changed: Changed = {
    page: withRun(page, run, run.signs.with(run.index, sign)),
    undo: { kind: "replace-sign", sign: old },
  }
  return done(withoutDecisionsOn([old], [sign], changed))
}

function moveSign(page: Page, id: SignId, target: SignId | undefined): Result<Changed> {
  const run = runOf(page, id)
  if (!run) return failed(missing(id))
  const { signs, index } = run
  const others = signs.toSpliced(index, 1)
  const at = target === undefined ? others.length : others.findIndex(one => one.id === target)
  if (at < 0) return failed(missing(target!))
  const undo: PageChange = { kind: "move-sign", sign: id, ...before(signs[index + 1]) }
  return done({ page: withRun(page, run, others.toSpliced(at, 0, signs[index]!)), undo })
}

function insertVoice(page: Page, voice: Voice, target: VoiceId | undefined): Result<Changed> {
  if (page.voices.some(one => one.id === voice.id)) return failed(taken(voice.id))
  const fresh = new Set([...everySign(voice.signs)].map(one => one.id))
  for (const id of idsIn(page)) if (fresh.has(id)) return failed(taken(id))
  const at = target === undefined ? page.voices.length : page.voices.findIndex(one => one.id === target)
  if (at < 0) return failed(missing(target!))
  return done({
    page: { ...page, voices: page.voices.toSpliced(at, 0, voice) },
    undo: { kind: "delete-voice", voice: voice.id },
  })
}

function deleteVoice(page: Page, id: VoiceId): Result<Changed> {
  const at = page.voices.findIndex(one => one.id === id)
  const voice = page.voices[at]
  if (!voice) return failed(missing(id))
  const next = page.voices[at + 1]
  const undo: PageChange = { kind: "insert-voice", voice, ...(next && { before: next.id }) }
  const changed = { page: { ...page, voices: page.voices.toSpliced(at, 1) }, undo }
  return done(withoutDecisionsOn(voice.signs, [], changed))
}

function setVoice(page: Page, id: VoiceId, set: VoiceSettings): Result<Changed> {
  const voice = page.voices.find(one => one.id === id)
  if (!voice) return failed(missing(id))
  const changed: Record<string, unknown> = { ...voice }
  const back: Record<string, unknown> = {}
  for (const [key, value] of Object.entries(set)) {
    back[key] = changed[key] ?? null
    if (value === null || value === undefined) delete changed[key]
    else changed[key] = value
  }
  const voices = page.voices.map(one => (one === voice ? (changed as unknown as Voice) : one))
  return done({ page: { ...page, voices }, undo: { kind: "set-voice", voice: id, set: back as VoiceSettings } })
}

function setYears(page: Page, years: Years | null): Result<Changed> {
  const { years: old, ...rest } = page
  return done({ page: years ? { ...rest, years } : rest, undo: { kind: "set-years", years: old ?? null } })
}

function setPeople(page: Page, people: Page["people"] | null): Result<Changed> {
  const { people: old, ...rest } = page
  return done({ page: people ? { ...rest, people } : rest, undo: { kind: "set-people", people: old ?? null } })
}
