/** Bar lines of the stretches: closings, repeats and endings of all voices together. */
import { compare, equals, times, type Rational } from "../../base/index.js"
import type { NotatedBlock, NotatedScore, ScoreMark } from "../../score/index.js"
import { element, type XmlElement } from "../xml.js"

/** An ending, ouvert (1) or clos (2); in whole notes. */
interface Ending {
  readonly number: 1 | 2
  readonly from: Rational
  readonly to: Rational
}

export interface Repeats {
  readonly starts: readonly Rational[]
  readonly ends: readonly Rational[]
  readonly endings: readonly Ending[]
}

/** Where any voice has them; in whole notes from the beginning. */
export function repeatsOf({ score, wholesPerUnit, blocks }: NotatedScore): Repeats {
  const marks = score.voices.flatMap(voice => voice.marks).toSorted((a, b) => compare(a.onset, b.onset))
  const at = (of: ScoreMark["of"]) =>
    distinct(marks.filter(mark => mark.of === of).map(mark => times(mark.onset, wholesPerUnit)))
  const [open, closed] = [at("ending-open"), at("ending-closed")]
  const stops = [...open, ...closed, ...at("repeat-start"), ...at("section"), ...at("refrain-start")]
  const sections = blocks.filter(block => block.sectionEnd).map(block => block.end)
  const end = blocks.at(-1)?.end
  const next = (from: Rational): Rational[] => {
    const later = [...stops, ...sections, ...(end ? [end] : [])].filter(stop => compare(stop, from) > 0)
    return later.toSorted(compare).slice(0, 1)
  }
  const endings = (number: 1 | 2, starts: readonly Rational[]) =>
    starts.flatMap(from => next(from).map((to): Ending => ({ number, from, to })))
  return { starts: at("repeat-start"), ends: at("repeat-end"), endings: [...endings(1, open), ...endings(2, closed)] }
}

function distinct(times: readonly Rational[]): Rational[] {
  return times.filter((time, i) => i === 0 || !equals(time, times[i - 1]!))
}

/** At the left of a stretch, where something begins there. */
export function leftLine({ start }: NotatedBlock, repeats: Repeats): XmlElement | undefined {
  const ending = repeats.endings.find(({ from }) => equals(from, start))
  const repeat = has(repeats.starts, start)
  if (!ending && !repeat) return undefined
  return element(
    "barline",
    { location: "left" },
    repeat ? element("bar-style", {}, "heavy-light") : undefined,
    ending ? element("ending", { number: ending.number, type: "start" }, `${ending.number}.`) : undefined,
    repeat ? element("repeat", { direction: "forward" }) : undefined,
  )
}

/** `ownLine`: the voice has a line there though the others have none. */
export function rightLine(
  block: NotatedBlock,
  last: boolean,
  ownLine: boolean,
  repeats: Repeats,
): XmlElement | undefined {
  const ending = repeats.endings.find(({ to }) => equals(to, block.end))
  const repeat = has(repeats.ends, block.end)
  const style = repeat ? "light-heavy" : closing(block, last, ownLine)
  if (!style && !ending) return undefined
  return element(
    "barline",
    { location: "right" },
    style ? element("bar-style", {}, style) : undefined,
    ending
      ? element("ending", { number: ending.number, type: ending.number === 1 ? "stop" : "discontinue" })
      : undefined,
    repeat ? element("repeat", { direction: "backward" }) : undefined,
  )
}

function closing(block: NotatedBlock, last: boolean, ownLine: boolean): string | undefined {
  if (last) return "light-heavy"
  if (block.sectionEnd) return "light-light"
  return block.shared || ownLine ? undefined : "none"
}

/** Repeats of a stretch that have to stand inside it, for want of a line that all voices share. */
export function innerRepeats(marks: readonly ScoreMark[]): XmlElement[] {
  return marks.flatMap(({ of }) => {
    if (of !== "repeat-start" && of !== "repeat-end") return []
    const forward = of === "repeat-start"
    return [
      element(
        "barline",
        { location: "middle" },
        element("bar-style", {}, forward ? "heavy-light" : "light-heavy"),
        element("repeat", { direction: forward ? "forward" : "backward" }),
      ),
    ]
  })
}

/** Whether something at that time can stand at the edge of a stretch. */
export function isEdge(time: Rational, blocks: readonly NotatedBlock[]): boolean {
  return blocks.some(({ start, end }) => equals(start, time) || equals(end, time))
}

function has(times: readonly Rational[], time: Rational): boolean {
  return times.some(one => equals(one, time))
}
