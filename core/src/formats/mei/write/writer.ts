/** What the writing of a new file needs to know of the whole page, and what all signs write alike. */
import type { Alternative, Page, Sign } from "../../../page/index.js"
import type { XmlElement, XmlValue } from "../../xml.js"
import { CARRIED } from "../read/common.js"
import { isName, toName, token } from "../tokens.js"

export type Attributes = Record<string, XmlValue>

/** A stretch of a run for which the page has other readings. */
export interface ChoiceHere {
  readonly count: number
  /** Writes the stretch, each sign with whether an oblique body ends on it, and the other readings beside it. */
  write(run: readonly (readonly [Sign, boolean])[]): XmlElement
}

/** The other readings of a page. */
export interface ChoicesOfPage {
  /** What begins at this sign of the run. */
  at(signs: readonly Sign[], at: number): ChoiceHere | undefined
  /** One that has no place among the signs. */
  alone(one: Alternative): XmlElement
  /** Signs that have other readings beside them. */
  readonly bound: ReadonlySet<string>
  /** Those that stand in an element now, in order. */
  readonly written: readonly Alternative[]
}

/** The id of a local shape's definition, where no file has given it one. */
export function newSymbolId(page: Page, name: string): string {
  return `shape-${page.shapes.findIndex(shape => shape.name === name) + 1}`
}

export class Writer {
  /** symbolDef ids by the name of the shape; those that a file has already are known. */
  readonly symbols: ReadonlyMap<string, string>

  /** Signs that a decision points to. */
  private readonly pointedTo: ReadonlySet<string>

  /** `natural` holds the ids that a reader gives by itself, so that it need not be written. */
  constructor(
    readonly page: Page,
    private readonly natural: { has(id: string): boolean },
    readonly choices: ChoicesOfPage,
    known: ReadonlyMap<string, string> = new Map(),
  ) {
    this.pointedTo = new Set(page.decisions?.map(one => one.sign))
    this.symbols = new Map(page.shapes.map(({ name }) => [name, known.get(name) ?? newSymbolId(page, name)]))
  }

  /** Attributes of any sign: its id, zone and whatever else it carries, with the words of its type. */
  common(sign: Sign, name: string, tokens: readonly string[] = []): Attributes {
    const words = [...tokens]
    const carried: Attributes = {}
    for (const [key, value] of Object.entries(sign.extra ?? {})) {
      const plain = key.startsWith("mei:") ? key.slice(4) : ""
      if (CARRIED[name]?.includes(plain)) carried[plain] = value
      else words.push(token("extra", key, value))
    }
    // the schema lets no region be named there
    const isUnplaced = name === "pad"
    if (isUnplaced && sign.zone !== undefined) words.push(token("zone", sign.zone))
    const id = this.idOf(sign)
    if (id === undefined && !this.natural.has(sign.id) && sign.id) words.push(token("id", sign.id))
    return {
      "xml:id": id,
      facs: sign.zone === undefined || isUnplaced ? undefined : `#${toName(sign.zone)}`,
      ...carried,
      type: words.length > 0 ? words.join(" ") : undefined,
    }
  }

  /** The xml:id that the sign is written with; undefined when its id is no XML name and nothing must point to it. */
  idOf(sign: Sign): string | undefined {
    return isName(sign.id) || this.pointedTo.has(sign.id) ? toName(sign.id) : undefined
  }

  /** A special shape as attributes and words of the type. */
  shape(name: string | undefined): { attributes: Attributes; tokens: string[] } {
    if (name === undefined) return { attributes: {}, tokens: [] }
    const symbol = this.symbols.get(name)
    if (symbol !== undefined) return { attributes: { altsym: `#${symbol}` }, tokens: [] }
    if (name === "dragma") return { attributes: SMUFL_DRAGMA, tokens: ["dragma"] }
    if (/^mensural[A-Z]\w*$/.test(name))
      return { attributes: { "glyph.auth": "smufl", "glyph.name": name }, tokens: [] }
    return { attributes: {}, tokens: [token("shape", name)] }
  }
}

const SMUFL_DRAGMA: Attributes = { "glyph.auth": "smufl", "glyph.num": "U+E95A", "glyph.name": "mensuralBlackDragma" }
