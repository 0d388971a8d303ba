/** What makes a note lose a third, or parts. */
import type { Prices } from "./figures.js"
import { MODUS_LEVEL } from "./levels.js"
import { BREVIS, MINIMA, SEMIBREVIS } from "./mensuration.js"
import { costOfParts, costOfShort, costOfWhole, isOverruled, pricesOf } from "./prices.js"
import {
  carryCost,
  dotLocks,
  isFreeNote,
  isPerfectAt,
  likeCost,
  likeFollows,
  lockedByDot,
  type Loss,
  opens,
  partCost,
  partsGate,
  partsOf,
  perfectGate,
  smallerFollows,
  unitOf,
} from "./situation.js"
import { type Cost, NOBODY, type Rule, type RuleId, SHORTENED, type Situation, type Source, WHOLE } from "./types.js"

/** The pair before a dot is meant for the whole, whatever else its number would allow. */
const PAIR_FOR_WHOLE = -5
/** Option pendingPolicy: a carried unit is completed by what follows, not given up (1 : 12). */
const AGAINST_COMPLETING = 2.5
/** Where the option lets a lone minim take its own length it is nearly as good as a breve left whole (1 : 1.3). */
const LONE_MINIM = 0.3

export function imperfectioAPartePost(...sources: Source[]): Rule {
  return {
    id: "imperfectio-a-parte-post",
    sources,
    at: "start",
    appliesTo: perfectGate,
    propose(s) {
      const level = s.figure.level
      if (!isFreeNote(s.figure) || s.front !== 0 || !isPerfectAt(s, level) || !smallerFollows(s)) return
      const unit = unitOf(s, level)
      const cost = costOfShort(s, level) + costOfWhole(s, level) + (pairTakesWhole(s) ? PAIR_FOR_WHOLE : 0)
      s.offer("imperfectio-a-parte-post", s.figure.full - unit, cost, {
        back: unit,
        opening: opens(s, SHORTENED),
        overruled: isOverruled(costOfShort(s, level)),
      })
    },
  }
}

/**
 * Practica musicae, 1496, II.11 and 13: two minims alone before a dot or another breve, the second altered, take the whole
 * third of a breve of nine (option twoMinims).
 */
function pairTakesWhole(s: Situation): boolean {
  if (s.settings["twoMinims"] !== "whole-by-alteration") return false
  const { level } = s.figure
  const { next: first, second } = s
  if (first?.level !== level + 2 || second?.level !== level + 2 || first.dot !== undefined) return false
  return second.dot !== undefined || (isPair(s, level + 1) && (s.run(level)?.units ?? 0) <= 1)
}

/** Two stand before the next note of this level, or a larger one. */
const isPair = (s: Situation, level: number): boolean => s.run(level)?.units === 2

export function imperfectioAParteAnte(...sources: Source[]): Rule {
  return {
    id: "imperfectio-a-parte-ante",
    sources,
    at: "inside",
    appliesTo: perfectGate,
    propose(s) {
      const f = s.figure
      if (!isFreeNote(f) || !isPerfectAt(s, f.level) || f.dotGiven === "aug") return
      const unit = unitOf(s, f.level)
      const carries = s.front === 2 * unit && !s.shifted
      if (s.front !== unit && !carries) return
      const cost = likeCost(s) + lockedByDot(s) + costOfParts(s)
      if (!carries) return s.offer("imperfectio-a-parte-ante", f.full - unit, cost, { front: unit })
      const against = s.settings["pendingPolicy"] === "complete-first" ? AGAINST_COMPLETING : 0
      s.offer("imperfectio-a-parte-ante", f.full - unit, cost + carryCost(s) + against, { front: unit, shift: unit })
    },
  }
}

/** Imperfection of parts only: from the front, from behind, or both. */
export function imperfectioAdPartem(...sources: Source[]): Rule {
  return {
    id: "imperfectio-ad-partem",
    sources,
    appliesTo: partsGate,
    propose(s) {
      if (!isFreeNote(s.figure) || dotLocks(s)) return
      offerParts(s, false, "imperfectio-ad-partem")
      offerMinimInMinor(s)
    },
  }
}

/** Reported and rejected by the treatises: a lone minim shortens a breve of perfect tempus and minor prolation (option minimInMinorProlation). */
function offerMinimInMinor(s: Situation): void {
  const { divisions, full } = s.mensuration
  const f = s.figure
  if (s.settings["minimInMinorProlation"] !== "true" || f.level !== BREVIS || s.front !== 0 || f.dot !== undefined)
    return
  if (divisions[BREVIS] !== 3 || divisions[SEMIBREVIS] !== 2) return
  const alone = s.next?.level === MINIMA && (s.second === undefined || s.second.level <= BREVIS)
  const minim = full[MINIMA]!
  if (alone) s.offer("imperfectio-ad-partem", f.full - minim, LONE_MINIM, { back: minim })
}

export function imperfectioAdTotumEtPartem(...sources: Source[]): Rule {
  return {
    id: "imperfectio-ad-totum-et-partem",
    sources,
    appliesTo: partsGate,
    propose(s) {
      if (!isFreeNote(s.figure) || dotLocks(s) || !isPerfectAt(s, s.figure.level)) return
      offerParts(s, true, "imperfectio-ad-totum-et-partem")
    },
  }
}

const NO_LOSS: Loss = { whole: 0, parts: 0 }

/** Offers every loss of parts that the front and what follows allow; `withWhole`: those with the whole third beside. */
function offerParts(s: Situation, withWhole: boolean, rule: RuleId): void {
  const { front } = s
  const { level, full } = s.figure
  const fromFront = front === 0 ? NO_LOSS : partsOf(s, front)
  if (fromFront === undefined || (front > 0 && likeForbids(s, fromFront))) return
  const third = isPerfectAt(s, level) ? unitOf(s, level) : Infinity
  for (const back of pricesOf(s).backs) {
    const amount = front + back.amount
    // the whole third is lost once at the most
    if (amount === 0 || (fromFront.whole > 0 && back.amount >= third)) continue
    const lost = partsOf(s, amount)
    if (lost === undefined || lost.parts === 0 || lost.whole > 0 !== withWhole) continue
    const opening = front === 0 && back.level > MODUS_LEVEL ? opens(s, WHOLE) : NOBODY
    s.offer(rule, full - amount, costOfLoss(s, lost, back), { front, back: back.amount, opening })
  }
}

/** Its like keeps a note from losing its third at the front; by option (likeProtectsParts) it keeps the parts too. */
const likeForbids = (s: Situation, lost: Loss): boolean =>
  likeFollows(s) && (s.settings["likeProtectsParts"] === "true" || (lost.whole > 0 && lost.parts === 0))

function costOfLoss(s: Situation, lost: Loss, back: Prices["backs"][number]): Cost {
  const whole = back.level >= 0 ? costOfWhole(s, back.level) : 0
  const elsewhere = s.front > 0 ? costOfParts(s, back.level) : whole
  return partCost(s, lost.parts) + back.cost + elsewhere + (s.front > 0 && lost.whole > 0 ? likeCost(s) : 0)
}

/** Half a unit before and half after one note. */
export function imperfectioAbUtraqueParte(...sources: Source[]): Rule {
  return {
    id: "imperfectio-ab-utraque-parte",
    sources,
    at: "inside",
    appliesTo: perfectGate,
    propose(s) {
      const level = s.figure.level
      if (!isFreeNote(s.figure) || dotLocks(s) || !isPerfectAt(s, level) || !smallerFollows(s)) return
      const unit = unitOf(s, level)
      if (s.front <= 0 || s.front >= unit || likeFollows(s)) return
      s.offer("imperfectio-ab-utraque-parte", s.figure.full - unit, s.weights.splitUnit, {
        front: s.front,
        back: unit - s.front,
      })
    },
  }
}
