/** Why a note stays whole. */
import { LONGA } from "./mensuration.js"
import { costOfWhole } from "./prices.js"
import {
  dotKeepsWhole,
  isPerfectAt,
  likeFollows,
  markedGate,
  mayBeWhole,
  neighbourWouldTake,
  opens,
  runAfter,
  smallerFollows,
  wholeGate,
} from "./situation.js"
import { NOBODY, type Rule, type Situation, type Source, WHOLE } from "./types.js"

export function similisAnteSimilem(...sources: Source[]): Rule {
  return {
    id: "similis-ante-similem",
    sources,
    appliesTo: wholeGate,
    propose(s) {
      if (mayBeWhole(s) && likeFollows(s) && isPerfectAt(s, s.figure.level) && !dotKeepsWhole(s))
        s.offer("similis-ante-similem", s.figure.full, 0, { opening: NOBODY })
    },
  }
}

export function numberComplete(...sources: Source[]): Rule {
  return {
    id: "number-complete",
    sources,
    appliesTo: wholeGate,
    propose(s) {
      if (!mayBeWhole(s) || likeBinds(s) || !fillsWithoutIt(s)) return
      const cost = costOfWhole(s)
      s.offer("number-complete", s.figure.full, cost, { opening: opens(s, WHOLE), overruled: cost > 0.9 })
    },
  }
}

export function nothingActs(...sources: Source[]): Rule {
  return {
    id: "nothing-acts",
    sources,
    appliesTo: wholeGate,
    propose(s) {
      if (!mayBeWhole(s) || likeBinds(s) || fillsWithoutIt(s)) return
      const cost = costOfWhole(s)
      s.offer("nothing-acts", s.figure.full, cost, { opening: opens(s, WHOLE), overruled: cost > 0.9 })
    },
  }
}

const likeBinds = (s: Situation): boolean => (likeFollows(s) && isPerfectAt(s, s.figure.level)) || dotKeepsWhole(s)

function fillsWithoutIt(s: Situation): boolean {
  if (!smallerFollows(s)) return false
  for (const level of s.mensuration.perfect) if (level >= s.figure.level && runAfter(s, level).units >= 2) return true
  return false
}

export function punctusPerfectionis(...sources: Source[]): Rule {
  return {
    id: "punctus-perfectionis",
    sources,
    appliesTo: markedGate,
    propose(s) {
      const f = s.figure
      if (!mayBeWhole(s)) return
      if (
        f.stroke !== undefined &&
        !f.strokeGroup &&
        isPerfectAt(s, f.level) &&
        f.level === LONGA &&
        f.dot === undefined
      )
        s.offer("punctus-perfectionis", f.full, 0)
      if (!dotKeepsWhole(s)) return
      const wouldGive = neighbourWouldTake(s)
      const third = f.level > 0 && isPerfectAt(s, f.level - 1)
      s.offer("punctus-perfectionis", f.full, wouldGive || !third ? 0 : 0.4, {
        dot: wouldGive || !third ? "perfection" : "division",
      })
    },
  }
}
