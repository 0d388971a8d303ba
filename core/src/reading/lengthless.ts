/** Entries of signs that do not last: dots, strokes, signs of mensuration, rests that are no rests. */
import { ZERO, type Rational, type SignId } from "../base/index.js"
import { FIXED, type Naming, type StretchDecisions } from "./naming.js"
import { isKept } from "./rulings.js"
import type { Entry } from "./stretches.js"
import type { SignKind, SignReading } from "./types.js"

const NONE: readonly string[] = []
const KINDS: ReadonlySet<string> = new Set<SignKind>(["dot", "stroke", "mensuration", "proportion", "rest"])

/** The entry of a sign without length; `index` its place among all entries, `onset` where what follows begins. */
export function withoutLength(
  entry: Entry,
  index: number,
  onset: Rational,
  settled: readonly StretchDecisions[],
  naming: Naming,
): SignReading {
  const { sign } = entry
  const takenFor = entry.takenFor ?? meaningOf(sign.id, entry, settled)
  const decided = isDecided(sign.id, entry, settled)
  const kind = KINDS.has(sign.kind) ? (sign.kind as SignKind) : "other"
  return {
    id: sign.id,
    index,
    kind,
    number: 0,
    level: null,
    pitch: null,
    onset,
    duration: entry.lasts ?? ZERO,
    quality: null,
    rule: ruleOfSign(kind, takenFor, naming),
    also: NONE,
    because: [],
    decidedBy: decided ? "decision" : "voice",
    doubt: 0,
    rivals: [],
    ...(takenFor ? { takenFor } : {}),
  }
}

function ruleOfSign(kind: SignKind, takenFor: string | undefined, { has }: Naming): string {
  if (takenFor !== undefined && has.has(takenFor)) return takenFor
  return kind === "proportion" && has.has("proportio") ? "proportio" : "as-written"
}

/** Whether an editor decided what the dot or stroke is, and it could be that. */
function isDecided(id: SignId, entry: Entry, settled: readonly StretchDecisions[]): boolean {
  if (entry.after < 0) return false
  const { stretch, decisions } = settled[entry.stretch]!
  const figure = stretch.figures[entry.after]
  if (figure?.ruling === undefined) return false
  const { dot, stroke } = figure.ruling
  const ruling = figure.dot === id ? { dot } : figure.stroke === id ? { stroke } : {}
  const about = ruling.dot ?? ruling.stroke
  return about !== undefined && isKept(ruling, decisions[figure.index]!, figure.dot !== undefined)
}

/** What a dot or a stroke was taken for, from the figure before it. */
function meaningOf(id: SignId, entry: Entry, settled: readonly StretchDecisions[]): string | undefined {
  if (entry.after < 0) return undefined
  const { stretch, decisions } = settled[entry.stretch]!
  const figure = stretch.figures[entry.after]
  if (figure === undefined || (figure.dot !== id && figure.stroke !== id)) return undefined
  const { choice } = decisions[figure.index]!
  if (figure.stroke === id)
    return choice.rule === "punctus-perfectionis" && figure.dot === undefined
      ? "punctus-perfectionis"
      : "punctus-divisionis"
  if (choice.dot === "augmentation") return "punctus-additionis"
  if (
    choice.dot === "perfection" &&
    (choice.rule === "punctus-perfectionis" || FIXED.has(choice.rule) || figure.ruling?.dot)
  )
    return "punctus-perfectionis"
  return choice.dot === "alteration" ? "alteratio" : "punctus-divisionis"
}
