/** What makes a note lose a third, or parts. */
import { LONGA } from "./mensuration.js"
import { costOfParts, costOfShort, costOfWhole, pricesOf } from "./prices.js"
import {
  dotLocks,
  isFreeNote,
  isPerfectAt,
  likeCost,
  likeFollows,
  lockedByDot,
  opens,
  partCost,
  partsGate,
  partsOf,
  perfectGate,
  smallerFollows,
  unitOf,
} from "./situation.js"
import { NOBODY, type Rule, SHORTENED, type Situation, type Source, WHOLE } from "./types.js"

export function imperfectioAPartePost(...sources: Source[]): Rule {
  return {
    id: "imperfectio-a-parte-post",
    sources,
    appliesTo: perfectGate,
    propose(s) {
      const level = s.figure.level
      if (!isFreeNote(s.figure) || s.front !== 0 || !isPerfectAt(s, level) || !smallerFollows(s)) return
      const unit = unitOf(s, level)
      const cost = costOfShort(s, level) + costOfWhole(s, level) - (pairTakesWhole(s) ? 5 : 0)
      s.offer("imperfectio-a-parte-post", s.figure.full - unit, cost, {
        back: unit,
        opening: opens(s, SHORTENED),
        overruled: costOfShort(s, level) > 0.9,
      })
    },
  }
}

/** Practica musicae, 1496: two minims before a dot, the second altered, take the whole third of a breve of nine (option twoMinims). */
function pairTakesWhole(s: Situation): boolean {
  if (s.settings["twoMinims"] !== "whole-by-alteration") return false
  const [first, second] = [s.next, s.ahead(2)]
  return (
    first !== undefined &&
    second !== undefined &&
    first.level === s.figure.level + 2 &&
    second.level === first.level &&
    first.dot === undefined &&
    second.dot !== undefined
  )
}

export function imperfectioAParteAnte(...sources: Source[]): Rule {
  return {
    id: "imperfectio-a-parte-ante",
    sources,
    appliesTo: perfectGate,
    propose(s) {
      const level = s.figure.level
      if (!isFreeNote(s.figure) || !isPerfectAt(s, level)) return
      const unit = unitOf(s, level)
      if (s.figure.dotGiven === "aug") return
      const cost = likeCost(s) + lockedByDot(s) + costOfParts(s)
      if (s.front === unit) s.offer("imperfectio-a-parte-ante", s.figure.full - unit, cost, { front: unit })
      if (s.front === 2 * unit && !s.shifted)
        s.offer(
          "imperfectio-a-parte-ante",
          s.figure.full - unit,
          cost +
            (level === LONGA ? s.weights.carryModus : s.weights.carry) +
            (s.settings["pendingPolicy"] === "complete-first" ? 2.5 : 0),
          { front: unit, shift: unit },
        )
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
  if (
    s.settings["minimInMinorProlation"] !== "true" ||
    f.level !== 2 ||
    divisions[2] !== 3 ||
    divisions[3] !== 2 ||
    s.front !== 0 ||
    f.dot !== undefined
  )
    return
  const second = s.ahead(2)
  if (s.next?.level === 4 && (second === undefined || second.level <= 2))
    s.offer("imperfectio-ad-partem", f.full - full[4]!, 0.3, { back: full[4]! })
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

function offerParts(s: Situation, withWhole: boolean, rule: string): void {
  const { front } = s
  const fromFront = front === 0 ? { whole: 0, parts: 0 } : partsOf(s, front)
  if (fromFront === undefined) return
  if (front > 0 && likeFollows(s) && (fromFront.whole > 0 || s.settings["likeProtectsParts"] === "true")) {
    if (fromFront.parts === 0 || s.settings["likeProtectsParts"] === "true") return
  }
  for (const back of pricesOf(s).backs) {
    const amount = front + back.amount
    if (amount === 0) continue
    const lost = partsOf(s, amount)
    if (lost === undefined || lost.parts === 0 || lost.whole > 0 !== withWhole) continue
    if (fromFront.whole > 0 && back.amount >= unitOf(s, s.figure.level) && isPerfectAt(s, s.figure.level)) continue
    const elsewhere = front > 0 ? costOfParts(s, back.level) : back.level >= 0 ? costOfWhole(s, back.level) : 0
    const cost = partCost(s, lost.parts) + back.cost + elsewhere + (front > 0 && lost.whole > 0 ? likeCost(s) : 0)
    s.offer(rule, s.figure.full - amount, cost, {
      front,
      back: back.amount,
      opening: front === 0 && back.level > 1 ? opens(s, WHOLE) : NOBODY,
    })
  }
}

/** Half a unit before and half after one note. */
export function imperfectioAbUtraqueParte(...sources: Source[]): Rule {
  return {
    id: "imperfectio-ab-utraque-parte",
    sources,
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
