/** Which signs caused a duration: those that took what a note lost, the partner of an altered note, the like that follows. */
import type { SignId } from "../base/index.js"
import type { DotMeaning } from "../practices/index.js"
import type { Decided } from "./choices.js"
import type { DecidedFigure } from "./naming.js"
import type { DraftFigure } from "./stretches.js"

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
const ALTERING = new Set(["alteratio", "alteratio-et-imperfectio"])

/** The signs that made `rule` act on the figure; `decided` is its decision, or another that it might have had. */
export function companionsOf({ stretch, figure, decisions }: DecidedFigure, decided: Chosen, rule: string): SignId[] {
  const { figures } = stretch
  const { choice } = decided
  const i = figure.index
  if (choice.group !== undefined) return groupOf(figures, i - decided.member, choice.length, i)
  if (choice.front === 0 && choice.back === 0 && figure.dot === undefined && UNCAUSED.has(rule)) return NOBODY
  const acts = (id: string): boolean => rule === id || choice.rule === id
  const next = i + 1 < figures.length ? [i + 1] : []
  const found: number[] = []
  if (choice.front > 0) found.push(...worthBefore(decisions, i, choice.front))
  if (choice.back > 0) found.push(...worthAfter(decisions, i, choice.back))
  if (acts("similis-ante-similem")) found.push(...next)
  if (ALTERING.has(choice.rule)) found.push(...worthBefore(decisions, i, figure.full), ...next)
  const last: number[] = []
  if (acts("number-complete")) last.push(...runOf(figure, figures.length))
  if (rule === "suspirium") last.push(figures[i + 1]?.near === "previous" ? i + 1 : i - 1)
  const idOf = (at: number): SignId => figures[at]!.id
  return [...found.map(idOf), ...marksOf(figure, choice.dot, rule), ...last.map(idOf)]
}

/** The dot or stroke after the figure, where it has a part in its duration. */
function marksOf(figure: DraftFigure, meaning: DotMeaning, rule: string): SignId[] {
  const found: SignId[] = []
  const dotActs = rule.startsWith("punctus") || meaning === "perfection" || meaning === "alteration"
  if (figure.dot !== undefined && dotActs) found.push(figure.dot)
  if (figure.stroke !== undefined && rule === "punctus-perfectionis") found.push(figure.stroke)
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

/** The figures before `i` that together last `amount` ticks, in order. */
function worthBefore(decisions: readonly Decided[], i: number, amount: number): number[] {
  const found: number[] = []
  for (let at = i - 1; at >= 0 && amount > 1e-6; at--) {
    found.unshift(at)
    amount -= decisions[at]!.ticks
  }
  return found
}

/** The same after `i`. */
function worthAfter(decisions: readonly Decided[], i: number, amount: number): number[] {
  const found: number[] = []
  for (let at = i + 1; at < decisions.length && amount > 1e-6; at++) {
    found.push(at)
    amount -= decisions[at]!.ticks
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
