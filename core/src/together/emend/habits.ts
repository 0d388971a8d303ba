/**
 * How usual it is in these voices that one figure follows another: a dot after a minim before a semiminim, three coloured
 * breves together. A change that leads to what the piece does elsewhere is likelier than one that leads to what it never does.
 */
import type { Page, Voice } from "../../page/index.js"
import { figuresOf, type Figure } from "./figures.js"
import { HABIT_WEIGHT, OTHERS_HABITS, SMOOTHING } from "./weights.js"

type Token = string

const EDGE: Token = "|"

function tokenOf({ sign, dot, ligature, member }: Figure): Token {
  const spaces = sign.kind === "rest" && sign.spaces ? `${sign.spaces.num}/${sign.spaces.den}` : ""
  const bound = ligature ? (member === 0 ? "[" : "-") : ""
  const stems = sign.kind === "note" && sign.stems.length > 0 && !ligature ? sign.stems[0]!.direction : ""
  return `${sign.kind}${sign.level ?? ""}${spaces}${dot ? "." : ""}${sign.coloration === "none" || sign.kind === "rest" ? "" : "*"}${bound}${stems}`
}

const tokensOf = (voice: Voice): Token[] => [EDGE, ...figuresOf(voice).map(tokenOf), EDGE]

export class Habits {
  private readonly singles = new Map<Token, number>()
  private readonly pairs = new Map<string, number>()
  private all = 0

  constructor(
    page: Page,
    private readonly voice: Voice,
  ) {
    for (const one of page.voices) this.count(tokensOf(one), one === voice ? 1 : OTHERS_HABITS)
    this.own = tokensOf(voice)
  }

  private readonly own: readonly Token[]

  private count(tokens: readonly Token[], weight: number): void {
    tokens.forEach((token, i) => {
      this.singles.set(token, (this.singles.get(token) ?? 0) + weight)
      this.all += weight
      if (i > 0) this.addPair(`${tokens[i - 1]!} ${token}`, weight)
    })
  }

  private addPair(pair: string, weight: number): void {
    this.pairs.set(pair, (this.pairs.get(pair) ?? 0) + weight)
  }

  /** How much less usual (+) or more usual (-) the voice is after the change, as natural logarithm of odds. */
  change(after: Voice): number {
    const now = tokensOf(after)
    let head = 0
    while (head < this.own.length && head < now.length && this.own[head] === now[head]) head++
    let tail = 0
    const most = Math.min(this.own.length, now.length) - head
    while (tail < most && this.own[this.own.length - 1 - tail] === now[now.length - 1 - tail]) tail++
    return HABIT_WEIGHT * (this.costOf(now, head, tail) - this.costOf(this.own, head, tail))
  }

  private costOf(tokens: readonly Token[], head: number, tail: number): number {
    let cost = 0
    for (let i = Math.max(1, head); i < Math.min(tokens.length, tokens.length - tail + 1); i++)
      cost -= Math.log(this.chance(tokens[i - 1]!, tokens[i]!))
    return cost
  }

  private chance(before: Token, token: Token): number {
    const single = ((this.singles.get(token) ?? 0) + SMOOTHING / 4) / (this.all + SMOOTHING * 4)
    const pair = this.pairs.get(`${before} ${token}`) ?? 0
    return (pair + SMOOTHING * single) / ((this.singles.get(before) ?? 0) + SMOOTHING)
  }
}
