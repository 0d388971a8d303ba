/**
 * How likely each cutting of a run of semibreves into breves is: by dots, stems, ligatures, syllables and number.
 *
 * Counted in edited motets (theory: observed habits): no dot ever stands inside a breve, but only two thirds to four
 * fifths of the boundaries between semibreves carry one; a run of four to six each with its own syllable is nearly always
 * one breve; an untexted four is one breve 27 to 7 in 1315-25 and two breves 13 to 1 about 1300; undivided five is 3+2
 * forty times, 2+3 four times, one breve eleven times; six 2+2+2 fifteen, 3+3 four, one breve seven; seven 2+3+2.
 * The compendia of c. 1290 teach pairs with the last three of an odd run equal: kept where a voice has no words.
 * The costs are estimates that give these numbers back (docs/weights.md shows what comes of them).
 */
import type { DraftFigure } from "./draft-figure.js"
import { isMarkedAfter, isMarkedBefore, type GroupPlan, type PlannedInput } from "./semibreve-plan.js"

/** A boundary without dot or stroke, by what else stands there. */
const BOUNDARY = {
  /** In the middle of a ligature: ligatures are not cut. */
  inLigature: 4,
  /** A stem down begins a group. */
  atStem: 0,
  /** At the edge of a ligature groups often part. */
  atLigature: 0.1,
  /** Nothing marks it: dear in 1315-25, and where the scribe sets dots elsewhere (by how much tells his habit, where a breve holds many). */
  unmarkedEarly: 1.2,
  unmarkedAmongDots: 1,
  unmarked: 0.25,
  /** The note after it has no syllable, though others have. */
  withoutSyllable: 0.9,
  /** Every note of a run of four to six has its syllable: such a run is one breve, fifteen to one. */
  syllabic: 2.7,
  /** The run is marked as a whole: nine to one against cutting it. */
  inMarkedRun: 2.2,
}

/** What stands inside a group although it usually parts groups. */
const INSIDE = { stem: 1.6, ligatureEarly: 1.5, ligature: 2 }

/** The number of semibreves in a group. */
const SIZE = {
  /** In 1315-25 two to six are usual, two a little less. */
  earlyPair: 0.1,
  earlyLarge: 1.5,
  /** A semibreve alone is an error. */
  alone: 5,
  /** Four and more where a breve holds two or three. */
  untaught: 9,
  /** Four, each with its own syllable, and each one more. */
  syllabicFour: 0.2,
  syllabicMore: 0.1,
  /** Four and more that are marked as one breve, and that are not. */
  markedMany: 0.4,
  unmarkedMany: 2.6,
}

/** Three semibreves in a longer run. */
const TRIPLE = {
  /** Two threes in place of three pairs, where the option asks for them and where not. */
  wantedInSix: -0.6,
  inEven: 0.6,
  /** An odd run without words has its three at the end (compendia, c. 1290). */
  last: 0.2,
  notLast: 1.9,
  /** With words the three go before the last pair; at the head of seven and more seldom. */
  lastTexted: 2.4,
  notLastTexted: 0.2,
  headOfLong: 0.8,
}

/** Prices within the group that was priced last, but for those that are nothing. */
const within: number[] = []

/**
 * What it costs to take one, two, and up to `room` semibreves from `i` as one breve, written to `costs` by their number.
 * False where no rule lets an undivided run be cut at `i`.
 */
export function layGroupCosts(input: PlannedInput, i: number, room: number, costs: number[]): boolean {
  const { plan, figures } = input
  const cuts = i > plan.from[i]!
  if (cuts && !plan.undividedAllowed) return false
  const boundary = cuts ? boundaryCost(plan, figures, i) : 0
  let priced = 0
  for (let size = 1; size <= room; size++) {
    const inside = size === 1 ? 0 : insideCost(plan, figures, i + size - 1)
    if (inside !== 0) within[priced++] = inside
    let cost = sizeCost(input, i, size) + boundary
    for (let n = 0; n < priced; n++) cost += within[n]!
    costs[size] = cost
  }
  return true
}

/** What it costs to take `size` semibreves from `i` as one breve; Infinity where no rule lets an undivided run be cut. */
export function groupCost(input: PlannedInput, i: number, size: number): number {
  const costs: number[] = []
  return layGroupCosts(input, i, size, costs) ? costs[size]! : Infinity
}

/** A boundary without dot or stroke before figure `i`. */
function boundaryCost(plan: GroupPlan, figures: readonly DraftFigure[], i: number): number {
  const figure = figures[i]!
  const before = figures[i - 1]!
  if (figure.ligature >= 0 && figure.ligature === before.ligature && !figure.conjunctura) return BOUNDARY.inLigature
  if (figure.stemDown || figure.stemOblique) return BOUNDARY.atStem
  const edge = figure.ligatureStart || before.ligatureEnd
  const run = plan.to[i]! - plan.from[i]!
  const syllables = countSyllables(plan, plan.from[i]!, plan.to[i]!)
  let cost = edge ? BOUNDARY.atLigature : unmarkedCost(plan)
  if (figure.texted && syllables > 0 && !figure.syllable && !figure.rest && !edge) cost += BOUNDARY.withoutSyllable
  if (syllables === run && run >= 4 && run <= 6 && plan.many) cost += BOUNDARY.syllabic
  if ((isFenced(plan, i) && plan.many && run <= 9) || undividedIsOne(plan, figures, i)) cost += BOUNDARY.inMarkedRun
  return cost
}

function unmarkedCost(plan: GroupPlan): number {
  const { boundary } = plan.habits
  if (plan.early) return BOUNDARY.unmarkedEarly + boundary
  if (plan.many) return Math.max(0, BOUNDARY.unmarked + boundary)
  return plan.voiceDots ? BOUNDARY.unmarkedAmongDots : BOUNDARY.unmarked
}

function insideCost(plan: GroupPlan, figures: readonly DraftFigure[], at: number): number {
  const figure = figures[at]!
  let cost = 0
  if (figure.stemDown && plan.early) cost += INSIDE.stem
  if ((figure.ligatureStart || figures[at - 1]!.ligatureEnd) && !figure.conjunctura)
    cost += plan.early ? INSIDE.ligatureEarly : INSIDE.ligature
  return cost
}

const countSyllables = ({ syllables }: GroupPlan, from: number, to: number): number => syllables[to]! - syllables[from]!

function sizeCost(input: PlannedInput, i: number, size: number): number {
  const { plan } = input
  if (plan.early) return earlyCost(plan, i, size)
  if (size === 1) return SIZE.alone
  if (size === 2) return 0
  if (size === 3) return tripleCost(input, i)
  return plan.many ? manyCost(plan, input.figures, i, size) : SIZE.untaught
}

/** A run that is left whole costs the same in every voice: sizes are weighed against each other where it is cut. */
function earlyCost({ from, to, habits: { sizes } }: GroupPlan, i: number, size: number): number {
  const uncut = i === from[i] ? (sizes[to[i]! - i] ?? 0) : 0
  const own = sizes[size]! - uncut
  return own + (size <= 6 ? (size === 2 ? SIZE.earlyPair : 0) : SIZE.earlyLarge)
}

function manyCost(plan: GroupPlan, figures: readonly DraftFigure[], i: number, size: number): number {
  if (countSyllables(plan, i, i + size) === size) return SIZE.syllabicFour + SIZE.syllabicMore * (size - 4)
  const whole = i === plan.from[i] && i + size === plan.to[i]
  return whole && (isFenced(plan, i) || undividedIsOne(plan, figures, i)) ? SIZE.markedMany : SIZE.unmarkedMany
}

/** Undivided four, and five to seven with a dot after them, are one breve (Regule cum maximis, 1326, IV.8a). */
function undividedIsOne(plan: GroupPlan, figures: readonly DraftFigure[], i: number): boolean {
  const run = plan.to[i]! - plan.from[i]!
  if (!plan.byRule || figures[i]!.texted) return false
  return run === 4 || (run >= 5 && run <= 7 && isMarkedAfter(plan, i))
}

/** Dots or strokes stand on both sides of the run. */
const isFenced = (plan: GroupPlan, i: number): boolean => isMarkedBefore(plan, i) && isMarkedAfter(plan, i)

/** Where the three stand in an odd run: last by the compendia, before the last pair in texted motets. */
function tripleCost({ plan, figures, settings }: PlannedInput, i: number): number {
  const [from, to] = [plan.from[i]!, plan.to[i]!]
  const run = to - from
  if (run === 3) return 0
  if (run % 2 === 0) return run === 6 && settings["undividedSix"] === "threes" ? TRIPLE.wantedInSix : TRIPLE.inEven
  const texted = plan.many || (figures[i]!.texted && countSyllables(plan, from, to) > 0)
  const last = i + 3 === to
  if (!texted) return last ? TRIPLE.last : TRIPLE.notLast
  if (last) return TRIPLE.lastTexted
  return run >= 7 && i === from ? TRIPLE.headOfLong : TRIPLE.notLastTexted
}

/** A plain semibreve read by itself where groups are usual (c. 1315-25), and the same in the first count of a run. */
const SINGLE = 4
export const SINGLE_IN_RUN = 1.5

/** What a semibreve read by itself costs: only one that stands alone is no group, and one that a ligature sets apart may be. */
export function singleCost(plan: GroupPlan, figures: readonly DraftFigure[], i: number): number {
  if (plan.to[i]! - plan.from[i]! <= 1) return 0
  const apart = figures[i + 1]?.ligatureStart === true || figures[i - 1]?.ligatureEnd === true
  return apart && figures[i]!.ligature < 0 ? SINGLE : Infinity
}
