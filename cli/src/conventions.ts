/** The conventions of an edition on the command line: a flag for each, styles, clefs. */
import {
  CLEF_NAMES,
  CONVENTIONS,
  HOUSE_STYLES,
  USUAL_CONVENTIONS,
  conventionsWith,
  styleNamed,
  type ClefConventions,
  type ClefName,
  type ConventionName,
  type EditionConventions,
  type HouseStyle,
  type Problem,
  type Result,
} from "@resolutio/core"
import { InvalidArgumentError, Option } from "commander"
import { either } from "./messages.js"
import type { Shell } from "./shell.js"

export interface ConventionFlags extends Partial<Pick<EditionConventions, ConventionName>> {
  readonly style?: string
  /** "tenor=bass", or names with commas. */
  readonly clef: readonly string[]
  readonly reduction?: string
}

/** "overLines" is asked for by --over-lines. */
const flagOf = (name: string): string => `--${name.replace(/[A-Z]/g, letter => `-${letter.toLowerCase()}`)}`

/** One for each convention that is a choice among a few. */
export function conventionOptions(): Option[] {
  return CONVENTIONS.map(({ name, about, choices }) => {
    const told = choices.map(({ value, short }) => `${value}: ${short}`).join("; ")
    return new Option(`${flagOf(name)} <how>`, `${about} (${told})`).argParser((text: string) => {
      if (choices.some(({ value }) => value === text)) return text
      throw new InvalidArgumentError(`It can be ${either(choices.map(({ value }) => value))}.`)
    })
  })
}

const REDUCTIONS = [1, 2, 4, 8, 16, 32]

/** What the flags ask for, on top of the style. */
export function conventionsIn(flags: ConventionFlags): Result<EditionConventions> {
  const style = flags.style === undefined ? undefined : styleNamed(flags.style)
  const base = style?.conventions ?? USUAL_CONVENTIONS
  const clefs = clefsIn(flags.clef, base.clefs)
  const reduction = reductionIn(flags.reduction)
  const problems = [
    ...(flags.style !== undefined && !style ? [noSuchStyle(flags.style)] : []),
    ...(clefs.ok ? [] : clefs.problems),
    ...(reduction.ok ? [] : reduction.problems),
  ]
  if (problems.length > 0 || !clefs.ok || !reduction.ok) return { ok: false, problems }
  const chosen = Object.fromEntries(CONVENTIONS.map(({ name }) => [name, flags[name]]))
  return done(conventionsWith({ ...chosen, clefs: clefs.value, reduction: reduction.value }, base))
}

function noSuchStyle(name: string): Problem {
  return wrong("--style", `There is no style “${name}”.`, `There are ${either(HOUSE_STYLES.map(one => one.name))}.`)
}

function clefsIn(texts: readonly string[], base: ClefConventions): Result<ClefConventions> {
  let clefs = base
  for (const text of texts) {
    const at = text.lastIndexOf("=")
    const names = text
      .slice(at + 1)
      .split(",")
      .map(name => name.trim().toLowerCase())
    const strange = names.find(name => !isClef(name))
    if (strange !== undefined || (at >= 0 && names.length > 1))
      return { ok: false, problems: [noSuchClef(text, strange)] }
    const known = names.filter(isClef)
    if (at < 0) clefs = { ...clefs, from: known }
    else clefs = { ...clefs, voices: { ...clefs.voices, [text.slice(0, at).trim().toLowerCase()]: known[0]! } }
  }
  return done(clefs)
}

const isClef = (name: string): name is ClefName => CLEF_NAMES.some(one => one === name)

function noSuchClef(text: string, name: string | undefined): Problem {
  const what = name === undefined ? `“${text}” gives one voice several clefs.` : `There is no clef “${name}”.`
  return wrong("--clef", what, `Write --clef tenor=bass, or --clef treble,alto,bass; there are ${either(CLEF_NAMES)}.`)
}

/** "4" or "1:4": values a quarter as long as written. */
function reductionIn(text: string | undefined): Result<number | undefined> {
  const value = text === undefined ? undefined : Number(text.replace(/^1[:/]/, ""))
  if (value === undefined || REDUCTIONS.includes(value)) return done(value)
  const mend = `Write how many times shorter than written the values are to be: ${either(REDUCTIONS.map(String))}.`
  return { ok: false, problems: [wrong("--reduction", `“${text}” is no reduction.`, mend, "bad-reduction")] }
}

function wrong(place: string, what: string, mend: string, code = "bad-convention"): Problem {
  return { code, what, where: { place }, mend, severity: "error" }
}

const done = <T>(value: T): Result<T> => ({ ok: true, value, problems: [] })

/** Clefs asked for a voice that the piece does not have. */
export function clefsOfNobody(
  { clefs }: EditionConventions,
  voices: readonly { readonly label: string; readonly n: string }[],
): Problem[] {
  const names = new Set(voices.flatMap(({ label, n }) => [label.toLowerCase(), n]))
  return Object.keys(clefs.voices)
    .filter(name => !names.has(name))
    .map(name =>
      wrong("--clef", `There is no voice “${name}”.`, `The voices are ${either(voices.map(({ label }) => label))}.`),
    )
}

/** The styles, each with what it has that is not usual. */
export function listStyles(shell: Shell): void {
  HOUSE_STYLES.forEach((style, i) => {
    if (i > 0) shell.out("")
    shell.out(`${style.name}${i === 0 ? " (unless another is asked for)" : ""}`)
    shell.out(`  ${style.description}`)
    for (const line of unusual(style)) shell.out(`  ${line}`)
  })
}

function unusual({ conventions }: HouseStyle): string[] {
  const lines = CONVENTIONS.filter(({ name }) => conventions[name] !== USUAL_CONVENTIONS[name]).map(
    ({ name, choices }) => {
      const short = choices.find(({ value }) => value === conventions[name])!.short
      return `${flagOf(name)} ${conventions[name]}: ${short}`
    },
  )
  return conventions.reduction === "usual" ? lines : [...lines, `--reduction ${conventions.reduction}`]
}
