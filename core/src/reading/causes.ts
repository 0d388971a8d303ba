/** Which signs caused a duration: those that took what a note lost, the partner of an altered note, the like that follows. */
import type { SignId } from "../base/index.js"
import type { Decided } from "./settle.js"
import { ticksOf } from "./settle.js"
import type { DraftFigure, Stretch } from "./stretches.js"

type Chosen = Pick<Decided, "edge" | "member" | "ticks">

export function companionsOf(stretch: Stretch, figure: DraftFigure, decided: Chosen, decisions: readonly Decided[], rule: string): SignId[] {
  const { figures } = stretch
  const { edge } = decided
  const i = figure.index
  const found: SignId[] = []
  const ids = (list: readonly number[]): void => {
    for (const at of list) found.push(figures[at]!.id)
  }
  if (edge.group !== undefined) return groupOf(figures, edge.figure, edge.length, i)
  if (edge.front > 0) ids(worthBefore(decisions, i, edge.front))
  if (edge.back > 0) ids(worthAfter(decisions, i, edge.back))
  if (rule === "similis-ante-similem" || edge.rule === "similis-ante-similem") ids(i + 1 < figures.length ? [i + 1] : [])
  if (edge.rule === "alteratio" || edge.rule === "alteratio-et-imperfectio") ids([...worthBefore(decisions, i, figure.full), ...(i + 1 < figures.length ? [i + 1] : [])])
  if (figure.dot !== undefined && (rule.startsWith("punctus") || edge.dot === "perfection" || edge.dot === "alteration")) found.push(figure.dot)
  if (figure.stroke !== undefined && rule === "punctus-perfectionis") found.push(figure.stroke)
  if (rule === "number-complete" || edge.rule === "number-complete") ids(runOf(figure, figures.length))
  if (rule === "suspirium") ids(figures[i + 1]?.near === "previous" ? [i + 1] : [i - 1])
  return found
}

function groupOf(figures: readonly DraftFigure[], from: number, length: number, own: number): SignId[] {
  const found: SignId[] = []
  for (let at = from; at < from + length; at++) if (at !== own) found.push(figures[at]!.id)
  const mark = figures[from + length - 1]!
  if (mark.stroke !== undefined) found.push(mark.stroke)
  if (mark.dot !== undefined) found.push(mark.dot)
  return found
}

const durationAt = (decisions: readonly Decided[], at: number): number => ticksOf(decisions[at]!.edge, decisions[at]!.member)

function worthBefore(decisions: readonly Decided[], i: number, amount: number): number[] {
  const found: number[] = []
  for (let at = i - 1; at >= 0 && amount > 1e-6; at--) {
    found.unshift(at)
    amount -= durationAt(decisions, at)
  }
  return found
}

function worthAfter(decisions: readonly Decided[], i: number, amount: number): number[] {
  const found: number[] = []
  for (let at = i + 1; at < decisions.length && amount > 1e-6; at++) {
    found.push(at)
    amount -= durationAt(decisions, at)
  }
  return found
}

/** The run that is complete without the note; a long one is told by its first and last. */
function runOf(figure: DraftFigure, count: number): number[] {
  const level = figure.runs.findIndex(run => run !== undefined && run.units >= 2)
  const run = figure.runs[level]
  if (run === undefined) return []
  const end = run.until < 0 ? Math.min(count, figure.index + 1 + Math.ceil(run.units)) : run.until
  const all = Array.from({ length: Math.max(0, end - figure.index - 1) }, (_, n) => figure.index + 1 + n)
  return all.length <= 6 ? all : [all[0]!, all.at(-1)!]
}
