/** Bar lines of the stretches: closings, repeats and endings. */
import { equals, type Rational } from "../../base/index.js"
import type { NotatedBlock, Repeats } from "../../score/index.js"
import { element, type XmlElement } from "../xml.js"

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

export interface LineStyle {
  /** The voice has a line there though the others have none. */
  readonly ownLine: boolean
  /** Lines are ticks, unless they close something. */
  readonly tick: boolean
}

export function rightLine(
  block: NotatedBlock,
  last: boolean,
  line: LineStyle,
  repeats: Repeats,
): XmlElement | undefined {
  const ending = repeats.endings.find(({ to }) => equals(to, block.end))
  const repeat = has(repeats.ends, block.end)
  const style = repeat ? "light-heavy" : closing(block, last, line)
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

function closing(block: NotatedBlock, last: boolean, { ownLine, tick }: LineStyle): string | undefined {
  if (last) return "light-heavy"
  if (block.sectionEnd) return "light-light"
  if (!block.shared && !ownLine) return "none"
  return tick ? "tick" : undefined
}

function has(times: readonly Rational[], time: Rational): boolean {
  return times.some(one => equals(one, time))
}
