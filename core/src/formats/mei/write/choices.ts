/** Readings that stand in the file beside the chosen one, written back as app and choice. */
import { everySign, type Alternative, type Editorial, type Page, type Sign } from "../../../page/index.js"
import { element, type XmlElement } from "../../xml.js"
import { token, UNMARKED } from "../tokens.js"
import { handAttributes } from "./signs.js"
import type { ChoiceHere } from "./writer.js"

/** Alternatives for the same signs. */
type Group = readonly Alternative[]

/** How what stands in a choice is written. */
export interface ChoiceWriting {
  /** A sign alone, with its editor's element or bare; `bodyEnd`: an oblique body ends on it. */
  one(sign: Sign, bare: boolean, bodyEnd: boolean): XmlElement[]
  run(signs: readonly Sign[]): XmlElement[]
}

/** All choices of a page, and which alternatives have been written, in the order in which a reader meets them. */
export class Choices {
  readonly written: Alternative[] = []
  readonly bound: ReadonlySet<string>
  /** By the id of the first sign, those of more signs first: others stand within them. */
  private readonly groups = new Map<string, Group[]>()
  private readonly places: ReadonlyMap<Alternative, number>

  /** `numbered`: each alternative says its place among all. */
  constructor(
    page: Page,
    private readonly writing: ChoiceWriting,
    private readonly numbered = false,
  ) {
    this.places = new Map(page.alternatives.map((one, index) => [one, index + 1]))
    this.bound = new Set(page.alternatives.flatMap(one => one.insteadOf))
    const voices = voicesOf(page)
    for (const one of page.alternatives)
      if (one.insteadOf.length > 0 && one.insteadOf.every(id => voices.get(id) === one.voice)) this.gather(one)
    for (const all of this.groups.values()) all.sort((a, b) => b[0]!.insteadOf.length - a[0]!.insteadOf.length)
  }

  private gather(one: Alternative): void {
    const all = this.groups.get(one.insteadOf[0]!) ?? []
    const at = all.findIndex(([other]) => sameIds(other!.insteadOf, one.insteadOf))
    if (at < 0) all.push([one])
    else all[at] = [...all[at]!, one]
    this.groups.set(one.insteadOf[0]!, all)
  }

  /** The choice that begins at this sign, when all it is about stand together in this run; not one of `around`. */
  at(signs: readonly Sign[], at: number, around: ReadonlySet<Group> = NONE): ChoiceHere | undefined {
    const group = this.groups
      .get(signs[at]!.id)
      ?.find(one => !around.has(one) && one[0]!.insteadOf.every((id, i) => signs[at + i]?.id === id))
    if (!group) return undefined
    const inner = new Set([...around, group])
    return { count: group[0]!.insteadOf.length, write: run => this.choice(run, group, inner) }
  }

  private choice(run: readonly (readonly [Sign, boolean])[], group: Group, around: ReadonlySet<Group>): XmlElement {
    const signs = run.map(([sign]) => sign)
    const content = (bare: boolean): XmlElement[] => {
      const elements: XmlElement[] = []
      for (let i = 0; i < run.length;) {
        const inner = this.at(signs, i, around)
        elements.push(
          ...(inner ? [inner.write(run.slice(i, i + inner.count))] : this.writing.one(signs[i]!, bare, run[i]![1])),
        )
        i += inner?.count ?? 1
      }
      return elements
    }
    const writing = {
      chosen: signs,
      alternatives: group,
      content,
      side: (name: string, one: Alternative) => this.side(name, one),
    }
    const before = this.written.length
    const simple = simpleXml(writing)
    // the schema has no app within a choice
    if (simple && !holdsApp(simple)) return simple
    this.written.length = before
    return appXml(writing)
  }

  /** An alternative to signs that do not stand together, or to none; `name` is that of the signs where there are any. */
  alone(one: Alternative): XmlElement {
    const words = [
      ...(one.insteadOf.length > 0 ? [token("instead", ...one.insteadOf)] : []),
      ...(one.signs.length > 0 ? [] : [token("voice", one.voice)]),
    ]
    return element("app", {}, element("lem"), this.side("rdg", one, words))
  }

  private side(name: string, one: Alternative, words: readonly string[] = []): XmlElement {
    const inside = this.writing.run(one.signs)
    this.written.push(one)
    const all = [
      ...words,
      ...(one.what === name ? [] : [token("what", one.what)]),
      ...(this.numbered ? [token("place", this.places.get(one)!)] : []),
    ]
    return element(name, handAttributes(name, one.editorial, one.id, all), ...inside)
  }
}
const NONE: ReadonlySet<Group> = new Set()

/** In which voice each sign stands. */
function voicesOf(page: Page): Map<string, string> {
  const voices = new Map<string, string>()
  for (const { id, signs } of page.voices) for (const sign of everySign(signs)) voices.set(sign.id, id)
  for (const { voice, signs } of page.alternatives) for (const sign of everySign(signs)) voices.set(sign.id, voice)
  return voices
}

const sameIds = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((id, i) => id === b[i])

interface Writing {
  readonly chosen: readonly Sign[]
  readonly alternatives: Group
  /** The chosen signs with their editor's elements, or bare. */
  readonly content: (bare: boolean) => XmlElement[]
  readonly side: (name: string, one: Alternative) => XmlElement
}

/** As a correction of what stands there, or its regular form; undefined for all other choices. */
function simpleXml({ chosen, alternatives, content, side }: Writing): XmlElement | undefined {
  const hand = sharedHand(chosen)
  const whats = new Set(alternatives.map(one => one.what))
  const sides = (name: string): XmlElement[] => alternatives.map(one => side(name, one))
  if (hand?.kind === "corr" && whats.size === 1 && whats.has("sic")) {
    const corr = element("corr", handAttributes("corr", hand), ...content(true))
    return element("choice", {}, ...sides("sic"), corr)
  }
  if (whats.size === 1 && whats.has("reg") && chosen.every(sign => !sign.editorial))
    return element("choice", {}, element("orig", {}, ...content(false)), ...sides("reg"))
  return undefined
}

function appXml({ chosen, alternatives, content, side }: Writing): XmlElement {
  const hand = sharedHand(chosen)
  const name = hand?.kind === "rdg" ? "rdg" : "lem"
  const bare = hand?.kind === name
  const unmarked = chosen.some(sign => !sign.editorial)
  const attributes = bare ? handAttributes(name, hand) : unmarked ? { type: UNMARKED } : {}
  const first = element(name, attributes, ...content(bare))
  return element("app", {}, first, ...alternatives.map(one => side("rdg", one)))
}

const holdsApp = ({ name, children }: XmlElement): boolean =>
  name === "app" || children.some(child => typeof child !== "string" && holdsApp(child))

/** The editor's hand that all these signs share. */
function sharedHand(signs: readonly Sign[]): Editorial | undefined {
  const first = signs[0]?.editorial
  const same = JSON.stringify(first)
  return signs.every(sign => JSON.stringify(sign.editorial) === same) ? first : undefined
}
