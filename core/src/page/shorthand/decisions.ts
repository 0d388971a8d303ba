/** The line of a decision, both ways: `decision on=1.8 duration=4 who=ed why="…"`. */
import { signId, timeFromText, toText, type Rational, type SignId } from "../../base/index.js"
import { DECIDED_DOTS, type DecidedDot, type Decision } from "../decision.js"
import type { Words } from "./header.js"
import { pair, quote, type Term } from "./tokens.js"

const DECISION = 'decision on=1.8 duration=4 (or not=6, not=(6 9/2), dot=addition) who=ed why="…" label="…" id=…'
const DOT = `dot=${DECIDED_DOTS.join(", dot=")}`

/** The id of the decision with this number on the page, from 1, unless another is written. */
export const usualDecisionId = (number: number): SignId => signId(`decision-${number}`)

/** Undefined, and reported, when it does not say on which sign or what is decided. */
export function readDecision(words: Words, number: number): Decision | undefined {
  const sign = words.text("on")
  if (sign === undefined) words.missing("sign that it is about", DECISION)
  const what = readWhat(words)
  const who = words.text("who")
  const why = words.text("why")
  const label = words.text("label")
  const id = words.text("id")
  words.end(DECISION)
  if (sign === undefined || what === undefined) return undefined
  return {
    id: id === undefined ? usualDecisionId(number) : signId(id),
    sign: signId(sign),
    ...what,
    ...(label !== undefined && { label }),
    ...(who !== undefined && { who }),
    ...(why !== undefined && { why }),
  }
}

type What = { duration: Rational } | { not: readonly Rational[] } | { dot: DecidedDot }

function readWhat(words: Words): What | undefined {
  const duration = words.take("duration")
  const not = words.take("not")
  const dot = words.take("dot")
  const said = [duration, not, dot].filter(word => word !== undefined)
  if (said.length !== 1) {
    words.missing(said.length === 0 ? "duration, refusal or meaning" : "single thing that it decides", DECISION)
    return undefined
  }
  if (duration) return readDuration(words, duration)
  return not ? readRefusal(words, not) : readMeaning(words, dot!)
}

function readDuration(words: Words, word: Term): What | undefined {
  const duration = timeFromText(word.value ?? "")
  if (duration === undefined) words.bad(word, "duration=4 or duration=9/2, more than 0")
  return duration && { duration }
}

function readRefusal(words: Words, word: Term): What | undefined {
  const all = word.args?.map(({ name }) => timeFromText(name)) ?? [timeFromText(word.value ?? "")]
  const not = all.filter(one => one !== undefined)
  if (not.length === all.length && not.length > 0) return { not }
  words.bad(word, "not=6 or not=(6 9/2), all more than 0")
  return undefined
}

function readMeaning(words: Words, word: Term): What | undefined {
  const dot = DECIDED_DOTS.find(one => one === word.value)
  if (dot === undefined) words.bad(word, DOT)
  return dot && { dot }
}

export function writeDecision(decision: Decision, number: number): string {
  const { id, sign, label, who, why } = decision
  return [
    "decision",
    pair("on", sign),
    writeWhat(decision),
    ...(who === undefined ? [] : [pair("who", who)]),
    ...(why === undefined ? [] : [pair("why", why)]),
    ...(label === undefined ? [] : [pair("label", label)]),
    ...(id === usualDecisionId(number) ? [] : [pair("id", id)]),
  ].join(" ")
}

function writeWhat({ duration, not, dot }: Decision): string {
  if (duration) return pair("duration", toText(duration))
  if (dot !== undefined) return pair("dot", dot)
  return not!.length === 1 ? pair("not", toText(not![0]!)) : `not=(${not!.map(one => quote(toText(one))).join(" ")})`
}
