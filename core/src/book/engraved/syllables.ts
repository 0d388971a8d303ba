/** What binds words under the notes: a bow of our own where two are sung as one, and extenders that end before the next word. */
import { textWidth } from "../../drawing/index.js"
import { element } from "../../formats/xml.js"
import { SPACE } from "./sheet.js"
import { allOf, attributeOf, childrenOf, hasClass, mapped, round, type SvgNode } from "./svg-tree.js"

/** Between an extender and the next word. */
const BEFORE_WORD = 0.7 * SPACE
/** Shorter ones say nothing. */
const SHORTEST = 1.2 * SPACE
/** An extender stands at the foot of the letters, a hyphen higher: so much at least under it. */
const FOOT = 0.4 * SPACE

/** A system with its extenders cut short of the next word and bows in place of the engraver's sign of elision. */
export function withBoundSyllables(system: SvgNode): SvgNode {
  const words = wordsByLine(system)
  return mapped(system, node => {
    if (hasClass(node, "verse")) return withBows(node)
    return hasClass(node, "syl") ? withExtender(node, words) : node
  })!
}

type WordsByLine = ReadonlyMap<number, readonly number[]>

/** Left edges of the words on each line, by its height. */
function wordsByLine(system: SvgNode): WordsByLine {
  const lines = new Map<number, number[]>()
  for (const node of allOf(system, one => hasClass(one, "syl"))) {
    const text = textOf(node)
    if (!text) continue
    const y = Number(attributeOf(text, "y"))
    lines.set(y, [...(lines.get(y) ?? []), Number(attributeOf(text, "x"))])
  }
  return lines
}
const textOf = (syllable: SvgNode): SvgNode | undefined => childrenOf(syllable).find(({ name }) => name === "text")

function withExtender(syllable: SvgNode, words: WordsByLine): SvgNode {
  const text = textOf(syllable)
  if (!text) return syllable
  const y = Number(attributeOf(text, "y"))
  const children = syllable.children.flatMap(child => {
    if (typeof child === "string" || child.name !== "rect" || Number(attributeOf(child, "y")) < y - FOOT) return [child]
    const x = Number(attributeOf(child, "x"))
    const width = Number(attributeOf(child, "width"))
    const next = Math.min(Infinity, ...(words.get(y) ?? []).filter(left => left > x))
    const free = Math.min(width, next - BEFORE_WORD - x)
    return free < SHORTEST ? [] : [{ ...child, attributes: { ...child.attributes, width: round(free) } }]
  })
  return { ...syllable, children }
}

/**
 * A verse whose syllables are bound by a bow where the engraver wrote a character that no typeface of words has. What is bound stands
 * as near as words do: the engraver keeps too much room within it, and takes that from the word after it.
 */
function withBows(verse: SvgNode): SvgNode {
  let bound: { readonly end: number; readonly size: number } | undefined
  const bows: SvgNode[] = []
  const children = verse.children.map(child => {
    const text = typeof child !== "string" && hasClass(child, "syl") ? textOf(child) : undefined
    if (typeof child === "string" || !text) return child
    const placed = bound ? nearer(text, bound) : text
    if (bound) bows.push(bow(bound, Number(attributeOf(placed, "x")), Number(attributeOf(placed, "y"))))
    const bare = mapped(placed, node => (isElision(node) ? undefined : node))!
    bound = isBound(text) ? endOf(bare) : undefined
    return { ...child, children: child.children.map(one => (one === text ? bare : one)) }
  })
  return { ...verse, children: [...children, ...bows] }
}

/** Of the size of the letters: between two words that are bound. */
const BOUND_GAP = 0.34

function nearer(text: SvgNode, { end, size }: { readonly end: number; readonly size: number }): SvgNode {
  const x = Math.min(Number(attributeOf(text, "x")), end + BOUND_GAP * size)
  return { ...text, attributes: { ...text.attributes, x: round(x) } }
}

/** SMuFL's signs for elision. */
const ELISION = /^[\uE550-\uE552]$/
const isElision = ({ name, children: [only, more] }: SvgNode): boolean =>
  name === "tspan" && more === undefined && typeof only === "string" && ELISION.test(only)
const isBound = (text: SvgNode): boolean => !allOf(text, isElision).next().done

/** Under the last letter of a syllable and the first of the next; parts of the size of the letters. */
const BOW = { under: 0.1, depth: 0.14, thick: 0.045, reach: 0.3 }

function bow({ end, size }: { readonly end: number; readonly size: number }, next: number, y: number): SvgNode {
  const [left, right] = [end - BOW.reach * size, next + BOW.reach * size]
  const top = y + BOW.under * size
  const curve = (from: number, to: number, depth: number) => {
    const third = (to - from) / 3
    const low = round(top + (depth * size * 4) / 3)
    return `C${round(from + third)} ${low} ${round(to - third)} ${low} ${round(to)} ${round(top)}`
  }
  const d = `M${round(left)} ${round(top)} ${curve(left, right, BOW.depth)} ${curve(right, left, BOW.depth - BOW.thick)} Z`
  return element("path", { class: "elision", d })
}

/** Where the letters of a text end and how large they are, by our own typeface. */
export function endOf(text: SvgNode): { readonly end: number; readonly size: number } {
  let end = Number(attributeOf(text, "x"))
  let size = 0
  for (const part of allOf(text, ({ attributes }) => attributes["font-size"] !== undefined)) {
    const own = Number.parseFloat(attributeOf(part, "font-size")!)
    end += textWidth(part.children.filter(one => typeof one === "string").join(""), { family: "words", size: own })
    size = Math.max(size, own)
  }
  return { end, size }
}
