/** What doubles a note. */
import { MODUS_LEVEL, TEMPUS_LEVEL } from "./levels.js"
import { MINIMA, SEMIBREVIS } from "./mensuration.js"
import { alterableGate, isFreeNote, isPerfectAt, partCost, partsOf, walled } from "./situation.js"
import type { Cost, Rule, Situation, Source } from "./types.js"

/** Whether the figure's next larger, or its rest, follows at once. */
function largerFollows(s: Situation, larger: number): boolean {
  const next = s.next
  if (next === undefined || next.shortLongRest) return false
  if (next.level === larger) return true
  if (next.level === larger - 1 && larger === SEMIBREVIS && isPerfectAt(s, next.level) && !next.rest)
    // Practica musicae, 1496, II.13: the second of two minims between breves of nine
    if (s.settings["twoMinims"] === "whole-by-alteration") return true
  const remote = s.settings["alterBeforeRemoteLarger"]
  return next.level < larger && !next.rest && (remote === "true" || (remote === "modus" && larger === MODUS_LEVEL))
}

const alterableShape = (s: Situation): boolean => {
  const f = s.figure
  return isFreeNote(f) && !f.coloured && f.level > 0 && f.level <= MINIMA && f.dotGiven !== "aug"
}

/** Where the figure is the second of two units; how much it lost at its front. */
function placeOfSecond(s: Situation): number | undefined {
  const larger = s.figure.level - 1
  if (larger < 0 || !isPerfectAt(s, larger) || !alterableShape(s)) return undefined
  const filled = s.position % s.mensuration.full[larger]!
  const past = filled - s.figure.full
  // a unit that waits from before is counted with the two: nothing is doubled (Tractatus alterationum, 1470s, 1)
  if (s.carrying || (wallBefore(s) && s.settings["alterBeforeWall"] !== "true")) return undefined
  return past >= 0 && past < s.figure.full ? past : undefined
}

/** A dot or stroke stands between the two units; a dot that lengthens the first is none. */
function wallBefore(s: Situation): boolean {
  const before = s.previous
  if (before === undefined || !walled(before)) return false
  return before.dot === undefined || s.previousDot !== "augmentation"
}

/** A dot after it stands between it and the larger note: only some practices alter before a wall. */
function wallAllowsAlteration(s: Situation): boolean {
  const f = s.figure
  if (f.stroke !== undefined && !f.strokeGroup) return s.settings["alterBeforeWall"] === "true"
  if (f.dot === undefined) return false
  return s.settings["alterBeforeWall"] === "true" || s.settings["twoMinims"] === "whole-by-alteration"
}

/** A remote larger note follows, not the next larger (1 : 1.8). */
const BEFORE_REMOTE = 0.6
/** Option ligatureCompletesPerfection: a ligated pair is always one and two, whatever else is cheaper. */
const LIGATED_PAIR = -2.5
/** A dot after an altered note, where the option does not say that it marks it; an altered note that is imperfected (1 : 2.2). */
const DOTTED = 0.8
const IMPERFECTED = 0.8

export function alteratio(...sources: Source[]): Rule {
  return {
    id: "alteratio",
    sources,
    at: "start",
    appliesTo: alterableGate,
    propose(s) {
      if (placeOfSecond(s) !== 0) return
      const f = s.figure
      const follows = largerFollows(s, f.level - 1)
      if (!endAllowsAlteration(s, follows) || dissentsFromAltering(s)) return
      if (s.previous?.rest && s.settings["restMayStandAsRecta"] === "false") return
      const dotted = f.dot !== undefined && follows && s.settings["alterBeforeWall"] !== "true"
      s.offer("alteratio", 2 * f.full, costOfAltering(s, follows, dotted), {
        counted: countedOnce(s, 2 * f.full),
        dot: dotted ? "alteration" : "none",
      })
    },
  }
}

/** The larger note follows at once, or a wall that the practice alters before. */
function endAllowsAlteration(s: Situation, follows: boolean): boolean {
  const f = s.figure
  return walled(f) && !(f.dot !== undefined && follows) ? wallAllowsAlteration(s) : follows
}

function costOfAltering(s: Situation, follows: boolean, dotted: boolean): Cost {
  const f = s.figure
  let cost = s.closesPair && s.settings["ligatureCompletesPerfection"] === "true" ? LIGATED_PAIR : 0
  if (follows && s.next!.level < f.level - 1) cost += BEFORE_REMOTE
  if (dotted && s.settings["dotOfAlteration"] !== "true") cost += DOTTED
  return cost
}

/** Among the units of the modus an altered breve is one; at lower levels the doubled note fills its perfection like any other. */
const countedOnce = (s: Situation, ticks: number): number => (s.figure.level === TEMPUS_LEVEL ? s.figure.full : ticks)

/** Summa de speculatione musicae, c. 1300, VI.4: at a start, the last of more than two is altered only where a dot sets the pair apart. */
function dissentsFromAltering(s: Situation): boolean {
  if (s.settings["alterWithoutDot"] !== "false") return false
  return !s.atOpening && s.position === s.mensuration.full[s.figure.level]!
}

export function alteratioEtImperfectio(...sources: Source[]): Rule {
  return {
    id: "alteratio-et-imperfectio",
    sources,
    appliesTo: alterableGate,
    propose(s) {
      if (s.settings["alteredMayBeImperfected"] !== "true") return
      const past = placeOfSecond(s)
      if (past === undefined || past === 0 || walled(s.figure) || !largerFollows(s, s.figure.level - 1)) return
      const lost = partsOf(s, past)
      if (lost === undefined) return
      s.offer("alteratio-et-imperfectio", 2 * s.figure.full - past, IMPERFECTED + partCost(s, lost.parts), {
        front: past,
        counted: countedOnce(s, 2 * s.figure.full - past),
      })
    },
  }
}
