/** The line of a decision, both ways: `decision on=1.8 duration=4 who=ed why="…"`. */
import { signId, timeFromText, toText, type SignId } from "../../base/index.js"
import { CANON_FORM, readCanon, writeCanon, type CanonWord } from "../canon-text.js"
import {
  CHOSEN_ACCIDENTALS,
  DECIDED_DOTS,
  type ChosenAccidental,
  type DecidedWhat,
  type Decision,
} from "../decision.js"
import { readFormStep, writeFormStep } from "../form.js"
import type { Words } from "./header.js"
import { excerpt } from "./reporter.js"
import { inBrackets, pair, quote, type Term } from "./tokens.js"

const DECISION =
  'decision on=1.8 duration=4 (or not=6, not=(6 9/2), dot=addition, accid=s, not-accid=s, voice voice=(after=2B), form=(A B A)) who=ed why="…" label="…" id=…'
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

function readWhat(words: Words): DecidedWhat | undefined {
  const duration = words.take("duration")
  const not = words.take("not")
  const dot = words.take("dot")
  const form = words.take("form")
  const accidental = words.take("accid")
  const notAccidental = words.take("not-accid")
  const canon = words.takeAll("voice", "then")
  const said = [duration, not, dot, form, accidental, notAccidental, canon[0]].filter(word => word !== undefined)
  if (said.length !== 1) {
    words.missing(
      said.length === 0 ? "duration, refusal, meaning, accidental, canon or form" : "single thing that it decides",
      DECISION,
    )
    return undefined
  }
  if (duration) return readDuration(words, duration)
  if (form) return readForm(words, form)
  if (accidental) return readAccidental(words, accidental)
  if (notAccidental) return readNoAccidental(words, notAccidental)
  if (canon.length > 0) return readVoices(words, canon)
  return not ? readRefusal(words, not) : readMeaning(words, dot!)
}

function readDuration(words: Words, word: Term): DecidedWhat | undefined {
  const duration = timeFromText(word.value ?? "")
  if (duration === undefined) words.bad(word, "duration=4 or duration=9/2, more than 0")
  return duration && { duration }
}

function readRefusal(words: Words, word: Term): DecidedWhat | undefined {
  const all = word.args?.map(({ name }) => timeFromText(name)) ?? [timeFromText(word.value ?? "")]
  const not = all.filter(one => one !== undefined)
  if (not.length === all.length && not.length > 0) return { not }
  words.bad(word, "not=6 or not=(6 9/2), all more than 0")
  return undefined
}

function readMeaning(words: Words, word: Term): DecidedWhat | undefined {
  const dot = DECIDED_DOTS.find(one => one === word.value)
  if (dot === undefined) words.bad(word, DOT)
  return dot && { dot }
}

const chosen = (text: string | undefined): ChosenAccidental | undefined => CHOSEN_ACCIDENTALS.find(one => one === text)

function readAccidental(words: Words, word: Term): DecidedWhat | undefined {
  const accidental = chosen(word.value)
  if (accidental === undefined) words.bad(word, "accid=s, accid=f or accid=n")
  return accidental && { accidental }
}

function readNoAccidental(words: Words, word: Term): DecidedWhat | undefined {
  const all = word.args?.map(({ name }) => chosen(name)) ?? [chosen(word.value)]
  const notAccidental = all.filter(one => one !== undefined)
  if (notAccidental.length === all.length && notAccidental.length > 0) return { notAccidental }
  words.bad(word, "not-accid=s or not-accid=(s f)")
  return undefined
}

function readForm(words: Words, word: Term): DecidedWhat | undefined {
  const steps = word.args?.map(({ name }) => readFormStep(name)) ?? []
  const form = steps.filter(step => step !== undefined)
  if (form.length === steps.length && form.length > 0) return { form }
  words.bad(
    word,
    "form=(A B A2 A), the parts in the order sung, each with the number of its stanza where that is not 1",
  )
  return undefined
}

function readVoices(words: Words, all: readonly Term[]): DecidedWhat | undefined {
  const read = readCanon(
    all.map(({ name, args = [] }): CanonWord => ({
      name: name as CanonWord["name"],
      says: args.map(one => (one.value === undefined ? [one.name] : [one.name, one.value])),
    })),
  )
  if ("canon" in read) return read
  words.bad(all[0]!, `${CANON_FORM}; “${excerpt(read.wrong)}” is not understood`)
  return undefined
}

const canonTerm = ({ name, says }: CanonWord): string => {
  const inside = says.map(([key, value]) => (value === undefined ? key : pair(key, value)))
  return inside.length === 0 ? name : `${name}=${inBrackets(inside)}`
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

function writeWhat({ duration, not = [], dot, canon, form, accidental, notAccidental }: Decision): string {
  if (accidental) return pair("accid", accidental)
  if (notAccidental)
    return notAccidental.length === 1
      ? pair("not-accid", notAccidental[0]!)
      : `not-accid=${inBrackets([...notAccidental])}`
  if (duration) return pair("duration", toText(duration))
  if (dot !== undefined) return pair("dot", dot)
  if (canon) return writeCanon(canon).map(canonTerm).join(" ")
  if (form) return `form=${inBrackets(form.map(writeFormStep))}`
  return not.length === 1 ? pair("not", toText(not[0]!)) : `not=(${not.map(one => quote(toText(one))).join(" ")})`
}
