/**
 * How usual it is in these voices that one figure follows others: a dot after a minim before a semiminim, three coloured
 * breves together, a phrase that another voice has sung. A change that leads to what the piece does elsewhere is likelier
 * than one that leads to what it never does. What stands at the very place is not counted: it is what is in question. How
 * much of this is what stands before a figure, and how much only how often the voices have such a figure at all, is asked of
 * the voice: where figures are foretold by what stands before them it counts in full, where anything may follow anything
 * hardly at all.
 */
import type { Page, Voice } from "../../page/index.js"
import { stepOf } from "./candidates.js"
import { commonEnds } from "../../reading/ends.js"
import { figuresOf, type Figure } from "./figures.js"
import { HABIT_WEIGHT, OTHERS_HABITS, SMOOTHING, WELL_FORETOLD } from "./weights.js"

/** A figure as its shape, and with the step that leads to it. */
interface Token {
  readonly shape: string
  readonly phrase: string
}

const EDGE: Token = { shape: "|", phrase: "|" }

/** Without its colour: a run that is coloured or not is one change, and `inks.ts` weighs it. */
function shapeOf({ sign, dot, ligature, member }: Figure): string {
  const spaces = sign.kind === "rest" && sign.spaces ? `${sign.spaces.num}/${sign.spaces.den}` : ""
  const bound = ligature ? (member === 0 ? "[" : "-") : ""
  const stems = sign.kind === "note" && sign.stems.length > 0 && !ligature ? sign.stems[0]!.direction : ""
  return `${sign.kind}${sign.level ?? ""}${spaces}${dot ? "." : ""}${bound}${stems}`
}

const tokensOf = (figures: readonly Figure[]): Token[] =>
  figures.map((figure, i): Token => {
    const shape = shapeOf(figure)
    const moved = i > 0 ? stepOf(figure) - stepOf(figures[i - 1]!) : Number.NaN
    return { shape, phrase: Number.isNaN(moved) ? shape : `${shape}${moved}` }
  })

const allTokensOf = (figures: readonly Figure[]): Token[] => [EDGE, ...tokensOf(figures), EDGE]

/** Figures before one from which it is foretold, the nearest first; a phrase of three counts most. */
const ORDERS = [
  { as: "shape", length: 1 },
  { as: "shape", length: 2 },
  { as: "shape", length: 3 },
  { as: "phrase", length: 3 },
] as const
const LONGEST = 3

/** What stood before, under each order; "" where there is not so much. */
function contexts(tokens: readonly Token[], at: number): string[] {
  return ORDERS.map(({ as, length }, order) => {
    if (at < length) return ""
    let key = `${order}`
    for (let i = at - length; i < at; i++) key += ` ${tokens[i]![as]}`
    return key
  })
}

class Counts {
  private readonly seen = new Map<string, number>()
  all = 0

  /** Takes up the figures from one index to another. */
  add(tokens: readonly Token[], from: number, to: number, weight: number): void {
    for (let at = from; at < to; at++) {
      const { shape } = tokens[at]!
      this.all += weight
      this.raise(shape, weight)
      for (const context of contexts(tokens, at)) {
        if (context === "") continue
        this.raise(context, weight)
        this.raise(`${context} > ${shape}`, weight)
      }
    }
  }

  private raise(key: string, weight: number): void {
    this.seen.set(key, (this.seen.get(key) ?? 0) + weight)
  }

  of(key: string): number {
    return this.seen.get(key) ?? 0
  }
}

export class Habits {
  private readonly counts = new Counts()
  private readonly figures: readonly Figure[]
  private readonly own: readonly Token[]
  private trust: number | undefined

  constructor(
    page: Page,
    private readonly voice: Voice,
  ) {
    for (const one of page.voices) {
      const tokens = allTokensOf(figuresOf(one))
      this.counts.add(tokens, 0, tokens.length, one === voice ? 1 : OTHERS_HABITS)
    }
    this.figures = figuresOf(voice)
    this.own = allTokensOf(this.figures)
  }

  /** How much less usual (+) or more usual (-) the voice is after the change, as natural logarithm of odds. */
  change(after: Voice): number {
    const { own } = this
    const now = this.tokensAfter(after)
    let head = 0
    while (head < own.length && head < now.length && isSame(own[head]!, now[head]!)) head++
    let tail = 0
    const most = Math.min(own.length, now.length) - head
    while (tail < most && isSame(own[own.length - 1 - tail]!, now[now.length - 1 - tail]!)) tail++
    const [ends, endsNow] = [own.length, now.length].map(length => Math.min(length, length - tail + LONGEST))
    const here = new Counts()
    here.add(own, head, ends!, 1)
    return HABIT_WEIGHT * (this.costOf(now, head, endsNow!, here) - this.costOf(own, head, ends!, here))
  }

  /** All tokens of the voice with the change; made anew only near it. */
  private tokensAfter({ signs }: Voice): readonly Token[] {
    const { figures, own } = this
    const before = this.voice.signs
    const { head, tail } = commonEnds(before, signs, Object.is)
    // the sign before the change may have lost its dot, or have one now; the step to the first after it is another
    const last = figures.findLastIndex(({ top }) => top < head - 1)
    const from = figures[last]?.top ?? 0
    const next = figures.find(({ top }) => top >= before.length - tail)?.top ?? before.length
    const rest = figures.findIndex(({ top }) => top > next)
    const to = next + signs.length - before.length
    const near = figuresOf({ signs: signs.slice(from, to + 2) })
    const anew = tokensOf(near).filter((_, i) => near[i]!.top <= to - from && (last < 0 || near[i]!.top > 0))
    return [...own.slice(0, last + 2), ...anew, ...own.slice((rest < 0 ? figures.length : rest) + 1)]
  }

  /** How far what stands before a figure foretells it in this voice, from 0 to 1. */
  private trusted(): number {
    const { own } = this
    let [told, plain] = [0, 0]
    for (let at = 1; at < own.length; at++) {
      const here = new Counts()
      here.add(own, at, Math.min(own.length, at + LONGEST + 1), 1)
      told -= Math.log(this.chance(own, at, here))
      plain -= Math.log(this.plainChance(own[at]!.shape, here))
    }
    const foretold = plain > 0 ? 1 - told / plain : 0
    return Math.max(0, Math.min(1, foretold / WELL_FORETOLD))
  }

  private plainChance(shape: string, here: Counts): number {
    const count = Math.max(0, this.counts.of(shape) - here.of(shape))
    return (count + SMOOTHING / 4) / (this.counts.all - here.all + SMOOTHING * 4)
  }

  private costOf(tokens: readonly Token[], from: number, to: number, here: Counts): number {
    let cost = 0
    this.trust ??= this.trusted()
    for (let at = Math.max(1, from); at < to; at++) {
      cost -= this.trust * Math.log(this.chance(tokens, at, here))
      cost -= (1 - this.trust) * Math.log(this.plainChance(tokens[at]!.shape, here))
    }
    return cost
  }

  private chance(tokens: readonly Token[], at: number, here: Counts): number {
    const { shape } = tokens[at]!
    const count = (key: string): number => Math.max(0, this.counts.of(key) - here.of(key))
    let chance = this.plainChance(shape, here)
    for (const context of contexts(tokens, at)) {
      if (context === "") continue
      chance = (count(`${context} > ${shape}`) + SMOOTHING * chance) / (count(context) + SMOOTHING)
    }
    return chance
  }
}

const isSame = (a: Token, b: Token): boolean => a === b || (a.shape === b.shape && a.phrase === b.phrase)
