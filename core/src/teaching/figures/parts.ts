/** A passage in several pictures: of about one length where that fits, else each as long as there is room. */
import { NEAR, type Passage } from "./passage.js"
import { cutMoments, cutsOf } from "./strip/axes.js"

export type Fits = (part: Passage) => boolean

export interface Parts {
  readonly parts: readonly Passage[]
  /** The passage goes on behind the last: that would be too many, or the next perfection has no room. */
  readonly cut: false | "many" | "wide"
}

/** Undefined where not even one perfection fits. No more than so many parts. */
export function partsOf(passage: Passage, fits: Fits, most: number): Parts | undefined {
  if (fits(passage)) return { parts: [passage], cut: false }
  const found = greedyParts(passage, fits, most)
  if (!found || found.cut) return found
  const even = evenParts(passage, found.parts.length)
  return even?.every(fits) ? { parts: even, cut: false } : found
}

function evenParts(passage: Passage, n: number): Passage[] | undefined {
  const cuts = cutsOf(passage.voices, passage.from, passage.to, n)
  return cuts?.slice(1).map((to, i) => ({ ...passage, from: cuts[i]!, to }))
}

function greedyParts(passage: Passage, fits: Fits, most: number): Parts | undefined {
  const { to } = passage
  const moments = cutMoments(passage.voices, passage.from, to)
  const last = [...moments.at(-1)!, to]
  const parts: Passage[] = []
  let from = passage.from
  while (from < to - NEAR && parts.length < most) {
    const part = longest(
      { ...passage, from },
      last.filter(at => at > from + NEAR),
      fits,
    )
    if (!part) return parts.length > 0 ? { parts, cut: "wide" } : undefined
    const own = part.to >= to - NEAR ? part : wellCut(part, moments, fits)
    parts.push(own)
    from = own.to
  }
  return { parts, cut: from < to - NEAR && "many" }
}

/** Up to the last of these moments up to which it fits: more and more are tried, then what lies between. */
function longest(passage: Passage, ends: readonly number[], fits: Fits): Passage | undefined {
  const upTo = (n: number): Passage => ({ ...passage, to: ends[n]! })
  let low = -1
  let high = 0
  while (high < ends.length && fits(upTo(high))) {
    low = high
    high = high * 2 + 1
  }
  high = Math.min(high, ends.length)
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (fits(upTo(middle))) low = middle
    else high = middle
  }
  return low < 0 ? undefined : upTo(low)
}

/** So much of a picture may stay empty for a better place to cut. */
const SPARE = 0.3

function wellCut(part: Passage, moments: readonly (readonly number[])[], fits: Fits): Passage {
  const least = part.to - (part.to - part.from) * SPARE
  for (const kind of moments) {
    const end = kind.findLast(at => at >= least && at <= part.to + NEAR)
    const cut = end === undefined ? undefined : { ...part, to: end }
    if (cut && (end === part.to || fits(cut))) return cut
  }
  return part
}
