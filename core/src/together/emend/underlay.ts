/**
 * What the words say of a change. A scribe writes words and notes apart: a note copied twice has no syllable of its own, and where
 * one was left out, its neighbour may have two. How usual both are in this very voice is asked of the voice itself.
 */
import type { Note, Voice } from "../../page/index.js"
import type { Candidate } from "./candidates.js"
import { figuresOf, type Figure } from "./figures.js"
import { WORDLESS_RUN, WORDS_LOST } from "./weights.js"

/** No syllable, one, several. */
type Count = 0 | 1 | 2
/** Of each count so many are supposed to have been seen. */
const SUPPOSED = 0.5

export class Underlay {
  private readonly figures: readonly Figure[]
  private readonly counts: readonly [number, number, number]
  private readonly bearers: number

  constructor(voice: Voice) {
    this.figures = figuresOf(voice)
    const counts: [number, number, number] = [0, 0, 0]
    for (const figure of this.figures) if (bears(figure)) counts[countOf(figure)]++
    this.counts = counts
    this.bearers = counts[0] + counts[1] + counts[2]
  }

  /** What they say against the change (negative: for it), as natural logarithm of odds. */
  change({ kind, from, to }: Pick<Candidate, "kind" | "from" | "to">): number {
    if (this.counts[1] + this.counts[2] === 0) return 0
    if (kind === "note-doubled" || kind === "passage-doubled") return this.goes(from, to)
    return kind === "note-missing" ? this.comes(from) : 0
  }

  /** Notes that go, all of them without words if they are a copy, or with the very words of what they copy. */
  private goes(from: number, to: number): number {
    const size = to - from + 1
    const gone = this.figures.slice(from, to + 1).filter(bears)
    if (gone.some(figure => wordsOf(figure) !== "" && wordsOf(figure) !== wordsOf(this.figures[figure.index - size])))
      return WORDS_LOST
    const wordless = gone.filter(figure => countOf(figure) === 0).length
    return Math.log(this.chance(0, wordless)) * (wordless > 1 ? 1 + WORDLESS_RUN * (wordless - 1) : wordless)
  }

  /** A note that comes takes a syllable from a neighbour that has several. */
  private comes(at: number): number {
    const isSpare = [at - 1, at].some(index => {
      const figure = this.figures[index]
      return figure !== undefined && bears(figure) && countOf(figure) === 2
    })
    // its own may as well have been lost with it, which says nothing
    return isSpare ? Math.min(0, Math.log(this.chance(2, 1)) - Math.log(this.chance(1, 0))) : 0
  }

  /** How usual a count is, but for so many places that are in question. */
  private chance(count: Count, asked: number): number {
    return (Math.max(0, this.counts[count] - asked) + SUPPOSED) / (Math.max(0, this.bearers - asked) + 3 * SUPPOSED)
  }
}

/** A single note, or the first of a ligature. */
const bears = ({ sign, member }: Figure): boolean => sign.kind === "note" && member <= 0

/** Syllables of the first stanza; what is run together by elision is one. */
function countOf({ sign }: Figure): Count {
  const { syllables } = sign as Note
  const own = syllables.filter(({ stanza }) => stanza === syllables[0]!.stanza)
  const count = own.filter(({ join }, i) => join !== "~" || i === own.length - 1).length
  return count > 1 ? 2 : (count as Count)
}

const wordsOf = (figure: Figure | undefined): string =>
  figure?.sign.kind === "note" ? figure.sign.syllables.map(({ stanza, text }) => `${stanza} ${text}`).join(" ") : ""
