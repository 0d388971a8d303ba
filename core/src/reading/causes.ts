/** Which signs caused a duration: those that took what a note lost, the partner of an altered note, the like that follows. */
import type { SignId } from "../base/index.js"
import type { Decided } from "./choices.js"
import type { DraftFigure, Stretch } from "./stretches.js"

type Chosen = Pick<Decided, "choice" | "member" | "ticks">

const NOBODY: SignId[] = []
/** Rules that no other sign causes. */
const UNCAUSED = new Set([
  "as-written",
  "pausa-manet",
  "nothing-acts",
  "coloratio",
  "proportio",
  "breves-in-threes",
  "count-from-zero",
  "local-shape",
])

export function companionsOf(
  stretch: Stretch,
  figure: DraftFigure,
  decided: Chosen,
  decisions: readonly Decided[],
  rule: string,
): SignId[] {
  const { figures } = stretch
  const { choice } = decided
  const i = figure.index
  if (
    choice.group === undefined &&
    choice.front === 0 &&
    choice.back === 0 &&
    figure.dot === undefined &&
    UNCAUSED.has(rule)
  )
    return NOBODY
  const found: SignId[] = []
  const ids = (list: readonly number[]): void => {
    for (const at of list) found.push(figures[at]!.id)
  }
  if (choice.group !== undefined) return groupOf(figures, i - decided.member, choice.length, i)
  if (choice.front > 0) ids(worthBefore(decisions, i, choice.front))
  if (choice.back > 0) ids(worthAfter(decisions, i, choice.back))
  if (rule === "similis-ante-similem" || choice.rule === "similis-ante-similem")
    ids(i + 1 < figures.length ? [i + 1] : [])
  if (choice.rule === "alteratio" || choice.rule === "alteratio-et-imperfectio")
    ids([...worthBefore(decisions, i, figure.full), ...(i + 1 < figures.length ? [i + 1] : [])])
  if (
    figure.dot !== undefined &&
    (rule.startsWith("punctus") || choice.dot === "perfection" || choice.dot === "alteration")
  )
    found.push(figure.dot)
  if (figure.stroke !== undefined && rule === "punctus-perfectionis") found.push(figure.stroke)
  if (rule === "number-complete" || choice.rule === "number-complete") ids(runOf(figure, figures.length))
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

const durationAt = (decisions: readonly Decided[], at: number): number => decisions[at]!.ticks

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
