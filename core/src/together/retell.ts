/** From what the voices decided together back to the decisions of each, block by block, as its reading is made of them. */
import { choiceOf, ticksOf, type Alternative, type Choice, type Decided } from "../reading/choices.js"
import type { Edge } from "../reading/lattice-parts.js"
import { changedBy, type Path } from "../reading/paths.js"
import type { Settled } from "../reading/settle.js"
import type { Likelihood } from "./likelihoods.js"
import type { VoiceGraph, Way } from "./voice-graph.js"

/** Ways rarer than this are not kept as rivals of a sign. */
const LEAST_CHANCE = 0.004
const NONE: readonly never[] = []

/** The blocks of every stretch of a voice with the decisions that all voices made together. */
export function blocksAnew(
  graph: VoiceGraph,
  chosen: readonly Way[],
  likelihoods: readonly (readonly Likelihood[] | undefined)[],
): Settled[][] {
  const choices = new Map<Edge, Choice>()
  const choiceFor = (edge: Edge): Choice => {
    let known = choices.get(edge)
    if (known === undefined) choices.set(edge, (known = choiceOf(edge)))
    return known
  }
  let at = 0
  return graph.worked.settled.map(({ blocks }) =>
    blocks.map(block => {
      const first = at
      at += block.decisions.length
      const decisions = block.decisions.map((before, i) =>
        decidedAnew(before, chosen[first + i]!, likelihoods[first + i], choiceFor),
      )
      const own = chosen.slice(first, at).reduce((sum, way) => sum + way.cost, 0)
      return { ...block, decisions, paths: pathsAnew(block, decisions, own) }
    }),
  )
}

function decidedAnew(
  before: Decided,
  way: Way,
  likelihoods: readonly Likelihood[] | undefined,
  choiceFor: (edge: Edge) => Choice,
): Decided {
  const ticks = ticksOf(way.edge, way.member)
  if (likelihoods === undefined || likelihoods.length < 2) {
    const same = before.ticks === ticks && before.choice.rule === way.edge.rule && way.edge.group === undefined
    if (same) return before.others.length === 0 ? before : { ...before, wrong: 0, others: NONE }
    return { choice: choiceFor(way.edge), member: way.member, ticks, wrong: 0, others: NONE }
  }
  const right = likelihoods.find(one => one.way.lasts === way.lasts)?.chance ?? 0
  return {
    choice: choiceFor(way.edge),
    member: way.member,
    ticks,
    wrong: Math.max(0, 1 - right),
    others: othersOf(likelihoods, way, choiceFor),
  }
}

function othersOf(likelihoods: readonly Likelihood[], way: Way, choiceFor: (edge: Edge) => Choice): Alternative[] {
  return likelihoods
    .filter(one => one.way.lasts !== way.lasts && one.chance > LEAST_CHANCE)
    .map(({ way: { edge, member }, chance, cost }) => ({
      choice: choiceFor(edge),
      member,
      ticks: ticksOf(edge, member),
      chance,
      cost,
    }))
    .sort((a, b) => a.cost - b.cost)
}

/**
 * The other ways through a block as the voice by itself weighs them, told by what they change in the present decisions.
 * `own` is what these cost beyond the voice's cheapest; where the others overruled it, a rival may cost less than none.
 */
function pathsAnew(block: Settled, decisions: readonly Decided[], own: number): Path[] {
  const moved = decisions.some((one, i) => one.ticks !== block.decisions[i]!.ticks)
  if (!moved) return block.paths as Path[]
  const alone = block.decisions.map(one => one.ticks)
  return [{ cost: 0, changes: [] as Path["changes"] }, ...block.paths].flatMap(path => {
    const changes = changedBy(path, alone).flatMap((one, at) => (one === decisions[at]!.ticks ? [] : [at, one]))
    return changes.length === 0 ? [] : [{ cost: path.cost - own, changes }]
  })
}
