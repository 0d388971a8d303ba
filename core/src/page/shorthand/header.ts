/** Lines that are not music: what they say, both ways. */
import { fromText, toText, voiceId, type SignId } from "../../base/index.js"
import type { Alternative, LocalShape, Surface, Voice, Zone } from "../page.js"
import { ABBREVIATIONS } from "../level.js"
import type { Editorial } from "../signs.js"
import { EDITORIAL_KINDS, readEditorial, writeEditorial } from "./properties-common.js"
import { record, writeRecord } from "./property.js"
import { excerpt, type Reporter } from "./reporter.js"
import { inBrackets, LARGEST, pair, quote, readWhole, type Term } from "./tokens.js"
import { levelOf } from "./words.js"

export const DEFAULT_LINES = 5
const MOST_LINES = 99
/** Edges of regions, in pixels. */
const FARTHEST = 999_999

/** A line such as `zone z1 on=s1 box=(0 0 9 9)`, taken word by word; what is left at the end is reported. */
export class Words {
  private readonly left: Term[]
  constructor(
    readonly keyword: string,
    words: readonly Term[],
    readonly at: number,
    private readonly report: Reporter,
  ) {
    this.left = [...words]
  }

  /** The first word if it has no value: the name of what the line is about. */
  name(): string | undefined {
    const first = this.left[0]
    return first && first.value === undefined && !first.args ? this.left.shift()?.name : undefined
  }
  has(name: string): boolean {
    return this.left.some(word => word.name === name && !word.quoted)
  }
  take(name: string): Term | undefined {
    const index = this.left.findIndex(word => word.name === name && !word.quoted)
    return index < 0 ? undefined : this.left.splice(index, 1)[0]
  }
  /** All words of these names, in order. */
  takeAll(...names: readonly string[]): Term[] {
    const all = this.left.filter(word => names.includes(word.name) && !word.quoted)
    for (const word of all) this.left.splice(this.left.indexOf(word), 1)
    return all
  }
  text(name: string): string | undefined {
    const word = this.take(name)
    if (word && !word.value) this.bad(word, `${name}="…"`)
    return word?.value || undefined
  }
  /** A whole number. */
  number(name: string, least: number, most: number): number | undefined {
    const word = this.take(name)
    const number = readWhole(word?.value, least, most)
    if (word && number === undefined) this.bad(word, `${name}=5, a whole number from ${least} to ${most}.`)
    return number
  }
  /** One of several words that stand for themselves. */
  oneOf<T extends string>(names: readonly T[]): T | undefined {
    const found = names.map(name => [name, this.take(name)] as const).filter(([, word]) => word)
    return found[0]?.[0]
  }
  box(): Zone["box"] | undefined {
    const word = this.take("box")
    const numbers = word?.args?.map(one => readWhole(one.name, -FARTHEST, FARTHEST)) ?? []
    if (word && (numbers.length !== 4 || numbers.includes(undefined))) {
      this.bad(word, "box=(left top right bottom), in whole pixels.")
      return undefined
    }
    return word && (numbers as unknown as Zone["box"])
  }
  bad(word: Term, form: string): void {
    this.report.error(
      word.from,
      "bad-word",
      `"${excerpt(word.name)}" is not said in the way it must be.`,
      `Write ${form}`,
    )
  }
  /** Reports that something needed is missing. */
  missing(what: string, form: string, subject = this.keyword): void {
    this.report.error(this.at, "incomplete-line", `This ${subject} has no ${what}.`, `Write it like this: ${form}`)
  }
  end(known: string): void {
    for (const word of this.left)
      this.report.error(
        word.from,
        "unknown-word",
        `A line that begins with ${this.keyword} has no "${excerpt(word.name)}".`,
        `It may have: ${known}`,
      )
  }
}

type VoiceHead = Omit<Voice, "signs">
const VOICE = "voice triplum n=1 black lines=5 colour=red practice=ars-nova(minims=written) id=…"

/** `number`: which voice of the page it is, from 1. */
export function readVoice(words: Words, number: number): VoiceHead {
  const label = words.name()
  const n = words.text("n") ?? String(number)
  const notation = words.oneOf(["black", "white", "unknown"]) ?? "unknown"
  const lines = words.number("lines", 1, MOST_LINES) ?? DEFAULT_LINES
  const staffColour = words.text("colour")
  const id = words.text("id") ?? n
  const practice = readPractice(words)
  words.end(VOICE)
  return {
    id: voiceId(id),
    n,
    label: label || n,
    lines,
    ...(staffColour !== undefined && { staffColour }),
    notation,
    ...(practice && { practice }),
  }
}
function readPractice(words: Words): Voice["practice"] {
  const word = words.take("practice")
  const options = record(word?.args ?? [])
  if (word && (!word.value || !options)) words.bad(word, "practice=ars-nova(minims=written)")
  return !word?.value ? undefined : { name: word.value, options: options ?? {} }
}
export function writeVoice(voice: VoiceHead, number: number): string {
  const { n, id, label, lines, staffColour, notation, practice } = voice
  return [
    "voice",
    quote(label),
    ...(n === String(number) ? [] : [pair("n", n)]),
    ...(notation === "unknown" ? [] : [notation]),
    ...(lines === DEFAULT_LINES ? [] : [pair("lines", lines)]),
    ...(staffColour === undefined ? [] : [pair("colour", staffColour)]),
    ...(practice ? [pair("practice", practice.name) + inBrackets(writeRecord(practice.options))] : []),
    ...((id as string) === n ? [] : [pair("id", id)]),
  ].join(" ")
}

type AlternativeHead = Omit<Alternative, "signs">
const ALTERNATIVE = "alternative rdg for=(k1 k2) in=1 by=rdg(source=srcB) id=…"
const WHAT = ["sic", "rdg", "orig", "corr", "reg", "lem"] as const

/** The editorial hand that goes without saying. */
function usualHand(what: Alternative["what"]): Editorial {
  return { kind: EDITORIAL_KINDS.find(kind => kind === what) ?? "rdg" }
}

type VoiceName = Pick<Voice, "id" | "n"> | undefined
/** What the ids of an alternative's signs begin with: the number of its voice and its own number on the page. */
export function alternativePrefix(voice: VoiceName, number: number): string {
  return `${voice?.n ?? ""}.${number}`
}
const usualId = (voice: VoiceName, number: number) => `${voice?.n ?? ""}.alternative.${number}`

/**
 * `number`: which alternative of the page it is, from 1; `voices`: those that precede it, in the last of which it
 * stands unless it names another.
 */
export function readAlternative(words: Words, number: number, voices: readonly VoiceHead[]): AlternativeHead {
  const what = words.oneOf(WHAT)
  if (!what) words.missing("kind", ALTERNATIVE)
  const instead = words.take("for")
  const insteadOf =
    instead?.args?.map(({ name }) => name as SignId) ?? (instead?.value ? [instead.value as SignId] : [])
  if (!instead) words.missing("sign that it replaces", ALTERNATIVE)
  const hand = words.take("by")
  const editorial = hand && readEditorial({ ...hand, name: hand.value ?? "" })
  if (hand && !editorial) words.bad(hand, "by=rdg(resp=… cert=… reason=… source=…)")
  const within = words.text("in")
  const voice = within === undefined ? voices.at(-1) : voices.find(({ id }) => id === within)
  const id = words.text("id") ?? usualId(voice, number)
  words.end(ALTERNATIVE)
  return {
    id,
    voice: voiceId(within ?? voice?.id ?? ""),
    insteadOf,
    editorial: editorial ?? usualHand(what ?? "rdg"),
    what: what ?? "rdg",
  }
}
/** `voice`: the one it stands in; `last`: the one it would stand in if it named none. */
export function writeAlternative(
  alternative: AlternativeHead,
  number: number,
  voice: VoiceName,
  last: VoiceName,
): string {
  const { id, what, insteadOf, editorial } = alternative
  const hand = writeEditorial(editorial)
  return [
    "alternative",
    what,
    `for=${insteadOf.length === 1 ? quote(insteadOf[0] as string) : `(${insteadOf.map(quote).join(" ")})`}`,
    ...(alternative.voice === (last?.id ?? "") ? [] : [pair("in", alternative.voice)]),
    ...(hand === writeEditorial(usualHand(what)) ? [] : [`by=${hand}`]),
    ...(id === usualId(voice, number) ? [] : [pair("id", id)]),
  ].join(" ")
}

const SHAPE = 'shape dragma level=S count=4 minims=7 glyph=… description="…"'
export function readShape(words: Words): LocalShape | undefined {
  const name = words.name()
  if (name === undefined) words.missing("name", SHAPE)
  const level = words.take("level")
  const levelRead = levelOf(level?.value ?? "") ?? undefined
  if (level && !levelRead) words.bad(level, "level=S")
  const count = words.number("count", 1, LARGEST)
  const minims = words.take("minims")
  const minimsRead = fromText(minims?.value ?? "")
  if (minims && !minimsRead) words.bad(minims, "minims=7 or minims=7/2")
  const glyph = words.text("glyph")
  const description = words.text("description")
  words.end(SHAPE)
  if (name === undefined) return undefined
  return {
    name,
    ...(description !== undefined && { description }),
    ...(levelRead && { level: levelRead }),
    ...(count !== undefined && { count }),
    ...(minimsRead && { minims: minimsRead }),
    ...(glyph !== undefined && { glyph }),
  }
}
export function writeShape({ name, description, level, count, minims, glyph }: LocalShape): string {
  return [
    "shape",
    quote(name),
    ...(level ? [pair("level", ABBREVIATIONS[level])] : []),
    ...(count === undefined ? [] : [pair("count", count)]),
    ...(minims ? [pair("minims", toText(minims))] : []),
    ...(glyph === undefined ? [] : [pair("glyph", glyph)]),
    ...(description === undefined ? [] : [pair("description", description)]),
  ].join(" ")
}

const SURFACE = 'surface s1 label="f. 1r" image="f1r.jpg" box=(0 0 1000 1400)'
export function readSurface(words: Words): Surface | undefined {
  const id = words.name()
  if (id === undefined) words.missing("id", SURFACE)
  const label = words.text("label")
  const image = words.text("image")
  const box = words.box()
  words.end(SURFACE)
  if (id === undefined) return undefined
  return { id, ...(label !== undefined && { label }), ...(image !== undefined && { image }), ...(box && { box }) }
}
export function writeSurface({ id, label, image, box }: Surface): string {
  return [
    "surface",
    quote(id),
    ...(label === undefined ? [] : [pair("label", label)]),
    ...(image === undefined ? [] : [pair("image", image)]),
    ...(box ? [writeBox(box)] : []),
  ].join(" ")
}

const ZONE = "zone z1 on=s1 box=(100 120 900 220)"
export function readZone(words: Words): Zone | undefined {
  const id = words.name()
  const surface = words.text("on")
  const box = words.box()
  if (id === undefined) words.missing("id", ZONE)
  if (surface === undefined) words.missing("surface", ZONE)
  if (!box) words.missing("box", ZONE)
  words.end(ZONE)
  return id === undefined || surface === undefined || !box ? undefined : { id, surface, box }
}
export function writeZone({ id, surface, box }: Zone): string {
  return ["zone", quote(id), pair("on", surface), writeBox(box)].join(" ")
}
const writeBox = (box: Zone["box"]) => `box=(${box.join(" ")})`

const PERSON = 'person ed "The editor"'
export function readPerson(words: Words): readonly [id: string, name: string] | undefined {
  const id = words.name()
  const name = words.name()
  if (!id || !name) words.missing(id ? "name" : "id", PERSON)
  words.end(PERSON)
  return id && name ? [id, name] : undefined
}
export function writePerson(id: string, name: string): string {
  return `person ${quote(id)} ${quote(name)}`
}
