/** Why a sign lasts so long, as one would say it to an audience; where there is no such sentence, the reading's own. */
import type { TimedSign, TimeVoice } from "../../drawing/index.js"
import { explainShort, LEVEL_NAMES, type SignReading } from "../../reading/index.js"

export function sayWhy({ reading, held }: TimedSign, voice: TimeVoice): string {
  const causes = reading.because.flatMap(id => voice.reading.signs.find(one => one.id === id) ?? [])
  const own = held || reading.decidedBy !== "voice" ? undefined : SAYINGS[reading.rule]?.(reading, causes)
  return own ?? explainShort(voice.reading, reading)
}

type Saying = (sign: SignReading, causes: readonly SignReading[]) => string | undefined

const name = ({ level, kind }: SignReading): string =>
  `${LEVEL_NAMES[level ?? ""] ?? "note"}${kind === "rest" ? " rest" : ""}`
const a = (sign: SignReading): string => `a ${name(sign)}`

/** What takes a third: one sign, or several worth it. */
function takers(sign: SignReading, causes: readonly SignReading[], side: "before" | "after"): string | undefined {
  const own = causes.filter(
    one => one.number > 0 && (side === "after" ? one.index > sign.index : one.index < sign.index),
  )
  if (own.length === 0) return undefined
  if (own.length === 1) return `${a(own[0]!)} ${side === "after" ? "follows" : "stands before it"} and takes`
  const alike = own.every(one => name(one) === name(own[0]!))
  const what = alike ? `${NUMBERS[own.length] ?? own.length} ${name(own[0]!)}s` : "smaller signs"
  return side === "after" ? `${what} follow and take` : `${what} stand before it and take`
}
const NUMBERS: Readonly<Record<number, string>> = { 2: "two", 3: "three", 4: "four", 5: "five", 6: "six" }
const sentence = (text: string): string => text[0]!.toUpperCase() + text.slice(1)

const SAYINGS: Readonly<Record<string, Saying>> = {
  "imperfectio-a-parte-post": (sign, causes) => {
    const who = takers(sign, causes, "after")
    return who && sentence(`${who} its last third.`)
  },
  "imperfectio-a-parte-ante": (sign, causes) => {
    const who = takers(sign, causes, "before")
    return who && sentence(`${who} its first third.`)
  },
  alteratio: (sign, causes) => {
    const next = causes.find(one => one.number > 0 && one.index > sign.index)
    const partner = causes.find(one => one.number > 0 && one.index < sign.index)
    if (!next || !partner || name(partner) !== name(sign)) return undefined
    return `Two ${name(sign)}s stand before ${a(next)}. The second is doubled, so that three thirds are full.`
  },
  "imperfectio-ad-partem": (sign, causes) => {
    const own = causes.filter(one => one.number > 0)
    const [only] = own
    if (!only || own.length > 1) return undefined
    return only.index > sign.index
      ? sentence(`${a(only)} follows and takes a third of its last part.`)
      : sentence(`${a(only)} stands before it and takes a third of its first part.`)
  },
  "similis-ante-similem": (sign, causes) => {
    const next = causes.find(one => one.index > sign.index)
    return next && sentence(`${a(sign)} before ${a(next)} stays whole: like before like.`)
  },
  "punctus-perfectionis": sign => `The dot keeps the ${name(sign)} whole, whatever stands beside it.`,
  "punctus-additionis": sign => `The dot adds half of the ${name(sign)} to it.`,
}
