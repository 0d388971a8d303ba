/**
 * A drawing before it is a picture: marks as plain data. Whoever draws knows notation and nothing of SVG; whoever writes SVG
 * knows nothing of notation. Coordinates run to the right and downwards.
 */
import type { SignId } from "../../base/index.js"

/** What a mark is for; a theme gives each role its colour. */
export type Role =
  | "ground"
  /** the ground of every other perfection */
  | "alternate"
  /** signs and text: what was written */
  | "ink"
  /** modern values, sources, what an editor added */
  | "second"
  /** rubrics, and the source's own red */
  | "red"
  /** what is asked about */
  | "blue"
  | "clayEdge"
  | "clayFill"
  | "staff"

/** One step of an outline: its name as in SVG (absolute), then its points. */
export type PathStep =
  | readonly ["M" | "L", number, number]
  | readonly ["Q", number, number, number, number]
  | readonly ["C", number, number, number, number, number, number]
  | readonly ["Z"]
export type Path = readonly PathStep[]

export interface Stroking {
  readonly role: Role
  /** In the units of the group around. */
  readonly width: number
  readonly dash?: readonly number[]
  readonly cap?: "butt" | "round" | "square"
  readonly join?: "miter" | "round" | "bevel"
}

interface MarkBase {
  /** What kind of mark it is: "head", "staff", "syllable", "band" … Written as the class of the element. */
  readonly part: string
  /** The sign it comes from, where its group does not say so already. */
  readonly sign?: SignId
  readonly fill?: Role
  readonly stroke?: Stroking
  /** From 0 to 1. */
  readonly opacity?: number
}

/** An outline. Holes run the other way round (the rule is nonzero winding). */
export interface PathMark extends MarkBase {
  readonly shape: "path"
  readonly path: Path
}
/** Straight lines apart from each other: one outline without a room inside. */
export interface StrokesMark extends MarkBase {
  readonly shape: "strokes"
  /** Of each line x and y of its beginning, then of its end. */
  readonly points: readonly number[]
}
/** Rectangles as one outline. */
export interface BoxesMark extends MarkBase {
  readonly shape: "boxes"
  /** Of each its left, top, right and bottom edge. */
  readonly points: readonly number[]
}
export interface LineMark extends MarkBase {
  readonly shape: "line"
  readonly x1: number
  readonly y1: number
  readonly x2: number
  readonly y2: number
}
export interface RectMark extends MarkBase {
  readonly shape: "rect"
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}
export interface CircleMark extends MarkBase {
  readonly shape: "circle"
  readonly x: number
  readonly y: number
  readonly radius: number
}
export interface PolygonMark extends MarkBase {
  readonly shape: "polygon"
  readonly points: readonly (readonly [x: number, y: number])[]
  /** Not closed: a line with corners. */
  readonly open?: boolean
}

/** Alegreya for words, Source Sans 3 for counts, axis and sources. */
export type TypeFamily = "words" | "figures"
export interface TypeStyle {
  readonly family: TypeFamily
  readonly size: number
  readonly weight?: 400 | 600 | 700
  readonly italic?: boolean
}
export interface TextMark extends MarkBase {
  readonly shape: "text"
  /** Start, middle or end by `anchor`; y is the line on which the letters stand. */
  readonly x: number
  readonly y: number
  readonly text: string
  readonly type: TypeStyle
  readonly anchor?: "start" | "middle" | "end"
  /** How wide it stands; worked out from the letters where not given. */
  readonly length?: number
}

export type Mark = PathMark | StrokesMark | BoxesMark | LineMark | RectMark | CircleMark | PolygonMark | TextMark

/** Things that move together. `x`, `y` and `scale` place the group's own units in those of the group around. */
export interface Group {
  readonly shape: "group"
  readonly part?: string
  readonly x?: number
  readonly y?: number
  readonly scale?: number
  /** All within was drawn for this sign. */
  readonly sign?: SignId
  /** Further data for whoever shows the drawing, written as data-… */
  readonly data?: Readonly<Record<string, string>>
  readonly content: readonly Item[]
}
export type Item = Mark | Group

export interface Scene {
  /** In px. */
  readonly width: number
  readonly height: number
  /** Px in a staff space; a group of signs is placed with this as its scale. */
  readonly unit: number
  readonly title: string
  /** In place of the picture, for whoever cannot see it. */
  readonly description: string
  /** Language of the words, as in HTML. */
  readonly language?: string
  readonly content: readonly Item[]
}

/** A rectangle; y grows downwards, so top < bottom. */
export interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}
