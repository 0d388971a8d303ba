/** Semibreves in the place of an altered breve. */
import { BREVIS, LONGA, UNIT } from "../practices/index.js"
import type { GroupOffer, GroupPlan, PlannedInput } from "./semibreve-plan.js"

/** Both are wanted by an option or by the number itself, over any other cutting of the same notes. */
const PAIR_WANTED = -2
const SIX_WANTED = -0.5
const RULE = "semibreves-pro-altera"

/** Six semibreves, in two threes, in the place of an altera; by option two stretched over it. */
export function alteraOffers(input: PlannedInput, i: number, position: number): readonly GroupOffer[] {
  const { mensuration, practice } = input
  if (mensuration.divisions[LONGA] !== 3 || position !== UNIT) return NONE
  const [pair, six] = [isPair(input, i), isSix(input, i)]
  if ((!pair && !six) || !practice.rules.some(rule => rule.id === RULE)) return NONE
  const found: GroupOffer[] = []
  const breve = mensuration.full[BREVIS]!
  if (pair) found.push(pairOn.get(breve) ?? asAltera(breve, PAIR, PAIR_WANTED, pairOn))
  if (six) found.push(sixOn.get(breve) ?? asAltera(breve, SIX, SIX_WANTED, sixOn))
  return found
}
const NONE: readonly GroupOffer[] = []

type Parts = GroupOffer["parts"]
const PAIR: Parts = [
  [1, 3],
  [2, 3],
]
const SIX: Parts = Array.from({ length: 6 }, () => [1, 6] as const)

/** The offers by the breve's ticks, each made once. */
const pairOn = new Map<number, GroupOffer>()
const sixOn = new Map<number, GroupOffer>()

function asAltera(breve: number, parts: Parts, cost: number, made: Map<number, GroupOffer>): GroupOffer {
  const offer: GroupOffer = {
    size: parts.length,
    ticks: 2 * breve,
    counted: breve,
    cost,
    parts,
    rules: parts.map(() => RULE),
    fills: true,
    proposals: undefined,
  }
  made.set(breve, offer)
  return offer
}

function isPair({ plan, figures, settings }: PlannedInput, i: number): boolean {
  const after = figures[i + 2]
  const longFollows = after !== undefined && after.level <= LONGA && !after.shortLongRest
  return settings["pairForAltera"] === "stretch" && beginsRun(plan, i, 2) && longFollows
}

/** Three and three, parted by a stroke. */
function isSix({ plan, figures, settings }: PlannedInput, i: number): boolean {
  if (settings["sixSemibrevesAsAltera"] === "false") return false
  const ends = (at: number): boolean => plan.to[at - 1] === at || figures[at]?.ligatureStart === true
  const threes = beginsRun(plan, i, 3) && ends(i + 3) && beginsRun(plan, i + 3, 3) && ends(i + 6)
  return threes && figures[i + 2]!.stroke !== undefined && !figures[i + 2]!.strokeIsDot
}

/** A run begins at `i` and has at least `size` figures. */
const beginsRun = (plan: GroupPlan, i: number, size: number): boolean => plan.from[i] === i && plan.to[i]! >= i + size
