/** What the reading complains of, with the place and what to look for. */
import type { Problem, SignId } from "../base/index.js"
import type { SettledStretch } from "./assemble.js"
import type { StretchDecisions } from "./naming.js"
import { isKept, misfitProblem, refuses } from "./rulings.js"
import type { Cut } from "./stretches.js"

/** Perfections left open, and semibreves alone; `place` gives the words for where a sign stands. */
export function openPlaces(
  settled: readonly StretchDecisions[],
  label: string,
  place: (id: SignId) => string,
): Problem[] {
  const problems: Problem[] = []
  for (const { decisions, stretch } of settled)
    for (let i = 0; i < decisions.length; i++) {
      const { choice, member } = decisions[i]!
      if (member !== 0) continue
      const id = stretch.figures[i]!.id
      if (choice.left) problems.push(openPerfection(id, place(id), label))
      // a group that does not fill its breve is one alone
      if (choice.group?.fills === false) problems.push(lone(id, place(id), stretch.figures[i]!.rest))
    }
  return problems
}

/** The perfection before the sign `id` is not full. */
function openPerfection(id: SignId, place: string, label: string): Problem {
  return {
    code: "open-perfection",
    what: `In ${label} the perfection before ${place} is not full.`,
    where: { sign: id, place },
    mend: "Look for a missing or superfluous dot, stem or rest just before it, or another mensuration.",
  }
}

function lone(id: SignId, place: string, isRest: boolean): Problem {
  return {
    code: "single-semibreve",
    what: `A semibreve${isRest ? " rest" : ""} stands alone at ${place}; on a breve there are two or three.`,
    where: { sign: id, place },
    mend: "Look for a missing semibreve beside it, or a breve written as a semibreve.",
  }
}

/** A stretch that ends within a perfection, unless the final note, which is held freely, ends it. */
export function openEnds(settled: readonly SettledStretch[], label: string, place: (id: SignId) => string): Problem[] {
  const problems: Problem[] = []
  for (const { stretch, blocks, decisions } of settled) {
    const last = decisions.at(-1)
    const figure = stretch.figures.at(-1)
    if (last === undefined || figure === undefined || blocks.at(-1)!.end.position === 0) continue
    const carried = blocks.at(-1)!.end.shift > 0 || last.choice.shiftBefore > 0
    if (figure.final && stretch.mensuration.anchor[figure.level]! > 0 && !last.choice.left && !carried) continue
    problems.push({
      code: "open-perfection",
      what: `In ${label} the last perfection, at ${place(figure.id)}, is not full.`,
      where: { sign: figure.id, place: place(figure.id) },
      mend: "Look for a missing or superfluous dot, stem or rest before it, or another mensuration.",
    })
  }
  return problems
}

/** Decisions that cannot be, or for which nothing was left. */
export function misfits(cut: Cut, settled: readonly StretchDecisions[], place: (id: SignId) => string): Problem[] {
  const problems = cut.misfits.map(one => misfitProblem(one, place(one.sign)))
  if (!cut.ruled) return problems
  for (const { decisions, stretch } of settled)
    for (const figure of stretch.figures) {
      const { ruling } = figure
      if (ruling === undefined || isKept(ruling, decisions[figure.index]!, figure.dot !== undefined)) continue
      const itself = refuses(ruling, decisions[figure.index]!.ticks)
      const sign = itself ? figure.id : (figure.dot ?? figure.stroke!)
      problems.push(misfitProblem({ sign, why: "unkept" }, `${itself ? "" : "the mark after "}${place(figure.id)}`))
    }
  return problems
}
