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
  return even?.every(fits) ? { parts: even, cut: false } : { parts: evened(found.parts, fits), cut: false }
}

/** So often each cut is looked at, from the last to the first. */
const SWEEPS = 3

/** A last part that is much shorter than the others takes from the one before it, and this from its own neighbour. */
function evened(parts: readonly Passage[], fits: Fits): Passage[] {
  const now = [...parts]
  for (let sweep = 0; sweep < SWEEPS; sweep++)
    for (let i = now.length - 1; i > 0; i--) {
      const [one, other] = moreEven(now[i - 1]!, now[i]!, fits)
      now[i - 1] = one
      now[i] = other
    }
  return now
}

/** Two neighbours are uneven where they differ by more than this of both together. */
const UNEVEN = 0.34

/** The two with the cut nearest to their middle at which both fit, of the best kind that makes them even enough. */
function moreEven(one: Passage, other: Passage, fits: Fits): [Passage, Passage] {
  const both = { ...one, to: other.to }
  const apart = (at: number): number => Math.abs(at - one.from - (other.to - at)) / (other.to - one.from)
  if (apart(one.to) <= UNEVEN) return [one, other]
  const cutAt = (at: number): [Passage, Passage] => [
    { ...both, to: at },
    { ...both, from: at },
  ]
  const better = cutMoments(both.voices, both.from, both.to).flatMap(kind => {
    const nearest = kind.filter(at => apart(at) < apart(one.to) - NEAR).sort((a, b) => apart(a) - apart(b))
    const found = nearest.map(cutAt).find(pair => pair.every(fits))
    return found ? [found] : []
  })
  const least = Math.min(...better.map(([{ to }]) => apart(to)))
  return better.find(([{ to }]) => apart(to) <= Math.max(UNEVEN, least)) ?? [one, other]
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
