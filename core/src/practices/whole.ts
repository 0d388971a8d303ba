/** Why a note stays whole. */
import { LONGA } from "./mensuration.js"
import { costOfWhole, isOverruled } from "./prices.js"
import {
  dotKeepsWhole,
  isPerfectAt,
  likeFollows,
  markedGate,
  mayBeDotOfPerfection,
  mayBeWhole,
  opens,
  runAfter,
  smallerFollows,
  smallerNear,
  wholeGate,
} from "./situation.js"
import { NOBODY, type Rule, type RuleId, type Situation, type Source, WHOLE } from "./types.js"

/**
 * A dot after a note that is perfect anyhow, for its like follows, mostly parts larger perfections; but it may be superfluous
 * (Tractatus super punctis musicalibus, 1470s, 15), by estimate once in eight.
 */
const SUPERFLUOUS_DOT = 2

export function similisAnteSimilem(...sources: Source[]): Rule {
  return {
    id: "similis-ante-similem",
    sources,
    at: "start",
    appliesTo: wholeGate,
    propose(s) {
      if (!mayBeWhole(s) || !likeFollows(s) || !isPerfectAt(s, s.figure.level) || dotKeepsWhole(s)) return
      s.offer("similis-ante-similem", s.figure.full, 0, { opening: NOBODY })
      const { dot, dotGiven } = s.figure
      if (dot === undefined || dotGiven === "div" || !mayBeDotOfPerfection(s)) return
      s.offer("similis-ante-similem", s.figure.full, SUPERFLUOUS_DOT, { opening: NOBODY, dot: "perfection" })
    },
  }
}

export function numberComplete(...sources: Source[]): Rule {
  return {
    id: "number-complete",
    sources,
    at: "start",
    appliesTo: wholeGate,
    propose(s) {
      if (mayBeWhole(s) && !likeBinds(s) && fillsWithoutIt(s)) offerWhole(s, "number-complete")
    },
  }
}

export function nothingActs(...sources: Source[]): Rule {
  return {
    id: "nothing-acts",
    sources,
    at: "start",
    appliesTo: wholeGate,
    propose(s) {
      if (mayBeWhole(s) && !likeBinds(s) && !fillsWithoutIt(s)) offerWhole(s, "nothing-acts")
    },
  }
}

function offerWhole(s: Situation, rule: RuleId): void {
  const cost = costOfWhole(s)
  s.offer(rule, s.figure.full, cost, { opening: opens(s, WHOLE), overruled: isOverruled(cost) })
}

const likeBinds = (s: Situation): boolean => (likeFollows(s) && isPerfectAt(s, s.figure.level)) || dotKeepsWhole(s)

/** What follows fills perfections by itself. */
function fillsWithoutIt(s: Situation): boolean {
  if (!smallerFollows(s)) return false
  for (const level of s.mensuration.perfect) if (level >= s.figure.level && runAfter(s, level).units >= 2) return true
  return false
}

/** Nothing needs the dot for the note's sake, so that it may as well part larger perfections (1 : 1.5). */
const RATHER_DIVISION = 0.4

export function punctusPerfectionis(...sources: Source[]): Rule {
  return {
    id: "punctus-perfectionis",
    sources,
    at: "start",
    appliesTo: markedGate,
    propose(s) {
      if (!mayBeWhole(s)) return
      const { full, level } = s.figure
      if (strokeKeepsLong(s)) s.offer("punctus-perfectionis", full, 0)
      if (!dotKeepsWhole(s)) return
      const sure = s.figure.dotGiven === "perf" || smallerNear(s) || level === 0 || !isPerfectAt(s, level - 1)
      s.offer("punctus-perfectionis", full, sure ? 0 : RATHER_DIVISION, { dot: sure ? "perfection" : "division" })
    },
  }
}

/** Before the Ars nova a stroke after a long does what later a dot does. */
function strokeKeepsLong(s: Situation): boolean {
  const f = s.figure
  return f.level === LONGA && f.stroke !== undefined && !f.strokeGroup && f.dot === undefined && isPerfectAt(s, LONGA)
}
