/** Bar lines between the staves leave free the words that they would go through. */
import { ASCENT, DESCENT } from "../../drawing/index.js"
import { element } from "../../formats/xml.js"
import { SPACE } from "./sheet.js"
import { allOf, attributeOf, hasClass, mapped, type SvgNode } from "./svg-tree.js"
import { numbersIn, type Extent } from "./extents.js"
import { withHyphensAside } from "./hyphens-aside.js"
import { endOf } from "./syllables.js"

/** Free at the sides of a word, and above and below its letters. */
const ASIDE = 0.22 * SPACE
const ABOVE = 0.2 * SPACE

/** A system, its bar lines cut where syllables and extenders stand; hyphens go aside for them where there is room. */
export function withLinesAroundWords(system: SvgNode): SvgNode {
  const cleared = withHyphensAside(system)
  const words = [...allOf(cleared, node => hasClass(node, "syl"))].flatMap(boxesOf)
  if (words.length === 0) return system
  return mapped(cleared, node => (hasClass(node, "barLine") ? cutLines(node, words) : node))!
}

function boxesOf(syllable: SvgNode): Extent[] {
  const texts = [...allOf(syllable, ({ name }) => name === "text")].flatMap(text => {
    const [x, y] = [Number(attributeOf(text, "x")), Number(attributeOf(text, "y"))]
    const { end: right, size } = endOf(text)
    return size > 0 ? [{ left: x, right, top: y - ASCENT.words * size, bottom: y + DESCENT.words * size }] : []
  })
  const strokes = [...allOf(syllable, ({ name }) => name === "rect")].map(rect => {
    const [x, y, width, height] = ["x", "y", "width", "height"].map(name => Number(attributeOf(rect, name)))
    return { left: x!, right: x! + width!, top: y!, bottom: y! + height! }
  })
  return [...texts, ...strokes]
}

function cutLines(barLine: SvgNode, words: readonly Extent[]): SvgNode {
  const children = barLine.children.flatMap(child => {
    if (typeof child === "string" || child.name !== "path") return [child]
    const [x, top, x2, bottom] = numbersIn(attributeOf(child, "d") ?? "")
    if (bottom === undefined || x !== x2) return [child]
    const crossed = words.filter(word => x! > word.left - ASIDE && x! < word.right + ASIDE)
    return partsLeft([top!, bottom], crossed).map(([from, to]) =>
      element("path", { ...child.attributes, d: `M${x} ${from} L${x} ${to}` }),
    )
  })
  return { ...barLine, children }
}

type Span = readonly [from: number, to: number]

function partsLeft(line: Span, words: readonly Extent[]): Span[] {
  let left: Span[] = [line]
  for (const { top, bottom } of words) {
    const [from, to] = [top - ABOVE, bottom + ABOVE]
    left = left.flatMap(([a, b]): Span[] => {
      if (to <= a || from >= b) return [[a, b]]
      return [[a, Math.max(a, from)] as const, [Math.min(b, to), b] as const].filter(([c, d]) => d - c > 1)
    })
  }
  return left
}
