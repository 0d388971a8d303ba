/** What stands over the notes of a voice: brackets, signa and rubrics, the speed. */
import { over, ratio, times, toNumber, type Rational } from "../../base/index.js"
import {
  beatOf,
  type Meter,
  type NotatedSign,
  type ScoreBracket,
  type ScoreMark,
  type ScoreVoice,
} from "../../score/index.js"
import type { EditionConventions } from "../../edition/index.js"
import { markWords } from "../mark-words.js"
import { breakWords, mensurationParts, shownBreaks, shownSigns, strokeWords, type SourcePart } from "../source-words.js"
import { element, type XmlElement } from "../xml.js"
import { typeName } from "./names.js"

/** Brackets that open before a written sign and that close after it. */
export interface BracketEnds {
  before(sign: NotatedSign): XmlElement[]
  after(sign: NotatedSign): XmlElement[]
}

/** Ligatures and coloration may overlap, so each kind has a number of its own. */
export function bracketEnds(voice: ScoreVoice): BracketEnds {
  const opening = grouped(voice.brackets, bracket => bracket.from)
  const closing = grouped(voice.brackets, bracket => bracket.to)
  const ends = (found: readonly ScoreBracket[] | undefined, type: "start" | "stop") =>
    (found ?? []).map(bracket => bracketElement(bracket, type))
  return {
    before: ({ event, part }) => (part > 0 ? [] : ends(opening.get(event.id), "start")),
    after: ({ event, last }) => (last ? ends(closing.get(event.id), "stop") : []),
  }
}

function grouped(brackets: readonly ScoreBracket[], by: (bracket: ScoreBracket) => string) {
  const groups = new Map<string | null, ScoreBracket[]>()
  for (const bracket of brackets) groups.set(by(bracket), [...(groups.get(by(bracket)) ?? []), bracket])
  return groups
}

/** Solid over a ligature; over coloration a dashed line, of which the corners are what counts. */
function bracketElement({ kind }: ScoreBracket, type: "start" | "stop"): XmlElement {
  const form =
    kind === "ligature" ? { number: 1, "line-type": "solid" } : { number: 2, "line-type": "dashed", "dash-length": 4 }
  return above(element("bracket", { type, "line-end": "down", ...form }))
}

function above(content: XmlElement, sound?: XmlElement): XmlElement {
  return element("direction", { placement: "above" }, element("direction-type", {}, content), sound)
}

/** Marks that stand between notes: a signum as its sign, words in italics; undefined for those that make bar lines. */
export function markElement(mark: ScoreMark): XmlElement | undefined {
  if (mark.of === "signum-congruentiae") return above(element("symbol", {}, "mensuralSignumUp"))
  const words = markWords(mark)
  return words ? above(element("words", { "font-style": "italic" }, words)) : undefined
}

/** Signs, breaks and strokes of the page, by the note or rest they stand before. */
export function sourceDirections(
  voice: ScoreVoice,
  conventions: EditionConventions,
): ReadonlyMap<string, readonly XmlElement[]> {
  const directions = new Map<string, XmlElement[]>()
  const put = (before: string | null, parts: readonly SourcePart[]) => {
    if (before !== null) directions.set(before, [...(directions.get(before) ?? []), partsElement(parts)])
  }
  for (const { before, written } of shownSigns(voice, conventions)) put(before, mensurationParts(written))
  for (const { before, written } of shownBreaks(voice, conventions)) put(before, [{ text: breakWords(written) }])
  for (const { before, written } of voice.strokes) {
    const text = conventions.divisionStrokes === "shown" ? strokeWords(written) : undefined
    if (text !== undefined) put(before, [{ text }])
  }
  return directions
}

function partsElement(parts: readonly SourcePart[]): XmlElement {
  const content = parts.map(part =>
    "text" in part ? element("words", { "font-style": "normal" }, part.text) : element("symbol", {}, part.glyph),
  )
  return element("direction", { placement: "above" }, element("direction-type", {}, ...content))
}

/** `speed` in quarter notes a minute; shown as so many beats of the meter. */
export function tempoElement(speed: Rational, meter: Meter | null): XmlElement {
  const beat = meter ? beatOf(meter) : ratio(1, 4)
  const plain = beat.num === 3 ? times(beat, ratio(2, 3)) : beat
  const perMinute = over(speed, times(beat, ratio(4)))
  const metronome = element(
    "metronome",
    { parentheses: "yes" },
    element("beat-unit", {}, typeName(String(plain.den)) ?? "quarter"),
    beat.num === 3 ? element("beat-unit-dot") : undefined,
    element("per-minute", {}, decimal(perMinute)),
  )
  return above(metronome, element("sound", { tempo: decimal(speed) }))
}

/** At most three digits after the point, none where it is whole. */
function decimal(number: Rational): string {
  return String(Number(toNumber(number).toFixed(3)))
}
