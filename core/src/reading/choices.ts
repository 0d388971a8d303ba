/** What was decided for each figure, and what else it could be: freed of the lattice, so that a reading keeps none alive. */
import type { DotMeaning, RuleId } from "../practices/index.js"
import type { Edge } from "./lattice-parts.js"
import type { GroupOffer } from "./semibreve-plan.js"

/** What was chosen for a figure or group: an edge without the lattice around it. */
export interface Choice {
  readonly rule: RuleId
  readonly ticks: number
  readonly front: number
  readonly back: number
  readonly dot: DotMeaning
  readonly overruled: boolean
  readonly overruledRun: boolean
  readonly left: boolean
  readonly openWall: boolean
  /** It opened a run at the modus. */
  readonly opens: boolean
  readonly shiftBefore: number
  readonly shiftAfter: number
  readonly length: number
  readonly group: GroupOffer | undefined
  /** It lies across the end of a larger perfection. */
  readonly crosses: boolean
}

/** Another duration of a figure: how likely it is, and how much dearer the cheapest reading with it. */
export interface Alternative {
  readonly choice: Choice
  readonly member: number
  readonly ticks: number
  readonly chance: number
  readonly cost: number
}

/** What is decided for one figure. */
export interface Decided {
  readonly choice: Choice
  /** Which of the group's figures it is; 0 for a single one. */
  readonly member: number
  readonly ticks: number
  /** Chance that another duration is right. */
  readonly wrong: number
  readonly others: readonly Alternative[]
}

const NONE: readonly never[] = []

/** Ticks of one figure of a choice or edge. */
export function ticksOf(
  of: { readonly ticks: number; readonly group: GroupOffer | undefined },
  member: number,
): number {
  if (of.group === undefined) return of.ticks
  const [num, den] = of.group.parts[member]!
  return (of.group.ticks * num) / den
}

/** The rule by which one figure of a choice lasts so long. */
export function ruleOf(choice: Choice, member: number): RuleId {
  return choice.group === undefined ? choice.rule : choice.group.rules[member]!
}

/** Choices met so far, by rule: few are different, and one object for all that are alike keeps a long voice small. */
const shared = new Map<RuleId, Choice[]>()
const MOST_SHARED = 64

/** The same for groups of semibreves, by what was offered. */
const sharedGroups = new WeakMap<GroupOffer, Choice[]>()

/** The edge without the lattice around it. */
export function choiceOf(edge: Edge): Choice {
  const { proposal } = edge
  const { choice } = proposal
  if (choice !== undefined && saysOfWay(choice, edge)) return choice
  return (proposal.choice = madeOf(edge))
}

/** Whether a choice made of the proposal says what the edge does: all that is not the proposal's own. */
const saysOfWay = (choice: Choice, { from, to, left, overruledRun }: Edge): boolean =>
  choice.shiftBefore === from.shift &&
  choice.shiftAfter === to.shift &&
  choice.left === left &&
  choice.overruledRun === overruledRun

function madeOf(edge: Edge): Choice {
  const alike = edge.group === undefined ? alikeByRule(edge.rule) : alikeByGroup(edge.group)
  for (const choice of alike) if (says(choice, edge)) return choice
  const choice = freeChoice(edge)
  if (alike.length < MOST_SHARED) alike.push(choice)
  return choice
}

function alikeByRule(rule: RuleId): Choice[] {
  let alike = shared.get(rule)
  if (alike === undefined) shared.set(rule, (alike = []))
  return alike
}

function alikeByGroup(group: GroupOffer): Choice[] {
  let alike = sharedGroups.get(group)
  if (alike === undefined) sharedGroups.set(group, (alike = []))
  return alike
}

/** Whether the choice is what the edge says; both by one rule, or one and the same group. */
function says(choice: Choice, edge: Edge): boolean {
  const { offer, openWall, opens, crosses } = edge.proposal
  return (
    choice.ticks === edge.ticks &&
    choice.front === (offer.front ?? 0) &&
    choice.back === (offer.back ?? 0) &&
    choice.dot === (offer.dot ?? "none") &&
    choice.overruled === (offer.overruled === true) &&
    choice.overruledRun === edge.overruledRun &&
    choice.left === edge.left &&
    choice.openWall === openWall &&
    choice.opens === opens &&
    choice.shiftBefore === edge.from.shift &&
    choice.shiftAfter === edge.to.shift &&
    choice.crosses === crosses
  )
}

function freeChoice(edge: Edge): Choice {
  const { offer, openWall, opens, crosses } = edge.proposal
  return {
    rule: edge.rule,
    ticks: edge.ticks,
    front: offer.front ?? 0,
    back: offer.back ?? 0,
    dot: offer.dot ?? "none",
    overruled: offer.overruled === true,
    overruledRun: edge.overruledRun,
    left: edge.left,
    openWall,
    opens,
    shiftBefore: edge.from.shift,
    shiftAfter: edge.to.shift,
    length: edge.length,
    group: edge.group,
    crosses,
  }
}

/** Decided without a doubt. */
export const decidedAs = (choice: Choice, member: number, ticks: number): Decided => ({
  choice,
  member,
  ticks,
  wrong: 0,
  others: NONE,
})
