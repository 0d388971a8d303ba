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

/** What is found is put together here, and then copied: a list that grows has room for many more. */
const found: SignId[] = []

/** The signs that made `rule` act on the figure; `decided` is its decision, or another that it might have had. */
export function companionsOf({ stretch, figure, decisions }: DecidedFigure, decided: Chosen, rule: string): SignId[] {
  const { figures } = stretch
  const { choice } = decided
  const i = figure.index
  if (choice.group !== undefined) return groupOf(figures, i - decided.member, choice.length, i)
  if (choice.front === 0 && choice.back === 0 && figure.dot === undefined && UNCAUSED.has(rule)) return NOBODY
  found.length = 0
  const acts = (id: string): boolean => rule === id || choice.rule === id
  const tell = (from: number, to: number): void => {
    for (let at = Math.max(0, from); at < to && at < figures.length; at++) found.push(figures[at]!.id)
  }
  if (choice.front > 0) tell(firstOfWorth(decisions, i, choice.front), i)
  if (choice.back > 0) tell(i + 1, endOfWorth(decisions, i, choice.back))
  if (acts("similis-ante-similem")) tell(i + 1, i + 2)
  if (ALTERING.has(choice.rule)) {
    tell(firstOfWorth(decisions, i, figure.full), i)
    tell(i + 1, i + 2)
  }
  if (figure.dot !== undefined && dotActs(choice.dot, rule)) found.push(figure.dot)
  if (figure.stroke !== undefined && rule === "punctus-perfectionis") found.push(figure.stroke)
  if (acts("number-complete")) for (const at of runOf(figure, figures.length)) tell(at, at + 1)
  if (rule === "suspirium") {
    const partner = figures[i + 1]?.near === "previous" ? i + 1 : i - 1
    tell(partner, partner + 1)
  }
  return compact(found)
}

/** Whether the dot after a figure has a part in its duration. */
const dotActs = (meaning: DotMeaning, rule: string): boolean =>
  rule.startsWith("punctus") || meaning === "perfection" || meaning === "alteration"

function groupOf(figures: readonly DraftFigure[], from: number, length: number, own: number): SignId[] {
  found.length = 0
  for (let at = from; at < from + length; at++) if (at !== own) found.push(figures[at]!.id)
  const mark = figures[from + length - 1]!
  if (mark.stroke !== undefined) found.push(mark.stroke)
  if (mark.dot !== undefined) found.push(mark.dot)
  return compact(found)
}

const compact = (list: readonly SignId[]): SignId[] => (list.length === 0 ? NOBODY : list.slice())

/** The first of the figures before `i` that together last `amount` ticks. */
function firstOfWorth(decisions: readonly Decided[], i: number, amount: number): number {
  let first = i
  for (; first > 0 && amount > 1e-6; first--) amount -= decisions[first - 1]!.ticks
  return first
}

/** The one after the last of those after `i`. */
function endOfWorth(decisions: readonly Decided[], i: number, amount: number): number {
  let end = i + 1
  for (; end < decisions.length && amount > 1e-6; end++) amount -= decisions[end]!.ticks
  return end
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
