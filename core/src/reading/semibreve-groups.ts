/**
 * How a run of semibreves may be cut into groups, each a breve: what is likely, from dots, stems, ligatures, syllables
 * and number. Boundaries that nothing marks are allowed by the rule `semibreves-undivided`.
 *
 * Counted in edited motets (theory: observed habits): no dot ever stands inside a breve, but only two thirds to four
 * fifths of the boundaries between semibreves carry one; a run of four to six each with its own syllable is nearly always
 * one breve; an untexted four is one breve 27 to 7 in 1315-25 and two breves 13 to 1 about 1300; undivided five is 3+2
 * forty times, 2+3 four times, one breve eleven times; six 2+2+2 fifteen, 3+3 four, one breve seven; seven 2+3+2.
 * The compendia of c. 1290 teach pairs with the last three of an odd run equal: kept where a voice has no words.
 */
import {
  BREVIS,
  SEMIBREVIS,
  UNIT,
  type GroupValues,
  type Mensuration,
  type Practice,
  type Rule,
  type RuleId,
  type Settings,
} from "../practices/index.js"
import type { DraftFigure } from "./stretches.js"

export interface GroupOffer {
  readonly size: number
  readonly ticks: number
  readonly counted: number
  readonly cost: number
  readonly rules: readonly RuleId[]
  readonly parts: readonly (readonly [number, number])[]
  /** Fills the breve; false for a semibreve alone, which is an error and moves nothing. */
  readonly fills: boolean
  /** Neither its beginning nor its end is marked. */
  readonly undivided: boolean
  readonly altera: boolean
}

export interface GroupPlan {
  readonly early: boolean
  readonly many: boolean
  readonly undividedAllowed: boolean
  readonly voiceDots: boolean
  /** It is stated that breves hold many: without words the rule for undivided runs holds. */
  readonly byRule: boolean
  readonly rules: readonly Rule[]
  /** For each figure the run of semibreves without a mark inside in which it stands; from === to outside. */
  readonly from: readonly number[]
  readonly to: readonly number[]
  /** Whether a dot or stroke stands right before the run, and right after it. */
  readonly markedBefore: readonly boolean[]
  readonly markedAfter: readonly boolean[]
  readonly offers: Map<number, readonly GroupOffer[]>
}

const PRIORITY = ["stem-lengthens", "via-artis"]
const MOST = 9

/** The plan of a stretch; undefined where semibreves are read singly. */
export function planGroups(
  figures: readonly DraftFigure[],
  practice: Practice,
  settings: Settings,
  divisionStated: boolean,
): GroupPlan | undefined {
  const early = practice.unit === "minima"
  if (early && settings["minims"] !== "unwritten") return undefined
  const rules = practice.rules.filter(rule => rule.group !== undefined)
  rules.sort((a, b) => (PRIORITY.includes(b.id) ? 1 : 0) - (PRIORITY.includes(a.id) ? 1 : 0))
  const marks = figures.map(f => f.dot !== undefined || f.stroke !== undefined)
  const plan = { from: [] as number[], to: [] as number[], markedBefore: [] as boolean[], markedAfter: [] as boolean[] }
  for (let i = 0; i < figures.length;) {
    let end = i
    while (end < figures.length && groups(figures[end]!, early) && (end === i || !marks[end - 1]!)) end++
    const stop = Math.max(end, i + 1)
    for (let at = i; at < stop; at++) {
      plan.from.push(i)
      plan.to.push(end)
      plan.markedBefore.push(i > 0 && marks[i - 1]!)
      plan.markedAfter.push(end > i && marks[end - 1]!)
    }
    i = stop
  }
  const dots = figures.filter(
    (f, i) => marks[i] && groups(f, early) && figures[i + 1] !== undefined && groups(figures[i + 1]!, early),
  ).length
  return {
    ...plan,
    early,
    rules,
    voiceDots: dots >= 2,
    byRule: !early && divisionStated && settings["breveDivision"] !== "two-or-three",
    many: early || settings["breveDivision"] !== "two-or-three",
    undividedAllowed: early || practice.rules.some(rule => rule.id === "semibreves-undivided"),
    offers: new Map(),
  }
}

const groups = (f: DraftFigure, early: boolean): boolean =>
  f.fixed === undefined && (early ? f.level === SEMIBREVIS && f.colouredTicks === undefined : f.level >= SEMIBREVIS)

interface Input {
  readonly practice: Practice
  readonly settings: Settings
  readonly mensuration: Mensuration
  readonly figures: readonly DraftFigure[]
  readonly plan?: GroupPlan
}

export function groupEdges(input: Input, i: number, position: number): readonly GroupOffer[] {
  const { plan, mensuration, figures } = input
  if (plan === undefined || plan.to[i]! <= i) return []
  const breve = mensuration.full[BREVIS]!
  const offBeat = plan.early && mensuration.divisions[BREVIS] === 3 && position % breve !== 0
  let offers = plan.offers.get(i)
  if (offers === undefined) plan.offers.set(i, (offers = offersAt(input as Required<Input>, i)))
  if (offBeat) return []
  const altera = plan.early || plan.many ? [] : alteraOffers(input as Required<Input>, i, position)
  void figures
  return altera.length > 0 ? [...offers, ...altera] : offers
}

function offersAt(input: Required<Input>, i: number): GroupOffer[] {
  const { plan } = input
  const found: GroupOffer[] = []
  const room = Math.min(plan.to[i]! - i, MOST)
  for (let size = plan.early ? 2 : 1; size <= room; size++) {
    const offer = offerOf(input, i, size, groupCost(input, i, size))
    if (offer !== undefined) found.push(offer)
  }
  return found
}

function offerOf(input: Required<Input>, i: number, size: number, cost: number): GroupOffer | undefined {
  const { plan, figures, mensuration, settings } = input
  if (cost === Infinity) return undefined
  const values = valuesOf(plan, figures, i, size, mensuration, settings)
  if (values === undefined) return undefined
  const breve = mensuration.full[BREVIS]!
  const fills = size > 1 || plan.early
  const undivided = i > plan.from[i]! || i + size < plan.to[i]!
  const naming = undivided && !plan.early && !values.rules.includes("stem-lengthens") && size > 1 && size < 4
  return {
    size,
    ticks: breve,
    counted: breve,
    cost,
    parts: withRests(values.parts, figures, i, mensuration),
    fills,
    undivided,
    altera: false,
    rules: naming ? values.rules.map(() => "semibreves-undivided") : values.rules,
  }
}

function valuesOf(
  plan: GroupPlan,
  figures: readonly DraftFigure[],
  from: number,
  size: number,
  mensuration: Mensuration,
  settings: Settings,
): GroupValues | undefined {
  for (const rule of plan.rules) {
    const values = rule.group!({ figures, from, size, mensuration, settings })
    if (values !== undefined) return values
  }
  return undefined
}

/** Rests of known length keep it; the notes share what is left. */
function withRests(
  parts: GroupValues["parts"],
  figures: readonly DraftFigure[],
  from: number,
  mensuration: Mensuration,
): GroupValues["parts"] {
  const known = parts.map((_, n) => figures[from + n]!.rest && figures[from + n]!.restKnown)
  if (!known.includes(true) || parts.length < 2) return parts
  const breve = mensuration.full[BREVIS]!
  const thirds = parts.map((_, n) => (known[n] ? Math.round((figures[from + n]!.full * 3) / breve) : 0))
  const left = 3 - thirds.reduce((a, b) => a + b, 0)
  const notes = known.filter(k => !k).length
  if (left <= 0 || notes === 0) return parts
  return parts.map((_, n) => (known[n] ? ([thirds[n]!, 3] as const) : ([left, 3 * notes] as const)))
}

/** What it costs to take `size` semibreves from `i` as one breve. */
export function groupCost(input: Required<Input>, i: number, size: number): number {
  const { plan, figures } = input
  const [from, to] = [plan.from[i]!, plan.to[i]!]
  const run = to - from
  let cost = sizeCost(input, i, size)
  if (i > from) {
    if (!plan.undividedAllowed) return Infinity
    cost += boundaryCost(input, i, run)
  }
  for (let at = i + 1; at < i + size; at++) cost += insideCost(plan, figures, at)
  return cost
}

/** A boundary without dot or stroke before figure `i`. */
function boundaryCost(input: Required<Input>, i: number, run: number): number {
  const { plan, figures } = input
  const figure = figures[i]!
  const before = figures[i - 1]!
  if (figure.ligature >= 0 && figure.ligature === before.ligature && !figure.conjunctura) return 4
  if (figure.stemDown || figure.stemOblique) return 0
  const edge = figure.ligatureStart || before.ligatureEnd
  let cost = edge ? 0.1 : plan.early ? 1.2 : plan.voiceDots ? 1 : 0.25
  const syllables = countSyllables(figures, plan.from[i]!, plan.to[i]!)
  if (figure.texted && syllables > 0 && !figure.syllable && !figure.rest && !edge) cost += 0.9
  if (syllables === run && run >= 4 && run <= 6 && plan.many) cost += 2.7
  if ((isFenced(plan, i) && plan.many && run <= 9) || undividedIsOne(plan, figures, i)) cost += 2.2
  return cost
}

function insideCost(plan: GroupPlan, figures: readonly DraftFigure[], at: number): number {
  const figure = figures[at]!
  let cost = 0
  if (figure.stemDown && plan.early) cost += 1.6
  if ((figure.ligatureStart || figures[at - 1]!.ligatureEnd) && !figure.conjunctura) cost += plan.early ? 1.5 : 2
  return cost
}

const countSyllables = (figures: readonly DraftFigure[], from: number, to: number): number => {
  let count = 0
  for (let at = from; at < to; at++) if (figures[at]!.syllable) count++
  return count
}

function sizeCost(input: Required<Input>, i: number, size: number): number {
  const { plan, figures } = input
  if (plan.early) return size <= 6 ? (size === 2 ? 0.1 : 0) : 1.5
  if (size === 1) return 5
  if (size === 2) return 0
  if (size === 3) return tripleCost(input, i)
  if (!plan.many) return 9
  const own = countSyllables(figures, i, i + size) === size
  if (own) return 0.2 + 0.1 * (size - 4)
  const whole = i === plan.from[i] && i + size === plan.to[i]
  return whole && (isFenced(plan, i) || undividedIsOne(plan, figures, i)) ? 0.4 : 2.6
}

/** Undivided four, and five to seven with a dot after them, are one breve (Regule cum maximis, 1326, IV.8a). */
function undividedIsOne(plan: GroupPlan, figures: readonly DraftFigure[], i: number): boolean {
  const run = plan.to[i]! - plan.from[i]!
  if (!plan.byRule || figures[i]!.texted) return false
  return run === 4 || (run >= 5 && run <= 7 && plan.markedAfter[i]!)
}

/** Dots or strokes stand on both sides of the run. */
const isFenced = (plan: GroupPlan, i: number): boolean => plan.markedBefore[i]! && plan.markedAfter[i]!

/** Where the three stand in an odd run: last by the compendia, before the last pair in texted motets. */
function tripleCost(input: Required<Input>, i: number): number {
  const { plan, figures, settings } = input
  const [from, to] = [plan.from[i]!, plan.to[i]!]
  const run = to - from
  if (run === 3) return 0
  if (run % 2 === 0) return run === 6 && settings["undividedSix"] === "threes" ? -0.6 : 0.6
  const texted = plan.many || (figures[i]!.texted && countSyllables(figures, from, to) > 0)
  if (!texted) return i + 3 === to ? 0.2 : 1.9
  if (i + 3 === to) return 2.4
  return run >= 7 && i === from ? 0.8 : 0.2
}

/** Four to six semibreves, in two groups, in the place of an altera; by option two stretched over it. */
function alteraOffers(input: Required<Input>, i: number, position: number): GroupOffer[] {
  const { figures, mensuration, settings, practice } = input
  if (
    mensuration.divisions[1] !== 3 ||
    position !== UNIT ||
    !practice.rules.some(rule => rule.id === "semibreves-pro-altera")
  )
    return []
  const found: GroupOffer[] = []
  const breve = mensuration.full[BREVIS]!
  const make = (size: number, parts: readonly (readonly [number, number])[], cost: number): void => {
    const rules = parts.map(() => "semibreves-pro-altera")
    found.push({
      size,
      ticks: 2 * breve,
      counted: breve,
      cost,
      parts,
      rules,
      fills: true,
      undivided: false,
      altera: true,
    })
  }
  const longFollows = (at: number): boolean =>
    figures[at] !== undefined && figures[at].level <= 1 && !figures[at].shortLongRest
  if (settings["pairForAltera"] === "stretch" && sameRun(input.plan, i, 2) && longFollows(i + 2))
    make(
      2,
      [
        [1, 3],
        [2, 3],
      ],
      -2,
    )
  if (settings["sixSemibrevesAsAltera"] !== "false") {
    const ends = (at: number): boolean => input.plan.to[at - 1] === at || figures[at]?.ligatureStart === true
    const six = sameRun(input.plan, i, 3) && ends(i + 3) && sameRun(input.plan, i + 3, 3) && ends(i + 6)
    if (six && figures[i + 2]!.stroke !== undefined && figures[i + 2]!.strokeIsDot !== true)
      make(
        6,
        Array.from({ length: 6 }, () => [1, 6] as const),
        -0.5,
      )
  }
  return found
}

const sameRun = (plan: GroupPlan, i: number, size: number): boolean => plan.from[i] === i && plan.to[i]! >= i + size

/** The likeliest cutting by itself, for the first count: each group's worth is laid on its first figure. */
export function likelyGroups(input: Input, worth: number[]): void {
  const { plan, figures, mensuration } = input
  if (plan === undefined) return
  const breve = mensuration.full[BREVIS]!
  for (let i = 0; i < figures.length;) {
    if (plan.to[i]! <= i) {
      i++
      continue
    }
    for (const size of cutRun(input as Required<Input>, i)) {
      for (let at = i; at < i + size; at++) worth[at] = 0
      worth[i] = size > 1 || !plan.early ? breve : figures[i]!.full
      i += size
    }
  }
}

/** Sizes of the likeliest groups of the run that begins at `from`. */
function cutRun(input: Required<Input>, from: number): number[] {
  const to = input.plan.to[from]!
  const best: number[] = [0]
  const size: number[] = [0]
  for (let end = from + 1; end <= to; end++) {
    let cheapest = Infinity
    let chosen = 1
    for (let n = 1; n <= Math.min(MOST, end - from); n++) {
      const cost = best[end - n - from]! + (n === 1 && input.plan.early ? 1.5 : groupCost(input, end - n, n))
      if (cost < cheapest) [cheapest, chosen] = [cost, n]
    }
    best.push(cheapest)
    size.push(chosen)
  }
  const sizes: number[] = []
  for (let end = to; end > from; end -= size[end - from]!) sizes.unshift(size[end - from]!)
  return sizes
}

/** What a plain semibreve read by itself costs where groups are usual (c. 1315-25): only one alone is no group. */
export function singleCost(plan: GroupPlan, i: number): number {
  return plan.to[i]! - plan.from[i]! <= 1 ? 0 : 4
}
