/**
 * Groups of semibreves that are read as one breve: every one that may begin at a figure, and the likeliest cutting of a
 * run by itself. Boundaries that nothing marks are allowed by the rule `semibreves-undivided`.
 */
import { BREVIS, type GroupValues, type Mensuration, type RuleId } from "../practices/index.js"
import { layGroupCosts, SINGLE_IN_RUN } from "./semibreve-costs.js"
import { hasPlan, MOST, type GroupInput, type GroupOffer, type PlannedInput } from "./semibreve-plan.js"
import { alteraOffers } from "./semibreves-pro-altera.js"
import type { DraftFigure } from "./draft-figure.js"
import { fitsMarks, refuses } from "./rulings.js"

const NONE: readonly GroupOffer[] = []

/** The groups that may begin at figure `i`, when so many ticks of the perfection are filled there. */
export function groupEdges(input: GroupInput, i: number, position: number): readonly GroupOffer[] {
  if (!hasPlan(input) || input.plan.to[i]! <= i) return NONE
  const { plan, mensuration } = input
  if (plan.offersFrom !== i) {
    plan.offers = offersAt(input, i)
    plan.offersFrom = i
  }
  const { offers } = plan
  if (plan.early)
    return mensuration.divisions[BREVIS] === 3 && position % mensuration.full[BREVIS]! !== 0 ? NONE : offers
  const altera = plan.many ? NONE : alteraOffers(input, i, position)
  return altera.length > 0 ? [...offers, ...altera] : offers
}

/** Cuttings dearer than this would not be followed anyway (see the lattice's beam). */
const HOPELESS = 9.5

/** By the size of a group, what it costs; written anew for each figure. */
const costs: number[] = []

function offersAt(input: PlannedInput, i: number): readonly GroupOffer[] {
  const { plan } = input
  const room = Math.min(plan.to[i]! - i, MOST)
  if (!layGroupCosts(input, i, room, costs)) return NONE
  const plain = !someOf(input.figures, i, room, f => f.restKnown || f.fixed !== undefined)
  const found: GroupOffer[] = []
  for (let size = plan.early ? 2 : 1; size <= room; size++) {
    if (costs[size]! > HOPELESS) continue
    const offer = offerOf(input, i, size, costs[size]!, plain)
    if (offer !== undefined) found.push(offer)
  }
  return found
}

/** `plain`: none of its figures is fixed or a rest of known length. */
function offerOf(input: PlannedInput, i: number, size: number, cost: number, plain: boolean): GroupOffer | undefined {
  const { plan, figures, mensuration } = input
  const values = valuesOf(input, i, size)
  if (values === undefined) return undefined
  const breve = mensuration.full[BREVIS]!
  const rested = plain ? values.parts : withRests(values.parts, figures, i, mensuration)
  const parts = rested === undefined || plain ? rested : withDecided(rested, figures, i, breve)
  if (parts === undefined) return undefined
  const undivided = i > plan.from[i]! || i + size < plan.to[i]!
  const isRest = size === 1 && figures[i]!.rest && figures[i]!.restKnown
  const naming = undivided && !plan.early && !values.rules.includes("stem-lengthens") && size > 1 && size < 4
  const named = naming ? (UNDIVIDED[size] ??= values.rules.map(() => "semibreves-undivided")) : values.rules
  const rules = plain ? named : withDecisions(isRest ? REST_ALONE : named, figures, i)
  const alike = madeAt(plan, cost)
  for (const one of alike) if (one.parts === parts && one.rules === rules) return one
  const made: GroupOffer = {
    size,
    ticks: breve,
    counted: breve,
    cost,
    parts,
    fills: size > 1 || plan.early,
    rules,
    proposals: undefined,
  }
  if (alike.length < MOST_ALIKE) alike.push(made)
  return made
}

/** Those made so far that cost so much. */
function madeAt({ made }: PlannedInput["plan"], cost: number): GroupOffer[] {
  let alike = made.get(cost)
  if (alike === undefined) made.set(cost, (alike = []))
  return alike
}
const REST_ALONE: readonly RuleId[] = ["pausa-manet"]
/** The names of the figures of an undivided group, by their number. */
const UNDIVIDED: (readonly RuleId[])[] = []
const MOST_ALIKE = 64

const withDecisions = (rules: readonly RuleId[], figures: readonly DraftFigure[], from: number): readonly RuleId[] =>
  someOf(figures, from, rules.length, isFixed)
    ? rules.map((rule, n) => (isFixed(figures[from + n]!) ? "decision" : rule))
    : rules
const isRestKnown = (figure: DraftFigure): boolean => figure.restKnown
const isFixed = (figure: DraftFigure): boolean => figure.fixed !== undefined

/** What the first rule that speaks gives to the `size` figures from `from`. */
function valuesOf({ plan, figures, mensuration, settings }: PlannedInput, from: number, size: number) {
  const group = { figures, from, size, mensuration, settings }
  for (const rule of plan.rules) {
    const values = rule.group!(group)
    if (values !== undefined) return values
  }
  return undefined
}

/** Rests of known length keep it; the notes share what is left. Undefined where they leave nothing, or alone do not fill the breve. */
function withRests(
  parts: GroupValues["parts"],
  figures: readonly DraftFigure[],
  from: number,
  mensuration: Mensuration,
): GroupValues["parts"] | undefined {
  if (!someOf(figures, from, parts.length, isRestKnown)) return parts
  const known = parts.map((_, n) => figures[from + n]!.rest && figures[from + n]!.restKnown)
  if (!known.includes(true)) return parts
  const breve = mensuration.full[BREVIS]!
  const thirds = parts.map((_, n) => (known[n] ? Math.round((figures[from + n]!.full * 3) / breve) : 0))
  const left = 3 - thirds.reduce((a, b) => a + b, 0)
  const notes = known.filter(k => !k).length
  if (parts.length > 1 && (notes === 0 ? left !== 0 : left <= 0)) return undefined
  return parts.map((_, n) => (known[n] ? ([thirds[n]!, 3] as const) : ([left, 3 * notes] as const)))
}

function someOf(
  figures: readonly DraftFigure[],
  from: number,
  size: number,
  is: (figure: DraftFigure) => boolean,
): boolean {
  for (let at = from; at < from + size; at++) if (is(figures[at]!)) return true
  return false
}

/** Figures that an editor fixed keep that, and rests of known length theirs; the notes share what is left. */
function withDecided(
  parts: GroupValues["parts"],
  figures: readonly DraftFigure[],
  from: number,
  breve: number,
): GroupValues["parts"] | undefined {
  if (!someOf(figures, from, parts.length, isFixed)) return parts
  const members = parts.map((part, n) => ({ figure: figures[from + n]!, ticks: (breve * part[0]) / part[1] }))
  if (members.every(({ figure: { fixed }, ticks }) => fixed === undefined || Math.abs(fixed - ticks) < 1)) return parts
  const known = members.map(
    ({ figure, ticks }) => figure.fixed ?? (figure.rest && figure.restKnown ? ticks : undefined),
  )
  const free = known.filter(one => one === undefined).length
  const left = breve - known.reduce<number>((sum, one) => sum + (one ?? 0), 0)
  if (free === 0 ? Math.abs(left) >= 1 : left < free) return undefined
  return known.map(one => (one === undefined ? [left, breve * free] : [one, breve]))
}

/** Whether the editor's decisions on its figures and the marks after them allow the group. */
export function groupMayBe(
  { parts, ticks, rules }: GroupOffer,
  figures: readonly DraftFigure[],
  from: number,
): boolean {
  return parts.every(([num, den], n) => {
    const { fixed, ruling, dot } = figures[from + n]!
    const lasts = (ticks * num) / den
    if (fixed !== undefined && Math.abs(fixed - lasts) >= 1) return false
    return ruling === undefined || (!refuses(ruling, lasts) && fitsMarks(ruling, rules[0]!, "none", dot !== undefined))
  })
}

/** The likeliest cutting by itself, for the first count: each group's worth is laid on its first figure. */
export function likelyGroups(
  input: GroupInput,
  { from, to, worth }: { readonly from: number; readonly to: number; readonly worth: number[] },
): void {
  if (!hasPlan(input)) return
  const { plan, figures, mensuration } = input
  const breve = mensuration.full[BREVIS]!
  for (let i = from; i < to;) {
    if (plan.to[i]! <= i) {
      i++
      continue
    }
    const run = cutRun(input, i)
    worth.fill(0, i - from, i - from + run)
    for (let end = run; end > 0; end -= lastSize[end]!) {
      const first = i + end - lastSize[end]!
      worth[first - from] = lastSize[end]! > 1 || !plan.early ? breve : figures[first]!.full
    }
    i += run
  }
}

// for each length of a run's beginning: the cheapest cost of cutting it, and the size of its last group; written anew for each run
const best: number[] = [0]
const lastSize: number[] = [0]

/** Cuts the run that begins at `from` into its likeliest groups; gives its length. */
function cutRun(input: PlannedInput, from: number): number {
  const { early, to } = input.plan
  const run = to[from]! - from
  for (let end = 1; end <= run; end++) best[end] = Infinity
  for (let start = 0; start < run; start++) {
    const room = Math.min(run - start, MOST)
    const isCut = layGroupCosts(input, from + start, room, costs)
    for (let n = 1; n <= room; n++) {
      const group = n === 1 && early ? SINGLE_IN_RUN : isCut ? costs[n]! : Infinity
      // of two as likely the one that ends in the smaller group: that begins later
      if (best[start]! + group > best[start + n]!) continue
      best[start + n] = best[start]! + group
      lastSize[start + n] = n
    }
  }
  return run
}
