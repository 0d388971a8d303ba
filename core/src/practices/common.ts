/**
 * The rules that all practices of measured music share: why a note stays whole, what imperfects it, what is doubled,
 * what is carried over. Each factory takes the practice's own sources.
 */
import { groupPreference, type GroupRule } from "./group-preference.js"
import { LONGA, SEMIMINIMA } from "./mensuration.js"
import type { Figure, Prices, Run } from "./figures.js"
import type { Mensuration } from "./mensuration.js"
import { MODUS_LEVEL } from "./levels.js"
import { NOBODY, SHORTENED, WHOLE, type Rule, type Situation, type Source } from "./types.js"

const GROUP_OPTION = ["groupRule.modus", "groupRule.modus", "groupRule.tempus", "groupRule.prolatio"]

/** A run that nothing follows up: no cost either way. */
const EMPTY_RUN: Run = { units: 0, alterable: false, startsWithRest: false, until: -1 }

export function runAfter(s: Situation, level: number): Run {
  return s.figure.runs[level] ?? EMPTY_RUN
}

/** The count at the modus is weighed at the end of the run, when it is known; elsewhere at once. */
const weighedLater = (level: number): boolean => level === MODUS_LEVEL

/** Prices of a figure by its runs, worked out once. */
function pricesOf(s: Situation): Prices {
  return ((s.figure as { prices?: Prices }).prices ??= workOutPrices(s))
}

function workOutPrices(s: Situation): Prices {
  const whole = [0, 0, 0, 0]
  const short = [0, 0, 0, 0]
  for (const level of s.mensuration.perfect) {
    if (level < s.figure.level || (weighedLater(level) && level === s.figure.level)) continue
    const preference = groupPreference(groupRuleFor(s, level), level, runAfter(s, level))
    whole[level] = preference.whole
    short[level] = preference.short
  }
  return { whole, short, backs: possibleBacks(s, short) }
}

/** The older counting is stated for a note of just this level; a remote larger one counts by the remainder. */
function groupRuleFor(s: Situation, level: number): GroupRule {
  const rule = s.settings[GROUP_OPTION[level]!] as GroupRule
  return rule === "first-imperfect" && s.figure.level < level ? "by-threes" : rule
}

/**
 * What it costs to leave the note whole at all its perfect levels except `besides`.
 * At each the units that follow would rather have found a note to shorten, or not.
 */
function costOfWhole(s: Situation, besides = -1): number {
  const { whole } = pricesOf(s)
  let cost = 0
  for (let level = s.figure.level; level < 4; level++) if (level !== besides) cost += whole[level]!
  return cost
}

/** The same for its parts alone, when the whole has already given. */
function costOfParts(s: Situation, besides = -1): number {
  const { whole } = pricesOf(s)
  let cost = 0
  for (let level = s.figure.level + 1; level < 4; level++) if (level !== besides) cost += whole[level]!
  return cost
}

const costOfShort = (s: Situation, level: number): number => pricesOf(s).short[level]!

const isPerfectAt = (s: Situation, level: number): boolean => s.mensuration.counts[level] === true
/** A note that the rules of perfection may touch: no rest, no colour that acts, no explicit value, no local shape. */
const isFreeNote = (f: Figure): boolean =>
  !f.rest && f.colouredTicks === undefined && f.fixed === undefined && !f.localShape
const walled = (f: Figure): boolean => f.dot !== undefined || (f.stroke !== undefined && !f.strokeGroup)
const smallerFollows = (s: Situation): boolean =>
  s.next !== undefined && s.next.level > s.figure.level && !walled(s.figure)
/** Its like, sounding or silent, follows. A two-breve rest stands for a long here. */
const likeFollows = (s: Situation): boolean =>
  s.next !== undefined && (s.next.level === s.figure.level || (s.next.duplex && s.figure.level === LONGA))
/** Kinds of figure that a rule can speak of. */
const wholeGate = (f: Figure, m: Mensuration): boolean => isFreeNote(f) && m.anchor[f.level]! > 0
const perfectGate = (f: Figure, m: Mensuration): boolean => isFreeNote(f) && m.counts[f.level] === true
const partsGate = (f: Figure, m: Mensuration): boolean =>
  isFreeNote(f) && f.level < 4 && (m.perfect.some(k => k > f.level) || (f.level === 2 && m.counts[2] === true))
const alterableGate = (f: Figure, m: Mensuration): boolean =>
  isFreeNote(f) && f.level > 0 && m.counts[f.level - 1] === true
const markedGate = (f: Figure, m: Mensuration): boolean => wholeGate(f, m) && walled(f)
const imperfectGate = (f: Figure, m: Mensuration): boolean => isFreeNote(f) && m.anchor[f.level] === 0
const restGate = (f: Figure): boolean => f.rest
const dottedGate = (f: Figure): boolean => f.dot !== undefined
const unitOf = (s: Situation, level: number): number => s.mensuration.full[level + 1]!
const opens = (s: Situation, how: typeof WHOLE | typeof SHORTENED) =>
  s.figure.level === MODUS_LEVEL && isPerfectAt(s, MODUS_LEVEL) && !walled(s.figure) ? how : NOBODY

const mayBeWhole = (s: Situation): boolean =>
  isFreeNote(s.figure) && s.mensuration.anchor[s.figure.level]! > 0 && s.front === 0 && s.figure.dotGiven !== "aug"

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

/** The dot keeps a naturally perfect note whole (Tractatus super punctis musicalibus, 1470s, 6-10). */
function mayBeDotOfPerfection(s: Situation): boolean {
  return isPerfectAt(s, s.figure.level) && s.figure.dotGiven !== "aug"
}

/** The dot is, or may be, what keeps the note whole: a neighbour would take a third, or no larger perfection is there to divide. */
function dotKeepsWhole(s: Situation): boolean {
  if (s.figure.dot === undefined || !mayBeDotOfPerfection(s)) return false
  const third = s.figure.level > 0 && isPerfectAt(s, s.figure.level - 1)
  return !third || neighbourWouldTake(s) || !likeFollows(s)
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

/** A smaller figure next to it would imperfect it but for the dot. */
function neighbourWouldTake(s: Situation): boolean {
  const level = s.figure.level
  return (s.next !== undefined && s.next.level > level) || (s.previous !== undefined && s.previous.level > level)
}

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

/** A dotted perfect note refuses imperfection; a dot of division after a shortened one is rare but met. */
const lockedByDot = (s: Situation): number => (s.figure.dot !== undefined && mayBeDotOfPerfection(s) ? 2.4 : 0)

function likeCost(s: Situation): number {
  if (!likeFollows(s)) return 0
  return s.figure.level === LONGA ? s.weights.likeModus : s.weights.like
}

/** How many parts at which level make up `amount` lost by a note of `level`; undefined when it cannot be. */
export function partsOf(s: Situation, amount: number): { whole: number; parts: number } | undefined {
  const { full, perfect } = s.mensuration
  const level = s.figure.level
  let left = amount
  let whole = 0
  let parts = 0
  let room = 1
  let size = full[level]!
  for (const k of perfect) {
    if (k < level) continue
    const unit = full[k + 1]!
    const available = k === level ? 1 : Math.round((size / full[k]!) * room) - (k === level ? 0 : 0)
    const taken = Math.min(Math.floor(left / unit + 1e-9), available)
    left -= taken * unit
    if (k === level) whole = taken
    else parts += taken
    size -= taken * unit
    room = 1
  }
  return left === 0 ? { whole, parts } : undefined
}

const partCost = (s: Situation, parts: number): number =>
  parts === 0 ? 0 : s.weights.part + (parts - 1) * s.weights.morePart

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

const dotLocks = (s: Situation): boolean =>
  s.figure.dot !== undefined && (mayBeDotOfPerfection(s) || s.figure.dotGiven === "aug")

/** Amounts that can be lost behind, with what they cost: nothing, the whole third, one or two parts at each level, whole and part. */
function possibleBacks(s: Situation, short: readonly number[]): Prices["backs"] {
  const found = [{ amount: 0, cost: 0, level: -1 }]
  if (!smallerFollows(s)) return found
  const level = s.figure.level
  for (const k of s.mensuration.perfect) {
    const run = runAfter(s, k)
    if (k <= level || run.units === 0) continue
    const unit = unitOf(s, k)
    const two = Math.abs(run.units - 2) < 1e-9
    found.push({ amount: unit, cost: short[k]! + (two && s.settings["remoteTwo"] !== "split" ? 1.6 : 0), level: k })
    if (run.units >= 2 - 1e-9 && run.units < 3) found.push({ amount: 2 * unit, cost: twoRemote(s, run), level: k })
  }
  if (!isPerfectAt(s, level)) return found
  const own = unitOf(s, level)
  for (const part of found.slice(1)) found.push({ amount: part.amount + own, cost: short[level]! + 0.4, level: -2 })
  found.push({ amount: own, cost: short[level]!, level })
  return found
}

/** Two remote units: both to the note before, or parted (option remoteTwo). An alteration is preferred where it can be. */
function twoRemote(s: Situation, run: Run): number {
  const base = s.settings["remoteTwo"] === "split" ? 3 : 0
  if (!run.alterable) return base
  return base + (s.settings["remoteOverAlter"] === "true" ? -3 : 2.2)
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

/** Whether the figure's next larger, or its rest, follows at once. */
function largerFollows(s: Situation, larger: number): boolean {
  const next = s.next
  if (next === undefined || next.shortLongRest) return false
  if (next.level === larger) return true
  const remote = s.settings["alterBeforeRemoteLarger"]
  return next.level < larger && !next.rest && (remote === "true" || (remote === "modus" && larger === MODUS_LEVEL))
}

const alterableShape = (s: Situation): boolean => {
  const f = s.figure
  return isFreeNote(f) && !f.coloured && f.level > 0 && f.level <= 4 && f.dotGiven !== "aug"
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

export function alteratio(...sources: Source[]): Rule {
  return {
    id: "alteratio",
    sources,
    appliesTo: alterableGate,
    propose(s) {
      if (placeOfSecond(s) !== 0) return
      const f = s.figure
      const follows = largerFollows(s, f.level - 1)
      if (
        (walled(f) && !(f.dot !== undefined && follows) ? !wallAllowsAlteration(s) : !follows) ||
        dissentsFromAltering(s)
      )
        return
      if (s.previous?.rest && s.settings["restMayStandAsRecta"] === "false") return
      const remote = follows && s.next!.level < f.level - 1 ? 0.6 : 0
      const dotted = f.dot !== undefined && follows && s.settings["alterBeforeWall"] !== "true"
      const pair = f.ligatureEnd && s.previous?.ligatureStart === true && s.previous.ligature === f.ligature
      const wanted = pair && s.settings["ligatureCompletesPerfection"] === "true" ? -2.5 : 0
      const cost = wanted + remote + (dotted && s.settings["dotOfAlteration"] !== "true" ? 0.8 : 0)
      s.offer("alteratio", 2 * f.full, cost, {
        counted: countedOnce(s, 2 * f.full),
        dot: dotted ? "alteration" : "none",
      })
    },
  }
}

/** Among the units of the modus an altered breve is one; at lower levels the doubled note fills its perfection like any other. */
const countedOnce = (s: Situation, ticks: number): number =>
  s.figure.level === MODUS_LEVEL + 1 ? s.figure.full : ticks

/** Summa de speculatione musicae, c. 1300, VI.4: at a start, the last of more than two is altered only where a dot sets the pair apart. */
function dissentsFromAltering(s: Situation): boolean {
  if (s.settings["alterWithoutDot"] !== "false") return false
  return s.figure.index > 1 && s.position === s.mensuration.full[s.figure.level]!
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
      s.offer("alteratio-et-imperfectio", 2 * s.figure.full - past, 0.8 + partCost(s, lost.parts), {
        front: past,
        counted: countedOnce(s, 2 * s.figure.full - past),
      })
    },
  }
}

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

/** The next smaller value, or smaller ones, before or after, to be counted with the dot. */
export function companionNear(s: Situation): boolean {
  const smaller = (other: Figure | undefined): boolean => other !== undefined && other.level > s.figure.level
  return smaller(s.next) || smaller(s.previous)
}
