/** The signs: what the eye sees of each. Nothing here says how long anything lasts. */
import type { Rational, SignId } from "../base/index.js"
import type { Level } from "./level.js"

export type Step = "a" | "b" | "c" | "d" | "e" | "f" | "g"
/** A pitch as written; what accidentals are in force is for the reading to find out. */
export interface Pitch {
  readonly step: Step
  /** 4 holds the middle c. */
  readonly octave: number
}
/** As MEI writes it: s, f, n, and rarer ones (x, ff). */
export type Accidental = string

export type Coloration =
  /** in the ordinary ink and filling of the voice */
  | "none"
  | "red"
  /** red and void together */
  | "red-void"
  /** void where black is ordinary */
  | "void"
  /** black where void is ordinary */
  | "black"
  /** another ink (blue, green), or colored without saying how */
  | "other"
  /** one half of the head coloured */
  | "half-left"
  | "half-right"
  | "half-top"
  | "half-bottom"

export interface Stem {
  readonly direction: "up" | "down" | "left" | "right" | "ne" | "nw" | "se" | "sw"
  readonly position?: "left" | "right" | "center"
  /** In staff spaces. */
  readonly length?: number
  /** "oblique" is the slanting tail. */
  readonly form?: string
  readonly flag?: { readonly position?: string; readonly form?: string }
}

export interface Plica {
  /** undefined: MEI's plica without a direction */
  readonly direction?: "up" | "down"
  readonly strokes?: 1 | 2
  readonly length?: number
}

export interface Syllable {
  /** Number of the stanza, from 1. */
  readonly stanza: number
  readonly text: string
  /** What follows: "-" more of the word, " " a new word, "_" an extender, "~" elision. */
  readonly join: "-" | " " | "_" | "~"
  readonly italic?: boolean
}

/** Durations that a file carries explicitly: the encoder's decision, not what stands on the page. */
export interface Given {
  readonly quality?: "perfecta" | "imperfecta" | "altera" | "minor" | "maior"
  /** MEI's num/numbase: a note with num 3, numbase 2 lasts two thirds of its written value. */
  readonly num?: number
  readonly numbase?: number
}

/** An editor's hand on a sign: MEI's supplied, unclear, corr, or an alternative that was not chosen. */
export interface Editorial {
  readonly kind: "supplied" | "unclear" | "corr" | "lem" | "rdg" | "reg" | "add"
  readonly resp?: string
  readonly cert?: string
  readonly reason?: string
  readonly source?: string
}

interface SignBase {
  readonly id: SignId
  /** Id of the zone of the photograph in which the sign stands. */
  readonly zone?: string
  readonly editorial?: Editorial
  /** Anything else a format wants to carry along; not read by the theory. Keys belong to the format. */
  readonly extra?: Readonly<Record<string, string>>
}

/** A single note, or a note of a ligature. */
export interface Note extends SignBase {
  readonly kind: "note"
  /** Undefined only inside a ligature whose drawn shape says it. */
  readonly level?: Level
  readonly pitch?: Pitch
  /** Written with the note. */
  readonly accidental?: Accidental
  /** The accidental was added by an editor (MEI accid@func="edit"). */
  readonly accidentalByEditor?: boolean
  /** Accidental in force though not written here (MEI accid.ges), where the file says it. */
  readonly accidentalInForce?: Accidental
  readonly coloration: Coloration
  /** Only stems that carry meaning or were recorded; the ordinary stem of the shape is not listed. */
  readonly stems: readonly Stem[]
  readonly plica?: Plica
  /** Body one and a half cells wide with the value of two longs (MEI dur.quality="duplex" on a longa). */
  readonly duplex?: boolean
  /** Head drawn twice as wide; in a ligature it makes a maxima. */
  readonly wide?: boolean
  /** In a ligature: this note begins an oblique body that ends on the next note. */
  readonly oblique?: boolean
  /** In a ligature: head placed straight over the one before ("over") or beside it. */
  readonly head?: "over" | "beside"
  /** Name of a local shape (dragma and its kin), or of one defined in `Page.shapes`. */
  readonly shape?: string
  readonly fermata?: boolean
  readonly syllables: readonly Syllable[]
  readonly given?: Given
}

/** A rest: a stroke over some spaces, or a sign of its level. */
export interface Rest extends SignBase {
  readonly kind: "rest"
  /** Undefined when only the length of the stroke is known. */
  readonly level?: Level
  /** Length of the stroke in staff spaces (1/3 … 4). */
  readonly spaces?: Rational
  /** Height on the staff (MEI loc, steps above the bottom line). */
  readonly loc?: number
  readonly coloration: Coloration
  readonly fermata?: boolean
  /** Which neighbour the stroke stands closer to, where that matters (hocket). */
  readonly near?: "previous" | "next"
  readonly given?: Given
}

/** A dot is a dot; what it means is not on the page. */
export interface Dot extends SignBase {
  readonly kind: "dot"
  /** Height, where the image tells (MEI loc). */
  readonly loc?: number
  /** "pontellus", "void" … where recorded. */
  readonly form?: string
  /** MEI dot@form without a type: the encoder's reading. */
  readonly given?: "aug" | "div"
}

export interface Stroke extends SignBase {
  readonly kind: "stroke"
  readonly form:
    /** small slanting stroke low in the staff: divisio modi */
    | "divisio-modi"
    /** the same, right after a long */
    | "signum-perfectionis"
    /** small circle that closes a group of semibreves */
    | "signum-rotundum"
    /** high in the staff, parts syllables, no measure */
    | "divisio-syllabarum"
    /** a breath without length of its own */
    | "suspirium"
    /** through the whole staff: the end of a section */
    | "finis-punctorum"
    /** any other bar the source or file has */
    | "bar"
  readonly length?: number
  readonly loc?: number
  readonly near?: "previous" | "next"
}

export interface Ligature extends SignBase {
  readonly kind: "ligature"
  /** Notes in order, with the dots and rare other signs that stand inside. */
  readonly members: readonly (Note | Dot | Rest | Other)[]
  /** MEI ligature@form, when the file gives the body as a whole. */
  readonly form?: "recta" | "obliqua"
  /** As recorded by an encoder in words (MEI ligature@type). */
  readonly propriety?: "cum" | "sine" | "opposita"
  readonly perfection?: "cum" | "sine"
  /** A square head with a run of lozenges. */
  readonly conjunctura?: boolean
}

export interface MensurationSign extends SignBase {
  readonly kind: "mensuration"
  /** Undefined where only levels or a letter are stated. */
  readonly sign?: "O" | "C"
  /** Dots inside: 1 major by the later custom, 2 or 3 in the older. */
  readonly dots?: number
  /** Strokes through the sign. */
  readonly strokes?: number
  readonly reversed?: boolean
  readonly orientation?: "90CW" | "90CCW"
  /** Figures after or under the sign: one, or one over the other. */
  readonly figures?: readonly number[]
  /** Letter of an Italian divisio: t q i sg sy p o n d … */
  readonly letter?: string
  /** Levels the file states in words, which need no sign to be drawn. */
  readonly modusMaior?: 2 | 3
  readonly modusMinor?: 2 | 3
  readonly tempus?: 2 | 3
  readonly prolatio?: 2 | 3
  /** MEI mensur@num/@numbase with @level. */
  readonly num?: number
  readonly numbase?: number
  readonly level?: Level
  /** Name of a special drawn form. */
  readonly shape?: string
  /** Stands in the definition of the voice (MEI staffDef), not in the run of signs. */
  readonly initial?: boolean
}

export interface Proportion extends SignBase {
  readonly kind: "proportion"
  readonly num: number
  readonly numbase?: number
}

export interface Clef extends SignBase {
  readonly kind: "clef"
  readonly shape: "C" | "F" | "G" | "GG"
  /** From the bottom, 1-based. */
  readonly line: number
  readonly octaveShift?: number
  readonly initial?: boolean
}

export interface Signature extends SignBase {
  readonly kind: "signature"
  readonly accidentals: readonly { readonly step: Step; readonly accidental: Accidental; readonly octave?: number }[]
  readonly initial?: boolean
}

/** An accidental that stands by itself, away from its note. */
export interface AccidentalSign extends SignBase {
  readonly kind: "accidental"
  readonly accidental: Accidental
  readonly pitch?: Pitch
  readonly byEditor?: boolean
}

export interface Custos extends SignBase {
  readonly kind: "custos"
  readonly pitch?: Pitch
}

export interface Break extends SignBase {
  readonly kind: "break"
  readonly of: "folio" | "column" | "line"
  /** "3v" for a folio, "2" for a line. */
  readonly n?: string
}

/** Signs with no length that a performer must know of. */
export interface Mark extends SignBase {
  readonly kind: "mark"
  readonly of:
    | "signum-congruentiae"
    | "repeat-start"
    | "repeat-end"
    | "ending-open"
    | "ending-closed"
    | "refrain-start"
    | "refrain-end"
    | "canon"
    | "text"
    | "section"
    | "numeral"
  readonly text?: string
}

export interface Comment extends SignBase {
  readonly kind: "comment"
  readonly text: string
}

/** Something a file holds in the run of signs that the theory does not read. It keeps its place. */
export interface Other extends SignBase {
  readonly kind: "other"
  readonly name: string
}

/** Whatever stands on the staff, told apart by `kind`. */
export type Sign =
  | Note
  | Rest
  | Dot
  | Stroke
  | Ligature
  | MensurationSign
  | Proportion
  | Clef
  | Signature
  | AccidentalSign
  | Custos
  | Break
  | Mark
  | Comment
  | Other
