/** What can be asked of the time view, and its sizes. */
import type { Rational, SignId } from "../../base/index.js"
import { pensOf, typesOf, type Pens, type Types } from "./pens.js"

export { lineWidth } from "./pens.js"

export interface TimeOptions {
  /** Width of the picture in px; 1920 without it. */
  readonly width?: number
  /** Px in one of the sizes that are told for a picture 1920 px wide; by the width without it, and never so small that type is under 16 px. */
  readonly size?: number
  /** No staves and no modern values: signs over bands, for many voices. */
  readonly compact?: boolean
  /** The first stanza's words under each voice that has any; true without it, never in the compact form. */
  readonly words?: boolean
  /** The part of the axis that is shown, in the score's unit. */
  readonly from?: Rational
  readonly to?: Rational
  /** The sign that is asked about: it is marked, its causes are joined to it, and the reason stands below. */
  readonly select?: SignId
  /** Every voice keeps room for the lines of causes, so that a sign can be asked about without anything being moved. */
  readonly lanes?: boolean
  /** Height of one sheet in px: the drawing is then cut into sheets between systems. */
  readonly sheetHeight?: number
}

export const USUAL_WIDTH = 1920
/** At this size the smallest type, 24, is 16 px high. */
const SMALLEST = 2 / 3
const LARGEST = 4

/** All sizes in px. Heads are a little larger than the staff's space would have them. */
export interface Look {
  readonly size: number
  readonly compact: boolean
  readonly width: number
  readonly margin: number
  readonly right: number
  readonly staffSpace: number
  readonly headSpace: number
  /** From the top of a voice to its staff, or to the line of heads. */
  readonly over: number
  /** From the staff to the band. */
  readonly under: number
  readonly band: number
  /** Under the band, for modern values where there are any. */
  readonly modern: number
  readonly values: boolean
  /** Height of a row over each voice for its name, where there is too little room beside it: 0 where names stand in the margin. */
  readonly names: number
  readonly between: number
  /** A rival's storey. */
  readonly storey: number
  /** Rivals of one moment that are drawn, likelier ones first; the words tell of the others. */
  readonly storeys: 1 | 2
  /** Of every head after its moment. */
  readonly after: number
  /** Words under the modern values: height of their row. */
  readonly words: number
  /** Between a head and its dot, in spaces of the head, where dots are to stand by themselves. */
  readonly dotGap?: number
  readonly pens: Pens
  readonly types: Types
}

/** A picture of fewer px at full size has its names over the voices. */
const NARROW = 800

const OPEN = {
  over: 44,
  under: 28,
  modern: 51,
  words: 34,
  between: 14,
  end: 12,
  compactOver: 66,
  compactBetween: 11,
} as const
const CLOSE = {
  over: 36,
  under: 16,
  modern: 46,
  words: 30,
  between: 8,
  end: 10,
  compactOver: 58,
  compactBetween: 7,
} as const

const usable = (value: number | undefined, otherwise: number): number =>
  value !== undefined && Number.isFinite(value) && value > 0 ? value : otherwise

export const HEADS = 1.13

/**
 * How close rows stand, for a sheet of a given height: 0 as they should, 1 closer, 2 closer and without words, 3 also without
 * modern values.
 */
export type Closeness = 0 | 1 | 2 | 3

export function lookOf(options: TimeOptions, close: Closeness = 0): Look {
  const width = Math.min(40_000, Math.max(320, usable(options.width, USUAL_WIDTH)))
  const bySize = usable(options.size, width / USUAL_WIDTH)
  const size = Math.min(LARGEST, Math.max(SMALLEST, bySize))
  const compact = options.compact ?? false
  const px = (value: number) => value * size
  const rows = close === 0 ? OPEN : CLOSE
  const words = options.words !== false && close < 2
  return {
    size,
    compact,
    width,
    margin: Math.min(px(48), width * 0.05),
    right: Math.min(px(54), width * 0.05),
    staffSpace: px(17),
    headSpace: compact ? px(13.5) : px(17) * HEADS,
    over: px(compact ? rows.compactOver : rows.over),
    under: compact ? 0 : px(rows.under),
    band: px(32),
    modern: compact ? 0 : close < 3 ? px(rows.modern) : px(rows.end),
    values: !compact && close < 3,
    names: width / size < NARROW ? px(34) : 0,
    between: px(compact ? rows.compactBetween : rows.between),
    storeys: close === 0 ? 2 : 1,
    storey: px(40),
    after: compact ? px(13) : px(9),
    words: compact || !words ? 0 : px(rows.words),
    pens: pensOf(size),
    types: typesOf(size),
  }
}

/** What the exact sizes of type are multiplied by. */
export const typeSize = ({ size }: Look, px: number): number => px * size
