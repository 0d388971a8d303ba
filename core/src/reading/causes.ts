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
let count = 0

function tell(figures: readonly DraftFigure[], from: number, to: number): void {
  for (let at = Math.max(0, from); at < to && at < figures.length; at++) found[count++] = figures[at]!.id
}

/** The signs that made `rule` act on the figure; `decided` is its decision, or another that it might have had. */
export function companionsOf(at: DecidedFigure, decided: Chosen, rule: string): SignId[] {
  const { figure } = at
  const { figures } = at.stretch
  const { choice } = decided
  const i = figure.index
  if (choice.group !== undefined) return groupOf(figures, i - decided.member, choice.length, i)
  if (choice.front === 0 && choice.back === 0 && figure.dot === undefined && UNCAUSED.has(rule)) return NOBODY
  count = 0
  tellTakers(at, choice, rule)
  if (figure.dot !== undefined && dotActs(choice.dot, rule)) found[count++] = figure.dot
  if (figure.stroke !== undefined && rule === "punctus-perfectionis") found[count++] = figure.stroke
  if (rule === "number-complete" || choice.rule === "number-complete") tellRun(figure, figures)
  if (rule === "suspirium") {
    const partner = figures[i + 1]?.near === "previous" ? i + 1 : i - 1
    tell(figures, partner, partner + 1)
  }
  return foundSigns()
}

/** Those that took what the note lost, the like that follows, the partner of an altered note and what it is altered before. */
function tellTakers({ stretch, figure, decisions }: DecidedFigure, choice: Chosen["choice"], rule: string): void {
  const { figures } = stretch
  const i = figure.index
  if (choice.front > 0) tell(figures, firstOfWorth(decisions, i, choice.front), i)
  if (choice.back > 0) tell(figures, i + 1, endOfWorth(decisions, i, choice.back))
  if (rule === "similis-ante-similem" || choice.rule === "similis-ante-similem") tell(figures, i + 1, i + 2)
  if (!ALTERING.has(choice.rule)) return
  tell(figures, firstOfWorth(decisions, i, figure.full), i)
  tell(figures, i + 1, i + 2)
}

/** Whether the dot after a figure has a part in its duration. */
const dotActs = (meaning: DotMeaning, rule: string): boolean =>
  rule.startsWith("punctus") || meaning === "perfection" || meaning === "alteration"

function groupOf(figures: readonly DraftFigure[], from: number, length: number, own: number): SignId[] {
  count = 0
  for (let at = from; at < from + length; at++) if (at !== own) found[count++] = figures[at]!.id
  const mark = figures[from + length - 1]!
  if (mark.stroke !== undefined) found[count++] = mark.stroke
  if (mark.dot !== undefined) found[count++] = mark.dot
  return foundSigns()
}

const foundSigns = (): SignId[] => (count === 0 ? NOBODY : found.slice(0, count))

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

/** Tells the run that is complete without the note; a long one by its first and last. */
function tellRun(figure: DraftFigure, figures: readonly DraftFigure[]): void {
  const run = figure.runs.find(one => one !== undefined && one.units >= 2)
  if (run === undefined) return
  const from = figure.index + 1
  const end = run.distance < 0 ? Math.min(figures.length, from + Math.ceil(run.units)) : figure.index + run.distance
  if (end - from <= 6) return tell(figures, from, end)
  tell(figures, from, from + 1)
  tell(figures, end - 1, end)
}
