/** Which signs caused a duration: those that took what a note lost, the partner of an altered note, the like that follows. */
import type { SignId } from "../base/index.js"
import type { DotMeaning } from "../practices/index.js"
import type { Decided } from "./choices.js"
import type { DecidedFigure } from "./naming.js"
import type { DraftFigure } from "./draft-figure.js"

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
  const found: SignId[] = []
  const tell = (list: readonly number[]): void => {
    for (const at of list) found.push(figures[at]!.id)
  }
  if (choice.front > 0) tell(worthBefore(decisions, i, choice.front))
  if (choice.back > 0) tell(worthAfter(decisions, i, choice.back))
  if (acts("similis-ante-similem")) tell(next)
  if (ALTERING.has(choice.rule)) tell([...worthBefore(decisions, i, figure.full), ...next])
  if (figure.dot !== undefined && dotActs(choice.dot, rule)) found.push(figure.dot)
  if (figure.stroke !== undefined && rule === "punctus-perfectionis") found.push(figure.stroke)
  if (acts("number-complete")) tell(runOf(figure, figures.length))
  if (rule === "suspirium") tell([figures[i + 1]?.near === "previous" ? i + 1 : i - 1])
  return compact(found)
}

/** Whether the dot after a figure has a part in its duration. */
const dotActs = (meaning: DotMeaning, rule: string): boolean =>
  rule.startsWith("punctus") || meaning === "perfection" || meaning === "alteration"

function groupOf(figures: readonly DraftFigure[], from: number, length: number, own: number): SignId[] {
  const found: SignId[] = []
  for (let at = from; at < from + length; at++) if (at !== own) found.push(figures[at]!.id)
  const mark = figures[from + length - 1]!
  if (mark.stroke !== undefined) found.push(mark.stroke)
  if (mark.dot !== undefined) found.push(mark.dot)
  return compact(found)
}

/** A list that grew has room for many more: what a long voice keeps for each note should have none. */
const compact = (list: readonly SignId[]): SignId[] => (list.length === 0 ? NOBODY : list.slice())

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
  const from = figure.index + 1
  const end = run.distance < 0 ? Math.min(count, from + Math.ceil(run.units)) : figure.index + run.distance
  const all = Array.from({ length: Math.max(0, end - from) }, (_, n) => from + n)
  return all.length <= 6 ? all : [all[0]!, all.at(-1)!]
}
