/** Signs of the page that stand over a modern staff, as characters of SMuFL 1.4 and as words. */
import type { Break, MensurationSign, Proportion, Stroke } from "../page/index.js"
import { editorHand, type ScoreBreak, type ScoreSign, type ScoreVoice } from "../score/index.js"
import type { EditionConventions } from "../edition/index.js"

/** A sign by its name in SMuFL, or letters and figures. */
export type SourcePart = { readonly glyph: string } | { readonly text: string }

const PROLATIONS = { O: ["mensuralProlation2", "mensuralProlation1"], C: ["mensuralProlation6", "mensuralProlation5"] }
const INSIDE: Readonly<Record<number, string>> = { 2: "TwoDots", 3: "ThreeDots" }

/**
 * Empty for a sign that only states levels in words. What SMuFL does not have, turned and reversed signs, is a letter; what an
 * editor supplied or corrected stands in square brackets.
 */
export function mensurationParts(sign: MensurationSign | Proportion): SourcePart[] {
  const parts = partsOf(sign)
  return parts.length > 0 && editorHand(sign) ? [{ text: "[" }, ...parts, { text: "]" }] : parts
}

function partsOf(sign: MensurationSign | Proportion): SourcePart[] {
  if (sign.kind === "proportion") return [{ text: fraction([sign.num, ...(sign.numbase ? [sign.numbase] : [])]) }]
  const figures = figuresOf(sign)
  return [
    ...(sign.sign === undefined ? [] : circleParts(sign)),
    ...(figures.length > 0 ? [{ text: fraction(figures) }] : []),
    ...(sign.letter ? [{ text: sign.letter }] : []),
  ]
}

/** Figures behind the sign; MEI's num and numbase on one are such figures. */
export function figuresOf({ figures = [], sign, num, numbase }: MensurationSign): readonly number[] {
  if (figures.length > 0 || sign === undefined || num === undefined) return figures
  return numbase === undefined ? [num] : [num, numbase]
}

function circleParts({ sign, dots = 0, strokes = 0, reversed, orientation }: MensurationSign): SourcePart[] {
  const combining = (name: string): SourcePart => ({ glyph: `mensuralProlationCombining${name}` })
  const through = Array.from({ length: strokes }, () => combining("Stroke"))
  if (reversed || orientation) return [{ text: "Ɔ" }, ...(dots > 0 ? [combining("Dot")] : []), ...through]
  const inside = INSIDE[dots]
  const glyph = PROLATIONS[sign!][dots === 1 ? 1 : 0]!
  return [{ glyph }, ...(inside ? [combining(inside)] : []), ...through]
}

const fraction = (figures: readonly number[]): string => figures.join("/")

/** Those that the conventions show: all, or without what stands at the beginning, where a prefatory staff has it. */
export function shownSigns(voice: ScoreVoice, { signs }: Pick<EditionConventions, "signs">): readonly ScoreSign[] {
  if (signs === "none") return []
  return voice.signs.filter(
    ({ written, onset }) => mensurationParts(written).length > 0 && (signs === "all" || onset.num > 0),
  )
}

/** What the conventions show of where folios and lines begin: of all that begins at one note the greatest, since it says the rest. */
export function shownBreaks(
  { breaks }: ScoreVoice,
  { sourceBreaks }: Pick<EditionConventions, "sourceBreaks">,
): readonly ScoreBreak[] {
  const shown = breaks.filter(({ written: { of }, onset }) =>
    of === "folio" ? sourceBreaks !== "none" : sourceBreaks === "lines" && onset.num > 0,
  )
  return shown.filter(
    (one, i) =>
      !shown.some((other, n) => n !== i && other.before === one.before && rank(other) + (n < i ? 0.5 : 0) > rank(one)),
  )
}
const rank = ({ written: { of } }: ScoreBreak): number => ["line", "column", "folio"].indexOf(of)

/** "| 3v" where a folio begins, "|" where a line or column does. */
export function breakWords({ of, n }: Break): string {
  return of === "folio" && n ? `| ${n}` : "|"
}

/** Strokes that divide without closing a section; undefined for the others. */
export function strokeWords({ form }: Stroke): string | undefined {
  if (form === "finis-punctorum" || form === "bar") return undefined
  return form === "signum-rotundum" ? "°" : "ı"
}
