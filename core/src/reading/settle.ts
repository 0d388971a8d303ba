/** From a settled block of the lattice to a decision for each figure, with the chances of every other duration. */
import type { DotMeaning, RuleId } from "../practices/index.js"
import type { Block, Edge, Standing, State } from "./lattice-parts.js"
import type { GroupOffer } from "./semibreve-plan.js"

/** Ways rarer than this are not kept as rivals of a sign. */
const LEAST_CHANCE = 0.004
/** Ways rarer than this are not followed as rivals of the whole voice. */
const LEAST_PATH = 0.02
const MOST_PATHS = 12

/** What was chosen for a figure or group: an edge without the lattice around it, so that a reading keeps no lattice alive. */
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
export interface Alternative {
  readonly choice: Choice
  readonly member: number
  readonly ticks: number
  readonly chance: number
  readonly cost: number
}
export interface Decided {
  readonly choice: Choice
  /** Which of the group's figures it is; 0 for a single one. */
  readonly member: number
  readonly ticks: number
  /** Chance that another duration is right. */
  readonly wrong: number
  readonly others: readonly Alternative[]
}
export interface Path {
  readonly cost: number
  /** Figure (counted from the beginning of its block) to its duration in ticks, where it differs from the chosen path. */
  readonly changes: readonly (readonly [figure: number, ticks: number])[]
}
export interface Settled {
  /** First figure of the block, and the states it goes from and to. */
  readonly start: Standing
  readonly end: Standing
  readonly decisions: readonly Decided[]
  readonly paths: readonly Path[]
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
export function ruleOf(choice: Choice, member: number): RuleId {
  return choice.group === undefined ? choice.rule : choice.group.rules[member]!
}

function choiceOf(edge: Edge): Choice {
  const { offer } = edge
  return {
    rule: edge.rule,
    ticks: edge.ticks,
    front: offer.front ?? 0,
    back: offer.back ?? 0,
    dot: offer.dot ?? "none",
    overruled: offer.overruled === true,
    overruledRun: edge.overruledRun,
    left: edge.left,
    openWall: edge.openWall,
    opens: edge.to.opening !== 0 && edge.to.opener === edge.figure,
    shiftBefore: edge.from.shift,
    shiftAfter: edge.to.shift,
    length: edge.length,
    group: edge.group,
    crosses: edge.crosses,
  }
}

/** Settles the blocks of one voice. */
export class Settler {
  /** Decisions with nothing to tell but rule and duration: one for all figures alike, since most notes of a voice are. */
  private readonly plain = new Map<RuleId, Map<number, Decided>>()

  settle(block: Block): Settled {
    const chosen = chosenEdges(block)
    const start = bare(block.start)
    const end = bare(block.end)
    const single = block.nodes.every(
      states => states.length <= 1 && (states.length === 0 || states[0]!.out.length <= 1),
    )
    if (single) return { start, end, decisions: this.decisionsOf(chosen), paths: NONE }
    lookAhead(block)
    spreadWeights(block)
    const { decisions, paths } = withChances(block, this.decisionsOf(chosen))
    return { start, end, decisions, paths }
  }

  private decisionsOf(chosen: readonly Edge[]): Decided[] {
    const decisions: Decided[] = []
    for (const edge of chosen) {
      if (isPlain(edge)) {
        decisions.push(this.plainDecision(edge))
        continue
      }
      const choice = choiceOf(edge)
      for (let member = 0; member < edge.length; member++)
        decisions.push(decidedAs(choice, member, ticksOf(edge, member)))
    }
    return decisions
  }

  private plainDecision(edge: Edge): Decided {
    let byTicks = this.plain.get(edge.rule)
    if (byTicks === undefined) this.plain.set(edge.rule, (byTicks = new Map()))
    let known = byTicks.get(edge.ticks)
    if (known === undefined) byTicks.set(edge.ticks, (known = decidedAs(choiceOf(edge), 0, edge.ticks)))
    return known
  }
}

const decidedAs = (choice: Choice, member: number, ticks: number): Decided => ({
  choice,
  member,
  ticks,
  wrong: 0,
  others: NONE,
})

function isPlain(edge: Edge): boolean {
  const { offer, to } = edge
  if (
    edge.group !== undefined ||
    edge.overruledRun ||
    edge.left ||
    edge.openWall ||
    edge.from.shift > 0 ||
    to.shift > 0
  )
    return false
  if (
    offer.front !== undefined ||
    offer.back !== undefined ||
    offer.overruled === true ||
    (offer.dot !== undefined && offer.dot !== "none")
  )
    return false
  return to.opening === 0 || to.opener !== edge.figure
}

/** The state without what leads to and from it. */
const bare = ({ node, position, opening, opener, counted, shift }: State): Standing => ({
  node,
  position,
  opening,
  opener,
  counted,
  shift,
})

function chosenEdges(block: Block): Edge[] {
  const edges: Edge[] = []
  for (let edge = block.end.via; edge !== undefined; edge = edge.from.via) edges.push(edge)
  return edges.reverse()
}

/** Cheapest ways on, from the end backward. */
function lookAhead(block: Block): void {
  for (let n = block.nodes.length - 1; n >= 0; n--)
    for (const state of block.nodes[n]!)
      for (const edge of state.out) {
        const cost = edge.cost + edge.to.bestAfter
        if (cost < state.bestAfter) {
          state.bestAfter = cost
          state.next = edge
        }
      }
}

/** Sums of the chances of all ways to each state and on from it, each relative to its cheapest. */
function spreadWeights(block: Block): void {
  const { nodes } = block
  block.start.weight = 1
  for (const states of nodes)
    for (const from of states)
      for (const edge of from.out) edge.to.weight += from.weight * Math.exp(edge.to.best - from.best - edge.cost)
  for (let n = nodes.length - 1; n >= 0; n--)
    for (const state of nodes[n]!) {
      if (state.out.length === 0) {
        state.weightAfter = state.bestAfter < Infinity ? 1 : 0
        continue
      }
      if (state.bestAfter === Infinity) continue
      for (const edge of state.out)
        if (edge.to.weightAfter > 0)
          state.weightAfter += edge.to.weightAfter * Math.exp(state.bestAfter - edge.cost - edge.to.bestAfter)
    }
}

interface Tally {
  ticks: number
  mass: number
  best: number
  edge: Edge
  member: number
}

function withChances(block: Block, decisions: readonly Decided[]): { decisions: Decided[]; paths: Path[] } {
  const from = block.start.node
  const cheapest = block.start.bestAfter
  const total = block.start.weightAfter
  const tallies: Tally[][] = decisions.map(() => [])
  const candidates: { edge: Edge; cost: number }[] = []
  for (const states of block.nodes)
    for (const state of states)
      for (const edge of state.out) {
        const cost = state.best + edge.cost + edge.to.bestAfter - cheapest
        const chance = (state.weight * edge.to.weightAfter * Math.exp(-cost)) / total
        if (!(chance > 1e-5)) continue
        for (let member = 0; member < edge.length; member++)
          tally(tallies[edge.figure - from + member]!, ticksOf(edge, member), chance, cost, edge, member)
        if (chance > LEAST_PATH && cost > 1e-9) candidates.push({ edge, cost })
      }
  return {
    decisions: decisions.map((decided, i) => judge(decided, tallies[i]!)),
    paths: pathsThrough(candidates, decisions, from),
  }
}

function tally(list: Tally[], ticks: number, chance: number, cost: number, edge: Edge, member: number): void {
  for (const known of list) {
    if (known.ticks !== ticks) continue
    known.mass += chance
    if (cost < known.best) {
      known.best = cost
      known.edge = edge
      known.member = member
    }
    return
  }
  list.push({ ticks, mass: chance, best: cost, edge, member })
}

function judge(decided: Decided, list: readonly Tally[]): Decided {
  if (list.length <= 1) return decided
  let all = 0
  let right = 0
  for (const one of list) {
    all += one.mass
    if (one.ticks === decided.ticks) right = one.mass
  }
  const wrong = all > 0 ? Math.max(0, 1 - right / all) : 0
  const others = list
    .filter(one => one.ticks !== decided.ticks && one.mass > LEAST_CHANCE)
    .map(one => ({
      choice: choiceOf(one.edge),
      member: one.member,
      ticks: one.ticks,
      chance: one.mass,
      cost: Math.max(0, one.best),
    }))
    .sort((a, b) => a.cost - b.cost)
  return { ...decided, wrong, others }
}

/** For each candidate edge the cheapest path of the block through it, told by what it changes. */
function pathsThrough(candidates: { edge: Edge; cost: number }[], decisions: readonly Decided[], from: number): Path[] {
  const found = new Map<string, Path>()
  candidates.sort((a, b) => a.cost - b.cost)
  for (const { edge, cost } of candidates.slice(0, 3 * MOST_PATHS)) {
    if (found.size >= MOST_PATHS) break
    const changes = changesOn(edge, decisions, from)
    const key = changes.join(" ")
    if (changes.length > 0 && !found.has(key)) found.set(key, { cost, changes })
  }
  return [...found.values()]
}

function changesOn(edge: Edge, decisions: readonly Decided[], from: number): [number, number][] {
  const changes: [number, number][] = []
  for (const step of pathOf(edge))
    for (let member = 0; member < step.length; member++) {
      const at = step.figure + member - from
      const ticks = ticksOf(step, member)
      if (decisions[at]!.ticks !== ticks) changes.push([at, ticks])
    }
  return changes
}

function pathOf(edge: Edge): Edge[] {
  const path: Edge[] = [edge]
  for (let step = edge.from.via; step !== undefined; step = step.from.via) path.push(step)
  path.reverse()
  for (let state: State = edge.to; state.next !== undefined; state = state.next.to) path.push(state.next)
  return path
}
