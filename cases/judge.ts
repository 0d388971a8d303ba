/** Does a reading come to what a case says? What does not is told in sentences, so that a failure can be looked up. */
import {
  equals,
  parseShorthand,
  readPage,
  toText,
  type Page,
  type Reading,
  type ReadOptions,
  type SignReading,
} from "@resolutio/core"
import type { Case, Expected, Lasting } from "./load.js"

/** How a page is read; tests that take a rule out of a practice bring their own. */
export type ReadOne = (page: Page, options: ReadOptions) => Reading[]

/** Everything in which the case fails under one of its practices; nothing when it holds. */
export function judge(one: Case, practice: string, read: ReadOne = readPage): string[] {
  const parsed = parseShorthand(one.shorthand, one.file)
  if (!parsed.ok || parsed.problems.length > 0)
    return parsed.problems.map(problem => `shorthand, line ${problem.where?.line}: ${problem.what}`)
  const page = parsed.value
  if (page.voices.length !== 1) return [`the case has ${page.voices.length} voices, not one`]
  const readUnder = (options: Readonly<Record<string, string>>) =>
    read(page, { practice: { name: practice, options: { ...one.options, ...options } } })[0]!
  const reading = readUnder({})
  const accepted = one.accepted.flatMap(other =>
    durations(other, readUnder(other.options)).map(what => `with ${JSON.stringify(other.options)}: ${what}`),
  )
  return [...durations(one.expected, reading), ...accepted, ...rules(one, reading), ...more(one, reading)]
}

const lasting = (reading: Reading) => reading.signs.filter(sign => sign.kind === "note" || sign.kind === "rest")
const uncounted = (reading: Reading) => reading.signs.filter(sign => sign.kind === "dot" || sign.kind === "stroke")

function durations({ durations: wanted }: Expected, reading: Reading): string[] {
  if (wanted.length === 0) return []
  const signs = lasting(reading)
  const same = signs.length === wanted.length && wanted.every((one, at) => fits(one, signs[at]!))
  const got = signs.map(sign => shown({ duration: sign.duration, plica: sign.plica?.duration ?? undefined }))
  return same ? [] : [`lasts ${got.join(" ")}, not ${wanted.map(shown).join(" ")}`]
}

function fits(wanted: Lasting, sign: SignReading): boolean {
  if (!equals(wanted.duration, sign.duration)) return false
  return !wanted.plica || (!!sign.plica?.duration && equals(wanted.plica, sign.plica.duration))
}

function shown({ duration, plica }: Lasting): string {
  return plica ? `${toText(duration)}(plica ${toText(plica)})` : toText(duration)
}

/** Several rules may be true of a sign, of which one names it; the others stand in `also`. */
function bears(sign: SignReading, rule: string): boolean {
  return sign.rule === rule || sign.also.includes(rule) || sign.takenFor === rule
}

function rules(one: Case, reading: Reading): string[] {
  const signs = lasting(reading)
  const wrong = one.rules.flatMap((rule, at) => {
    const sign = signs[at]
    return rule === "*" || !sign || bears(sign, rule) ? [] : [`sign ${at + 1} is by ${sign.rule}, not by ${rule}`]
  })
  const missing = one.borne.filter(
    rule => !reading.signs.some(sign => bears(sign, rule) || (rule === "plica" && sign.plica)),
  )
  return [
    ...wrong,
    ...missing.map(rule => `no sign is by ${rule}, only by ${reading.signs.map(sign => sign.rule).join(" ")}`),
  ]
}

function more(one: Case, reading: Reading): string[] {
  const codes = reading.problems.map(problem => problem.code)
  const unsaid = one.problems.filter(code => !(code === "any" ? codes.length > 0 : codes.includes(code)))
  return [
    ...row(
      "dots and strokes",
      one.dots,
      uncounted(reading).map(sign => sign.takenFor ?? sign.rule),
    ),
    ...row(
      "levels",
      one.levels,
      lasting(reading).map(sign => sign.level ?? "none"),
    ),
    ...row("plica pitches", one.plicaPitches, reading.signs.flatMap(plicaPitch)),
    ...unsaid.map(code => `no problem ${code} was reported, only ${codes.join(" ") || "none"}`),
  ]
}

function plicaPitch({ plica }: SignReading): string[] {
  return plica ? [`${plica.pitch ?? "none"}${plica.certain ? "" : "?"}`] : []
}

function row(name: string, wanted: readonly string[], got: readonly string[]): string[] {
  const same =
    wanted.length === 0 || (wanted.length === got.length && wanted.every((one, at) => one === "*" || one === got[at]))
  return same ? [] : [`${name}: ${got.join(" ") || "none"}, not ${wanted.join(" ")}`]
}
