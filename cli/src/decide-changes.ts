/** What `resolutio decide` is asked for, as a change of the page. */
import {
  DECIDED_DOTS,
  decisionsForRival,
  findSign,
  idGiver,
  markAfter,
  personNamed,
  puttingDecision,
  readDecided,
  timeFromText,
  type DecidedDot,
  type Decision,
  type Page,
  type PageChange,
  type Problem,
  type Rational,
  type Reading,
  type Result,
  type Sign,
  type SignId,
  type SignReading,
} from "@resolutio/core"
import { either } from "./messages.js"
import type { PageRead } from "./reading.js"

/** One of these decides; `why` and `who` go with it. */
export interface Action {
  readonly duration?: string
  readonly not: readonly string[]
  readonly dot?: string
  readonly rival?: string
  readonly voiceRival?: string
  readonly canon?: string
  readonly form?: string
  readonly why?: string
  readonly who?: string
}

const asked = ({ duration, not, dot, rival, voiceRival, canon, form }: Action): number =>
  [duration, not.length > 0 ? not : undefined, dot, rival, voiceRival, canon, form].filter(one => one !== undefined)
    .length

export const hasAction = (flags: Action): boolean => asked(flags) > 0

/** `place` is one that the page has; with `undo` none is needed. */
export function changeFor(
  read: PageRead,
  place: string | undefined,
  flags: Action & { readonly undo?: string },
): Result<PageChange> {
  if (flags.undo !== undefined) return undoing(read.page, flags.undo)
  if (asked(flags) > 1) return wrong("decide", "More than one thing is decided at once.", "Give one action at a time.")
  const sign = findSign(read.page, place!)!
  const named = personNamed(read.page, flags.who)
  const as = {
    ...(named && { who: named.id }),
    ...(flags.why !== undefined && flags.why.trim() !== "" && { why: flags.why.trim().replace(/\s+/g, " ") }),
  }
  const made = decisionsWanted(read, sign, flags, as)
  if (!made.ok) return made
  const changes = made.value.map((decision): PageChange => puttingDecision(read.page, decision))
  return done({ kind: "several", changes: [...(named?.change ? [named.change] : []), ...changes] })
}

type As = Pick<Decision, "who" | "why">

function decisionsWanted({ page, readings }: PageRead, sign: Sign, flags: Action, as: As): Result<Decision[]> {
  const id = idGiver(page, "decision-")
  if (flags.canon !== undefined || flags.form !== undefined) {
    const decided = readDecided(flags.canon ?? `form=(${flags.form!.replaceAll(/[()]|^\s*form\s*=/g, " ").trim()})`)
    if (!decided.ok)
      return {
        ok: false,
        problems: decided.problems.map(one => ({
          ...one,
          where: { place: flags.canon === undefined ? "--form" : "--canon" },
        })),
      }
    return done([{ id: id(), sign: sign.id, ...decided.value, ...as } as Decision])
  }
  const reading = readings.find(one => one.signs.some(other => other.id === sign.id))
  const entry = reading?.signs.find(other => other.id === sign.id)
  if (!reading || !entry) return wrong("decide", `A ${sign.kind} does not last.`, "Decide on a note, a rest or a dot.")
  if (flags.voiceRival !== undefined) return chosenWay(reading, flags.voiceRival, as, id)
  if (flags.dot !== undefined) return meaning(page, sign, flags.dot, as, id)
  if (entry.number === 0)
    return wrong("decide", `A ${sign.kind} does not last.`, "Decide on a note or rest, or give --dot.")
  if (flags.rival !== undefined) return chosenRival(entry, flags.rival, as, id)
  if (flags.duration !== undefined) {
    const duration = durationOf("--duration", flags.duration)
    return duration.ok ? done([{ id: id(), sign: sign.id, duration: duration.value, ...as }]) : duration
  }
  const not: Rational[] = []
  for (const text of flags.not) {
    const one = durationOf("--not", text)
    if (!one.ok) return one
    not.push(one.value)
  }
  return done([{ id: id(), sign: sign.id, not, ...as }])
}

function durationOf(flag: string, text: string): Result<Rational> {
  const duration = timeFromText(text)
  if (duration) return done(duration)
  return wrong(flag, `“${text}” is no duration.`, `Write a number above 0, such as ${flag} 4 or ${flag} 9/2.`)
}

function chosenRival(entry: SignReading, text: string, as: As, id: () => SignId): Result<Decision[]> {
  const rival = entry.rivals[Number(text) - 1]
  if (rival) return done([{ id: id(), sign: entry.id, duration: rival.duration, ...as }])
  return wrong("--rival", `There is no rival ${text} here.`, counted("rival", entry.rivals.length))
}

function chosenWay(reading: Reading, text: string, as: As, id: () => SignId): Result<Decision[]> {
  const rival = reading.rivals[Number(text) - 1]
  if (!rival)
    return wrong(
      "--voice-rival",
      `The voice has no other reading ${text}.`,
      counted("voice-rival", reading.rivals.length),
    )
  const label = `${reading.label}, another reading`
  return done(decisionsForRival(rival, rival.signs.size > 1 ? { ...as, label } : as, id))
}

const counted = (flag: string, count: number): string =>
  count === 0
    ? "Fix the duration with --duration; nothing else came near."
    : `Give --${flag} 1${count > 1 ? ` to ${count}` : ""}; without it they are listed.`

/** On a note or rest the dot right after it is meant. */
function meaning(page: Page, sign: Sign, text: string, as: As, id: () => SignId): Result<Decision[]> {
  const dot: DecidedDot | undefined = DECIDED_DOTS.find(one => one === text)
  if (!dot) return wrong("--dot", `A dot cannot be one of “${text}”.`, `It can be one of ${either(DECIDED_DOTS)}.`)
  const mark = sign.kind === "dot" || sign.kind === "stroke" ? sign : markAfter(page, sign)
  if (!mark) return wrong("--dot", "No dot follows this sign.", "Name the note before the dot, or the dot's xml:id.")
  return done([{ id: id(), sign: mark.id, dot, ...as }])
}

/** By id, by number in the list, or all that share a label. */
function undoing({ decisions = [] }: Page, text: string): Result<PageChange> {
  const numbered = /^\d+$/.test(text) ? decisions[Number(text) - 1] : undefined
  const found = decisions.filter(one => one.id === text)
  const chosen = found.length > 0 ? found : numbered ? [numbered] : decisions.filter(one => one.label === text)
  if (chosen.length === 0)
    return wrong(
      "--undo",
      `There is no decision “${text}”.`,
      decisions.length > 0 ? "Give an id, a number or a label from --list." : "The file holds no decisions.",
    )
  return done({
    kind: "several",
    changes: chosen.map((one): PageChange => ({ kind: "delete-decision", decision: one.id })),
  })
}

const done = <T>(value: T): Result<T> => ({ ok: true, value, problems: [] })

function wrong(place: string, what: string, mend: string): Result<never> {
  const problem: Problem = { code: "cannot-decide", what, where: { place }, mend, severity: "error" }
  return { ok: false, problems: [problem] }
}
