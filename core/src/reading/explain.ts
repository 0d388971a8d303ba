/** What a reading says of one sign: in a sentence for a table, or the whole story. */
import { equals, toText } from "../base/index.js"
import { everySign, type Page, type Sign, type Voice } from "../page/index.js"
import { PRACTICES, practiceNamed, type Practice } from "../practices/index.js"
import { decidedText, decisionLines } from "./explain-decided.js"
import { readVoice } from "./read-voice.js"
import { withPageOptions } from "./rulings.js"
import { durationText, nameOf, olderName, SENTENCES, unitName, type Said } from "./sentences.js"
import type { ReadOptions } from "./settings.js"
import { LACUNA } from "./taken-for.js"
import type { Reading, SignReading } from "./types.js"

const indexes = new WeakMap<Reading, Map<string, SignReading>>()
function byId(reading: Reading): Map<string, SignReading> {
  let index = indexes.get(reading)
  if (index === undefined) indexes.set(reading, (index = new Map(reading.signs.map(sign => [sign.id, sign]))))
  return index
}

/** Why the sign has its duration, in one sentence. */
export function explainShort(reading: Reading, sign: SignReading): string {
  const still = sign.number === 0 ? withoutLength(reading, sign) : undefined
  if (still !== undefined) return still
  const older = reading.practice.options["terminology"] === "older" ? olderName(sign) : undefined
  const others = sign.others ? ` ${othersText(sign.others)}` : ""
  return (
    explainRule(reading, sign, sign.rule) + (older ? ` The older name is ${older}.` : "") + others + decidedText(sign)
  )
}

/** What the other voices said of it, and what this one would have been by itself. */
function othersText({ how, voices, alone }: NonNullable<SignReading["others"]>): string {
  const named =
    voices.length > 1 ? `${voices.slice(0, -1).join(", ")} and ${voices.at(-1)}` : (voices[0] ?? "the others")
  const what = {
    meet: `It meets ${named} only so`,
    sound: `It sounds better so with ${named}`,
    repeat: "So it lasts in the other statements of the voice",
  }[how]
  return alone === undefined ? `${what}.` : `${what}; by itself it would be read as ${toText(alone)}.`
}

function lacunaText(reading: Reading, sign: SignReading): string {
  if (sign.duration.num === 0) return "Something is lost here; how long it lasted is not known."
  return `Something is lost here; by the other voices it lasted ${durationText(sign)} ${unitName(reading, sign)}.`
}

const DIVISION: Record<number, string> = { 2: "imperfect", 3: "perfect" }

/** A sign that does not last and has no rule of its own to tell. */
function withoutLength(reading: Reading, sign: SignReading): string | undefined {
  if (sign.kind === "mensuration") return mensurationText(reading, sign)
  if (sign.kind === "proportion") {
    const span = reading.mensurations.find(one => one.sign === sign.id)
    return `From here durations are divided by ${span ? toText(span.proportion) : "its ratio"}.`
  }
  if (sign.takenFor === LACUNA) return lacunaText(reading, sign)
  if (sign.takenFor === "signum-modi")
    return "A longa rest before the sign of tempus shows the modus and is not counted."
  return sign.rule === "as-written" ? "It has no length and parts nothing here." : undefined
}

function mensurationText(reading: Reading, sign: SignReading): string {
  const span = reading.mensurations.find(one => one.sign === sign.id)
  if (span === undefined) return "A sign of mensuration, overruled by the next before any note."
  const said = [
    ["modus maior", span.modusMaior],
    ["modus minor", span.modusMinor],
    ["tempus", span.tempus],
  ].flatMap(([name, division]) => (division === null ? [] : [`${DIVISION[Number(division)]} ${name}`]))
  if (span.prolatio !== null) said.push(`prolatio ${span.prolatio === 3 ? "maior" : "minor"}`)
  const scaled =
    span.proportion.num === span.proportion.den ? "" : `; durations are divided by ${toText(span.proportion)}`
  return `It states ${said.join(", ")}${scaled}.`
}

export function explainRule(
  reading: Reading,
  sign: Pick<SignReading, "duration" | "because" | "quality"> & Partial<SignReading>,
  rule: string,
): string {
  const sentence = SENTENCES[rule]
  return sentence === undefined ? `By the rule ${rule}.` : sentence(said(reading, sign as SignReading))
}

function said(reading: Reading, sign: SignReading): Said {
  const index = byId(reading)
  const causes = sign.because.map(id => index.get(id)).filter(cause => cause !== undefined)
  const own = sign.index ?? -1
  return {
    sign,
    name: `the ${sign.level ?? "note"}`,
    because: causes.map(cause => nameOf(reading, cause)).join(isRun(sign, causes) ? " to " : ", ") || "its neighbours",
    fellows: causes.filter(cause => cause.number > 0).length,
    duration: durationText(sign),
    unit: unitName(reading, sign),
    before: causes.some(c => c.index < own && c.number > 0),
    after: causes.some(c => c.index > own && c.number > 0),
  }
}

/** A note that is scaled has not the value of its shape. */
const isAlsoTrue = ({ rule }: SignReading, also: string): boolean =>
  also !== rule && !(rule === "proportio" && also === "as-written")

/** A long run behind a note is told by its first and last one: others stand between them. */
function isRun({ number }: SignReading, causes: readonly SignReading[]): boolean {
  const [first, last] = causes.map(one => one.number)
  return causes.length === 2 && first! > number && last! > first! + 1
}

const MARKS = { read: "", memory: " (from memory)", inference: " (an inference)" }

/** Title, date and place of a rule's sources; empty for what needs none (an editor's decision, a given duration). */
export function sourceOf(practiceName: string, rule: string, practices: readonly Practice[] = PRACTICES): string {
  const practice = practices.find(p => p.name === practiceName) ?? practiceNamed(practiceName)
  const found = practice?.rules.find(r => r.id === rule)
  return found === undefined ? "" : found.sources.map(s => `${s.treatise}, ${s.place}${MARKS[s.mark]}`).join("; ")
}

/** The whole story of one sign, a paragraph a line: what it is, why, by whom, what else it could be, what would change it. */
export function explainLong(
  page: Page,
  voiceIndex: number,
  reading: Reading,
  id: string,
  options: ReadOptions = {},
): string[] {
  const sign = byId(reading).get(id)
  if (sign === undefined) return []
  const lines = [
    `${reading.label}, ${nameOf(reading, sign)}${sign.pitch ? ` on ${sign.pitch}` : ""}: ${durationText(sign)} ${unitName(reading, sign)}, at ${toText(sign.onset)}.`,
  ]
  lines.push(explainShort(reading, sign))
  const source = sourceOf(reading.practice.name, sign.rule, options.practices)
  if (source) lines.push(`Source: ${source}.`)
  for (const also of sign.also) if (isAlsoTrue(sign, also)) lines.push(`Also true: ${explainRule(reading, sign, also)}`)
  lines.push(
    ...decisionLines(page, id, reading.unit),
    ...decidedBy(sign),
    ...considered(reading, sign),
    ...whatIf(page.voices[voiceIndex]!, reading, sign, withPageOptions(page, options)),
  )
  return lines
}

function decidedBy(sign: SignReading): string[] {
  const lines: string[] = []
  if (sign.decidedBy === "given") lines.push("The file carries this duration; it is the encoder's decision.")
  if (sign.rulesSay && sign.decidedBy === "given") lines.push(`The rules alone would give it ${toText(sign.rulesSay)}.`)
  if (sign.held) lines.push("It is the final of the voice and is held freely.")
  if (sign.plica) lines.push(plicaLine(sign))
  return lines
}

function plicaLine(sign: SignReading): string {
  const { pitch, certain, duration } = sign.plica!
  const share = duration ? ` and takes ${toText(duration)} of its time` : ""
  return pitch === null
    ? "Its plica's pitch is not known."
    : `Its plica sounds ${pitch}${certain ? "" : " (likely, not certain)"}${share}.`
}

function considered(reading: Reading, sign: SignReading): string[] {
  if (sign.number === 0) return []
  if (sign.rivals.length === 0)
    return ["Nothing else came near: whatever is rarer than one in a thousand is not followed."]
  const lines = [`Chance that it is wrong: ${about(sign.doubt / 2)}.`]
  for (const rival of sign.rivals)
    lines.push(
      `Considered: ${toText(rival.duration)} (${percent(rival.chance)}). ${explainRule(reading, { ...sign, duration: rival.duration, because: rival.because }, rival.rule)}`,
    )
  return lines
}

const about = (chance: number): string => (chance < 0.01 ? "" : "about ") + percent(chance)
const percent = (chance: number): string => (chance < 0.01 ? "under 1 %" : `${Math.round(chance * 100)} %`)

/** What would change in this sign if a neighbouring dot, stroke, sign or figure were not there: read again without each. */
function whatIf(voice: Voice, reading: Reading, sign: SignReading, options: ReadOptions): string[] {
  const lines: string[] = []
  const alone = byId(readVoice(voice, options)).get(sign.id) ?? sign
  for (const neighbour of neighbours(reading, sign)) {
    const without = numberedAs(reading, readVoice({ ...voice, signs: withoutSign(voice.signs, neighbour.id) }, options))
    const now = byId(without).get(sign.id)
    if (now === undefined || equals(now.duration, alone.duration)) continue
    lines.push(
      `Without the ${neighbour.kind === "mensuration" ? "sign of mensuration" : nameOf(reading, neighbour)} it would last ${durationText(now)}: ${explainShort(without, now)}`,
    )
  }
  return lines.length > 0
    ? lines
    : ["No single neighbouring dot, stroke, sign or figure decides it: without any one of them it would last the same."]
}

/** The signs called by the numbers that they have on the page. */
function numberedAs(reading: Reading, without: Reading): Reading {
  const known = byId(reading)
  return {
    ...without,
    signs: without.signs.map(sign => ({ ...sign, number: known.get(sign.id)?.number ?? sign.number })),
  }
}

function neighbours(reading: Reading, sign: SignReading): SignReading[] {
  const near: SignReading[] = []
  const around = (step: 1 | -1): void => {
    let figures = 0
    for (let i = sign.index + step; i >= 0 && i < reading.signs.length && figures < 3; i += step) {
      const other = reading.signs[i]!
      const isSign = other.kind === "mensuration" || other.kind === "proportion"
      // beyond another sign things are counted anew; of those that follow it none tells of what is before
      if (isSign && step > 0) break
      if (other.number > 0) figures++
      near.push(other)
      if (isSign) break
    }
  }
  around(-1)
  around(1)
  return near
}

function withoutSign(signs: readonly Sign[], id: string): Sign[] {
  return signs
    .filter(sign => sign.id !== id)
    .map(sign =>
      sign.kind === "ligature" && [...everySign([sign])].some(member => member.id === id)
        ? { ...sign, members: sign.members.filter(m => m.id !== id) }
        : sign,
    )
}
