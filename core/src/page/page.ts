/**
 * The page: voices with their signs in the order written, and what the source and its editors say beside them.
 * Everything is a value; an edit makes a new value and keeps what it did not touch.
 */
import type { Rational, SignId, VoiceId } from "../base/index.js"
import type { Decision } from "./decision.js"
import type { Level } from "./level.js"
import type { Editorial, Sign } from "./signs.js"
import type { Years } from "./years.js"

/** A shape whose value holds for this piece or voice only. */
export interface LocalShape {
  readonly name: string
  readonly description?: string
  /** Written level whose place it takes. */
  readonly level?: Level
  /** `count` of these last `minims` minims together (four for seven: count 4, minims 7). */
  readonly count?: number
  readonly minims?: Rational
  readonly glyph?: string
}

/** One voice: its signs in the order written, from its first staff to its last. */
export interface Voice {
  readonly id: VoiceId
  readonly n: string
  /** "triplum"; falls back to the number. */
  readonly label: string
  readonly lines: number
  readonly staffColour?: string
  readonly notation: "black" | "white" | "unknown"
  /** What the file says of the practice: "ars.antiqua" comes in as { name: "ars-antiqua" }. */
  readonly practice?: { readonly name: string; readonly options: Readonly<Record<string, string>> }
  readonly signs: readonly Sign[]
}

/** A part of a photograph in which a sign stands; the box is in pixels of its surface. */
export interface Zone {
  readonly id: string
  readonly surface: string
  readonly box: readonly [left: number, top: number, right: number, bottom: number]
}
/** A photograph, or a page without one. */
export interface Surface {
  readonly id: string
  readonly label?: string
  readonly image?: string
  readonly box?: readonly [number, number, number, number]
}

/** Readings that stand in the file beside the chosen one; they can be asked for by the id of the chosen sign. */
export interface Alternative {
  readonly id: string
  readonly voice: VoiceId
  /** Signs that were chosen, which this one would replace. */
  readonly insteadOf: readonly SignId[]
  readonly editorial: Editorial
  readonly what: "sic" | "rdg" | "orig" | "corr" | "reg" | "lem"
  readonly signs: readonly Sign[]
}

/** A piece as it is written: its voices, and what belongs to them all. */
export interface Page {
  readonly title: string
  /** When the piece was made, and its source copied, as the file says it; undefined where it says neither. */
  readonly years?: Years
  readonly voices: readonly Voice[]
  readonly shapes: readonly LocalShape[]
  readonly surfaces: readonly Surface[]
  readonly zones: readonly Zone[]
  readonly alternatives: readonly Alternative[]
  /** In the order they were made; undefined when there are none. */
  readonly decisions?: readonly Decision[]
  /** Editors and sources by id, as the file names them. */
  readonly people?: Readonly<Record<string, string>>
}
