/** A duration that a rule proposes for a figure at a place, with all that does not depend on the way there. */
import { NOBODY, type Offer, type Opening, type RuleId } from "../practices/index.js"
import type { Choice } from "./choices.js"
import type { GroupOffer } from "./semibreve-plan.js"

/** They are displaced after it as they were before; by so much as is filled at its end. */
export const AS_BEFORE = -1
export const BY_ITS_END = -2

/** One object stands for all places that are alike, in any voice: it is never changed but for what is kept beside it. */
export class Proposal {
  /** What the rule asks, and with the price of the place where it ends; in 1024ths, not rounded. */
  asked = 0
  price = 0
  group: GroupOffer | undefined = undefined
  /** `price` rounded to a whole number. */
  parts = 0
  /** Ticks by which perfections are displaced after it, or `AS_BEFORE`, or `BY_ITS_END`. */
  shift = AS_BEFORE
  /** A dot or stroke that parts perfections stands after it; no perfection is full there. */
  wall = false
  openWall = false
  /** It lies across the end of a larger perfection. */
  crosses = false
  /** Ticks it adds to a run at the modus, and how it opens one. */
  counted = 0
  opening: Opening = NOBODY
  /** A choice made of it, kept since the next is likely the same. */
  choice: Choice | undefined = undefined

  constructor(
    readonly rule: RuleId,
    readonly ticks: number,
    readonly offer: Partial<Offer>,
  ) {}

  /** It begins a run at the modus. */
  get opens(): boolean {
    return !this.wall && this.opening !== NOBODY
  }
}
