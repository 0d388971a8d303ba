/** The rules that neither shorten nor double by perfection: what is carried past, taken as written, rests, added by a dot. */
import { LONGA, SEMIMINIMA } from "./mensuration.js"
import {
  companionNear,
  dottedGate,
  imperfectGate,
  isFreeNote,
  isPerfectAt,
  mayBeDotOfPerfection,
  restGate,
  unitOf,
  wholeGate,
} from "./situation.js"
import type { Rule, Situation, Source } from "./types.js"

/** A figure counted past the perfection it stands in: its unit is completed by later ones. */
export function syncopatio(...sources: Source[]): Rule {
  return {
    id: "syncopatio",
    sources,
    appliesTo: wholeGate,
    propose(s) {
      const f = s.figure
      if (!isFreeNote(f) || s.front === 0 || !(s.mensuration.anchor[f.level]! > 0) || f.dotGiven === "aug") return
      if (s.shifted) return
      const cost = f.level === LONGA ? s.weights.carryModus : s.weights.carry
      const waits =
        s.settings["pendingPolicy"] !== "complete-first" &&
        isPerfectAt(s, f.level) &&
        s.front === 2 * unitOf(s, f.level)
      s.offer("syncopatio", f.full, cost + (waits ? 0.8 : 0), {
        shift: s.front,
        dot: f.dot !== undefined && mayBeDotOfPerfection(s) ? "perfection" : "none",
      })
    },
  }
}

export function asWritten(...sources: Source[]): Rule {
  return {
    id: "as-written",
    sources,
    appliesTo: imperfectGate,
    propose(s) {
      const f = s.figure
      if (f.rest || !isFreeNote(f) || s.mensuration.anchor[f.level]! > 0) return
      if (f.dotGiven !== "aug") s.offer("as-written", f.full, 0)
    },
  }
}

export function pausaManet(...sources: Source[]): Rule {
  return {
    id: "pausa-manet",
    sources,
    appliesTo: restGate,
    propose(s) {
      const f = s.figure
      if (!f.rest || f.fixed !== undefined || f.colouredTicks !== undefined) return
      const pastLarger = s.shifted && f.level <= 2 && s.settings["syncopateAcrossLargerRest"] === "false"
      s.offer("pausa-manet", f.full, pastLarger ? 2 : 0)
    },
  }
}

/** Below the minim, and wherever a note is imperfect at its level: half is added. */
export function punctusAdditionis(...sources: Source[]): Rule {
  return {
    id: "punctus-additionis",
    sources,
    appliesTo: dottedGate,
    propose(s) {
      const f = s.figure
      if (f.dot === undefined || f.dotGiven === "div" || f.fixed !== undefined || f.localShape) return
      if (
        f.rest
          ? s.settings["dottedRests"] !== "true"
          : s.mensuration.divisions[f.level] === 3 && f.colouredTicks === undefined && f.dotGiven !== "aug"
      )
        return
      const body = f.colouredTicks ?? f.full
      if (s.front !== 0 && s.mensuration.anchor[f.level]! > 0) return
      s.offer("punctus-additionis", body + body / 2, costOfAddition(s), { dot: "augmentation" })
    },
  }
}

/** The table of dots: addition unless the note is a third of a perfect one and nothing stands by to be counted with the dot. */
function costOfAddition(s: Situation): number {
  const f = s.figure
  if (f.dotGiven === "aug" || f.level >= SEMIMINIMA || f.colouredTicks !== undefined) return 0
  if (f.level === 4 && s.settings["dotAfterMinim"] === "division-only") return 6
  if (f.level === 0 || !isPerfectAt(s, f.level - 1)) return 0
  return companionNear(s) ? 0 : s.weights.dotAgainstTable
}
