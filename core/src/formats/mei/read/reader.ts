/** What is known while a document is read, and how doubtful attributes are reported. */
import { table } from "../table.js"
import type { Problem, Rational } from "../../../base/index.js"
import type { Alternative, Editorial, LocalShape, Sign, Voice } from "../../../page/index.js"
import { LEVELS, type Level } from "../../../page/index.js"
import { fromName } from "../tokens.js"
import { attribute, type XmlElement } from "../xml.js"

/** A voice while it is read. Its signs get their ids, where the document has none, when all are there. */
export interface VoiceDraft extends Omit<Voice, "id" | "signs"> {
  readonly id: string
  readonly signs: Sign[]
  /** Where the next sign goes: `signs`, the members of a ligature, or the signs of a reading that was not chosen. */
  sink: Sign[]
  /** How many of the reader's events this voice has met. */
  met: number
  /** Not mensural: its staves are passed over. */
  readonly passedOver: boolean
  defaultLevel?: Level
  readonly defaultOctave?: number
  /** The definitions from which its attributes came, nearest first. */
  readonly definitions: readonly XmlElement[]
  /** Its staves and layers, in document order. */
  readonly staves: XmlElement[]
  readonly layers: XmlElement[]
}

/** Where a sign came from: an element, or some attributes of the definition of a voice. */
export interface Source {
  readonly element: XmlElement
  readonly attributes?: readonly string[]
  /** The figure that belongs to a mensuration sign. */
  readonly also?: XmlElement
}

/** Something between staves that belongs to every voice that goes on after it. */
export interface Event {
  readonly element: XmlElement
  readonly scope: string
  /** Only for the voice with this number. */
  readonly n?: string
  apply(reader: Reader, voice: VoiceDraft): void
}

/** An alternative whose ids are not known yet. */
export interface AlternativeDraft extends Omit<Alternative, "id" | "insteadOf" | "voice" | "signs"> {
  readonly id: string
  readonly voice: VoiceDraft
  readonly insteadOf: readonly Sign[]
  /** Where the signs are named, since they do not stand together. */
  readonly insteadOfIds?: readonly string[]
  /** Which one of all it is, where they do not stand in their order. */
  readonly place?: number
  readonly signs: readonly Sign[]
  readonly element: XmlElement
}

/** A mark that points to its sign by id. */
export interface PointingMark {
  readonly element: XmlElement
  /** The voice in which it stands, where the sign is not found. */
  readonly voice?: VoiceDraft
}

const MOST_PROBLEMS = 200

export class Reader {
  readonly problems: Problem[] = []
  /** By scope ("" or the number of the part) and staff number. */
  readonly voices = new Map<string, VoiceDraft>()
  readonly shapes = new Map<string, LocalShape>()
  readonly events: Event[] = []
  readonly alternatives: AlternativeDraft[] = []
  readonly marks: PointingMark[] = []
  readonly fermatas: XmlElement[] = []
  /** By id: where each verse stands first. */
  readonly verses = new Map<string, XmlElement>()
  /** The annotations of the decisions that were read, in order. */
  readonly decisions: XmlElement[] = []
  readonly sources = new Map<Sign, Source>()
  /** The editor's hand on what is being read. */
  editorial: Editorial | undefined
  /** A ligature is being read: there a note may leave its level to the drawn shape. */
  inLigature = false
  /** Which part is being read, where each has its own score; "" otherwise. */
  scope = ""
  private silenced = 0

  constructor(
    readonly root: XmlElement,
    readonly file?: string,
  ) {}

  /** Adds the sign to its voice; remembers where it came from. */
  add<T extends Sign>(voice: VoiceDraft, sign: T, element: XmlElement, attributes?: readonly string[]): T {
    const full = this.editorial && !sign.editorial ? { ...sign, editorial: this.editorial } : sign
    voice.sink.push(full)
    this.sources.set(full, { element, attributes })
    return full
  }

  /** Puts `changed` in the place of the voice's last sign. */
  replace(voice: VoiceDraft, sign: Sign, changed: Sign, also?: XmlElement): void {
    voice.sink[voice.sink.length - 1] = changed
    this.passOn(sign, changed, also)
  }

  /** `changed` came from where `sign` did. */
  passOn(sign: Sign, changed: Sign, also?: XmlElement): void {
    const source = this.sources.get(sign)
    this.sources.delete(sign)
    if (source) this.sources.set(changed, also ? { ...source, also } : source)
  }

  report(code: string, what: string, mend: string, element: XmlElement, severity?: Problem["severity"]): void {
    if (this.problems.length === MOST_PROBLEMS) {
      this.silenced++
      return
    }
    const sign = attribute(element, "xml:id")
    const where = { file: this.file, line: element.lineNumber, column: element.columnNumber, sign }
    this.problems.push({ code, what, where, mend, severity })
  }

  /** All problems, with a last one that counts those that were too many. */
  allProblems(): Problem[] {
    if (this.silenced === 0) return this.problems
    const what = `There are ${this.silenced} more problems of this kind in the file.`
    return [
      ...this.problems,
      { code: "more-problems", what, mend: "Mend the ones above first.", where: { file: this.file } },
    ]
  }

  /** The attribute's value if it is one of those allowed; anything else is reported and left out. */
  oneOf<T extends string>(element: XmlElement, name: string, allowed: readonly T[]): T | undefined {
    const value = attribute(element, name)
    if (value === undefined || (allowed as readonly string[]).includes(value)) return value as T | undefined
    this.impossible(element, name, value, allowed.join(", "))
    return undefined
  }

  /** A whole number within limits; anything else is reported and left out. */
  whole(element: XmlElement, name: string, min: number, max: number): number | undefined {
    const value = attribute(element, name)
    if (value === undefined) return undefined
    const number = /^[+-]?\d{1,6}$/.test(value) ? Number(value) : Number.NaN
    if (number >= min && number <= max) return number
    this.impossible(element, name, value, `a whole number from ${min} to ${max}`)
    return undefined
  }

  /** A length in staff spaces, with or without "vu" after it. */
  length(element: XmlElement, name: string): number | undefined {
    const value = attribute(element, name)
    if (value === undefined) return undefined
    const found = /^\+?(\d{1,4}(?:\.\d{1,6})?)(?:vu)?$/.exec(value)
    if (!found) this.impossible(element, name, value, "a number of staff spaces")
    return found ? Number(found[1]) : undefined
  }

  flag(element: XmlElement, name: string): boolean | undefined {
    const value = this.oneOf(element, name, ["true", "false"])
    return value === undefined ? undefined : value === "true"
  }

  level(element: XmlElement, name: string): Level | undefined {
    const value = attribute(element, name)?.toLowerCase()
    if (value === undefined) return undefined
    const level = MODERN_NAMES[value] ?? value
    if (value !== level)
      this.report(
        "modern-level",
        `${name}="${value}" is a modern note value; it is read as ${level}.`,
        `Write ${name}="${level}".`,
        element,
      )
    if ((LEVELS as readonly string[]).includes(level)) return level as Level
    this.impossible(element, name, value, LEVELS.join(", "))
    return undefined
  }

  impossible(element: XmlElement, name: string, value: string, allowed: string): void {
    this.report(
      "impossible-attribute",
      `${name}="${value.slice(0, 60)}" on <${element.nodeName}> is not possible; it is left out.`,
      `Write ${allowed}.`,
      element,
    )
  }
}

/** Values of common notation that stand in some mensural files. */
const MODERN_NAMES = table<Level>({
  long: "longa",
  breve: "brevis",
  "1": "semibrevis",
  "2": "minima",
  "4": "semiminima",
  "8": "fusa",
  "16": "semifusa",
})

/** "#z1" gives "z1"; the first of several. */
export function pointer(element: XmlElement, name: string): string | undefined {
  const first = attribute(element, name)?.split(/\s+/)[0]
  return first === undefined ? undefined : fromName(first.replace(/^#/, "")) || undefined
}

/** A rational from the parts of a token ("1", "3"); undefined when they are no such numbers. */
export function rationalFrom(
  parts: readonly string[] | undefined,
  make: (num: number, den: number) => Rational,
): Rational | undefined {
  if (!parts || !/^\d{1,6}$/.test(parts[0] ?? "") || !/^[1-9]\d{0,5}$/.test(parts[1] ?? "1")) return undefined
  return make(Number(parts[0]), Number(parts[1] ?? 1))
}

/** Without the members that are undefined, so that equal pages are equal as JSON too. */
export function trim<T extends object>(value: T): T {
  const kept: Record<string, unknown> = {}
  for (const [key, one] of Object.entries(value)) if (one !== undefined) kept[key] = one
  return kept as T
}
