/** The rules that neither shorten nor double by perfection: what is carried past, taken as written, rests, added by a dot. */
import { BREVIS, MINIMA, SEMIBREVIS, SEMIMINIMA } from "./mensuration.js"
import {
  carryCost,
  dottedGate,
  imperfectGate,
  isFreeNote,
  isPerfectAt,
  mayBeDotOfPerfection,
  restGate,
  smallerNear,
  unitOf,
  wholeGate,
} from "./situation.js"
import type { Cost, Rule, Situation, Source } from "./types.js"

/** A unit waits for its fellow although two thirds stand there already, to be closed by the next (1 : 2.2). */
const WAITS = 0.8
/** Option syncopateAcrossLargerRest denies that a unit is carried past a larger rest (1 : 7). */
const PAST_LARGER_REST = 2
/** Option dotAfterMinim: a dot after a minim only divides (1 : 400). */
const AGAINST_DIVISION_ONLY = 6
/** Before groups of plain semibreves, each a breve: half a breve more would leave them athwart, and no dot was ever counted there (1 : 400). */
const BEFORE_PLAIN_GROUPS = 6

/** A figure counted past the perfection it stands in: its unit is completed by later ones. */
export function syncopatio(...sources: Source[]): Rule {
  return {
    id: "syncopatio",
    sources,
    at: "inside",
    appliesTo: wholeGate,
    propose(s) {
      const f = s.figure
      if (!isFreeNote(f) || s.front === 0 || !(s.mensuration.anchor[f.level]! > 0) || f.dotGiven === "aug") return
      if (s.shifted) return
      const waits =
        s.settings["pendingPolicy"] !== "complete-first" &&
        isPerfectAt(s, f.level) &&
        s.front === 2 * unitOf(s, f.level)
      s.offer("syncopatio", f.full, carryCost(s) + (waits ? WAITS : 0), {
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
      const pastLarger = s.shifted && f.level <= BREVIS && s.settings["syncopateAcrossLargerRest"] === "false"
      s.offer("pausa-manet", f.full, pastLarger ? PAST_LARGER_REST : 0)
    },
  }
}

/** Below the minim, and wherever a note is imperfect at its level: half is added. */
export function punctusAdditionis(...sources: Source[]): Rule {
  return {
    id: "punctus-additionis",
    sources,
    at: "start",
    appliesTo: dottedGate,
    propose(s) {
      const f = s.figure
      if (f.dot === undefined || f.dotGiven === "div" || f.dotGiven === "perf" || f.fixed !== undefined || f.localShape)
        return
      if (!canBeLengthened(s)) return
      const body = f.colouredTicks ?? f.full
      if (s.front !== 0 && s.mensuration.anchor[f.level]! > 0) return
      s.offer("punctus-additionis", body + body / 2, costOfAddition(s), { dot: "augmentation" })
    },
  }
}

/** A rest by option only; a note where it is imperfect, by its mensuration or its colour, or where the file says so. */
function canBeLengthened(s: Situation): boolean {
  const f = s.figure
  if (f.rest) return s.settings["dottedRests"] === "true"
  return s.mensuration.divisions[f.level] !== 3 || f.colouredTicks !== undefined || f.dotGiven === "aug"
}

/** The table of dots: addition unless the note is a third of a perfect one and nothing stands by to be counted with the dot. */
function costOfAddition(s: Situation): Cost {
  const f = s.figure
  if (f.dotGiven === "aug" || f.level >= SEMIMINIMA || f.colouredTicks !== undefined) return 0
  if (f.level === MINIMA && s.settings["dotAfterMinim"] === "division-only") return AGAINST_DIVISION_ONLY
  if (s.settings["minims"] === "unwritten" && f.level === BREVIS && s.next?.level === SEMIBREVIS)
    return BEFORE_PLAIN_GROUPS
  if (f.level === 0 || !isPerfectAt(s, f.level - 1)) return 0
  return smallerNear(s) ? 0 : s.weights.dotAgainstTable
}
