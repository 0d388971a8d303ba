/** Bar lines of the stretches: closings, repeats and endings. */
import { equals, type Rational } from "../../base/index.js"
import type { NotatedBlock, Repeats, ScoreMark } from "../../score/index.js"
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

function has(times: readonly Rational[], time: Rational): boolean {
  return times.some(one => equals(one, time))
}
