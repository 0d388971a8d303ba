/** From a way through the voice to statements, places and the differences between written signs or pitches. */
import { equals, minus, over, plus, type Rational, type SignId } from "../../base/index.js"
import { LEVELS } from "../../page/index.js"
import type { Step } from "./follow.js"
import { doubtOf, groupsOf, isStatement, largestGroup, type Found } from "./search.js"
import type { Difference, DifferenceKind, Place, Series, Statement } from "./types.js"
import { mismatch, NEARLY, type Figura, type Token, type View } from "./views.js"

/** The steps of one statement: at each place the sign that stands there (or is missing), and those too many before it. */
interface Row {
  readonly shift: number
  readonly at: readonly (Step | undefined)[]
  readonly ids: readonly (SignId | null)[]
  readonly extra: readonly Step[]
}

export function seriesOf(found: Found): Series {
  const { view, template, way, gain } = found
  const period = template.tokens.length
  const rows = rowsOf(view, way.steps, period)
  const statements = rows.map((row, at) => statementOf(view, row, at, rows[0]!, period))
  const numbers = Array.from({ length: period }, (_, place) => place)
  const differences = numbers
    .flatMap(place => differencesAt(view, rows, place, period))
    .toSorted((a, b) => a.statement - b.statement || a.place - b.place)
  return {
    of: view.of,
    by: view.by,
    places: template.tokens.map((token, place) => placeOf(view, rows, place, token)),
    statements,
    differences,
    gain: Math.round(gain * 10) / 10,
    doubt: doubtOf(gain),
  }
}

function rowsOf(view: View, steps: readonly Step[], period: number): Row[] {
  const rows: { shift: number; at: (Step | undefined)[]; extra: Step[] }[] = []
  for (const step of steps) {
    const row = (rows[Math.floor(step.at / period)] ??= { shift: step.shift, at: [], extra: [] })
    if (step.extra) row.extra.push(step)
    else row.at[step.at % period] = step
    row.shift = step.shift
  }
  const id = (step: Step | undefined) => (step && step.token >= 0 ? view.figurae[step.token]!.sign.id : null)
  const all = rows.map(row => ({ ...row, ids: row.at.map(id) }))
  const last = all.at(-1)
  // A sign or two behind the last statement are an ending, not another statement.
  if (last && all.length > 1 && last.at.length < period && !isStatement(last.ids, period)) all.pop()
  return all
}

function statementOf(view: View, row: Row, at: number, first: Row, period: number): Statement {
  const tokens = [...row.at, ...row.extra].flatMap(step => (step && step.token >= 0 ? [step.token] : []))
  const last = view.figurae[tokens.reduce((a, b) => Math.max(a, b))]!.sign
  const { onset } = view.figurae[tokens.reduce((a, b) => Math.min(a, b))]!.sign
  return {
    number: at + 1,
    signs: row.ids,
    extra: row.extra.map(step => ({ sign: view.figurae[step.token]!.sign.id, before: step.at % period })),
    complete: row.at.length === period,
    steps: view.by === "pitches" ? row.shift - first.shift : 0,
    names: view.by === "signs" ? row.shift - first.shift : 0,
    ratio: commonRatio(view, row, first),
    onset,
    duration: minus(plus(last.onset, last.duration), onset),
  }
}

/** The ratio of durations, place by place, that most places agree in. */
function commonRatio(view: View, row: Row, first: Row): Rational | null {
  if (view.of === "color") return null
  const ratios: { ratio: Rational; count: number }[] = []
  let pairs = 0
  row.at.forEach((step, place) => {
    const [own, other] = [durationAt(view, step), durationAt(view, first.at[place])]
    if (!own || !other) return
    pairs++
    const ratio = over(own, other)
    const known = ratios.find(one => equals(one.ratio, ratio))
    if (known) known.count++
    else ratios.push({ ratio, count: 1 })
  })
  return ratios.find(one => one.count * 2 > pairs)?.ratio ?? null
}

function durationAt(view: View, step: Step | undefined): Rational | undefined {
  if (!step || step.token < 0) return undefined
  const { duration, held } = view.figurae[step.token]!.sign
  return duration.num > 0 && !held ? duration : undefined
}

function placeOf(view: View, rows: readonly Row[], place: number, wanted: Token): Place {
  const standing = rows.flatMap(row => standsAt(row, place))
  const [model] = largestGroup(view, standing)
  // a place may stand in none: only in an ending that is no statement, or as the agreed series has it
  const token = model?.token ?? view.tokens.findIndex(one => mismatch(view.by, wanted, one, 0) === 0)
  const { kind, level = null, pitch = null } = view.figurae[token]?.sign ?? { kind: wanted.note ? "note" : "rest" }
  return { kind: kind === "rest" ? "rest" : "note", level: shiftedLevel(level, view, -(model?.shift ?? 0)), pitch }
}

function standsAt(row: Row, place: number): Step[] {
  const step = row.at[place]
  return step && step.token >= 0 ? [step] : []
}

function shiftedLevel(level: Place["level"], view: View, shift: number): Place["level"] {
  if (level === null || view.by !== "signs") return level
  return LEVELS[LEVELS.indexOf(level) + shift] ?? level
}

/** All statements at one place. */
interface Column {
  readonly place: number
  readonly rows: readonly Row[]
  /** Steps that agree with each other, the largest group first. */
  readonly groups: readonly (readonly Step[])[]
  /** Statements in which the place is without a sign. */
  readonly lacking: number
}

function differencesAt(view: View, rows: readonly Row[], place: number, period: number): Difference[] {
  const standing = rows.flatMap(row => standsAt(row, place))
  const lacking = rows.filter(row => (row.at[place]?.token ?? 0) < 0).length
  const column: Column = { place, rows, groups: groupsOf(view, standing), lacking }
  return rows.flatMap((row, at) => {
    const found = row.extra
      .filter(step => step.at % period === place)
      .map((step): Difference | undefined => extraAt(view, step, at, column))
    const step = row.at[place]
    if (step) found.push(step.token < 0 ? missingAt(view, step, at, column) : otherAt(view, step, at, column))
    return found.filter(one => one !== undefined)
  })
}

function extraAt(view: View, step: Step, at: number, { place, rows, groups }: Column): Difference {
  const { sign } = view.figurae[step.token]!
  const own = sign.kind === "rest" ? "rest" : "note"
  const fellows = idsIn(view, groups[0] ?? []).filter(id => id !== rows[at]!.ids[place])
  return { statement: at + 1, place, sign: sign.id, kind: "extra", own, others: null, fellows, odd: rows.length > 2 }
}

const idsIn = (view: View, steps: readonly Step[]): SignId[] => steps.map(one => view.figurae[one.token]!.sign.id)

/** A place without a sign. The sign before it in the voice is named, for there is none to name. */
function missingAt(
  view: View,
  step: Step,
  at: number,
  { place, rows, groups, lacking }: Column,
): Difference | undefined {
  const fellows = groups[0] ?? []
  const [model] = fellows
  const near = neighbour(rows, at, place)
  if (!model || near === undefined) return undefined
  return {
    statement: at + 1,
    place,
    sign: view.figurae[near]!.sign.id,
    kind: "missing",
    own: null,
    others: written(view, model, step.shift),
    fellows: idsIn(view, fellows),
    odd: fellows.length >= 2 && fellows.length > lacking,
  }
}

/** The token before this place; at the very beginning the one after it. */
function neighbour(rows: readonly Row[], at: number, place: number): number | undefined {
  const stands = (one: Step | undefined) => one !== undefined && one.token >= 0
  const row = rows[at]!
  const before = row.at.slice(0, place).findLast(stands) ?? rows[at - 1]?.at.findLast(stands)
  return (before ?? row.at.find(stands))?.token
}

/** A sign that at least as many others do not agree with as do. */
function otherAt(view: View, step: Step, at: number, { place, groups }: Column): Difference | undefined {
  const figura = view.figurae[step.token]!
  // The last note is held freely and often written larger.
  if (view.by !== "pitches" && figura.sign.held) return undefined
  if (groups.length < 2) return undefined
  const like = groups.findLast(group => group.includes(step))!
  const against = groups.find(group => group !== like)
  if (!against || against.length < like.length) return undefined
  const [model] = against as [Step, ...Step[]]
  const kind = kindOf(view, step, model)
  return {
    statement: at + 1,
    place,
    sign: figura.sign.id,
    kind,
    own: described(view, kind, step, 0),
    others: described(view, kind, model, step.shift - model.shift),
    fellows: idsIn(view, against),
    odd: against.length >= 2 && against.length > like.length,
  }
}

function kindOf(view: View, step: Step, model: Step): DifferenceKind {
  const [own, other] = [view.figurae[step.token]!, view.figurae[model.token]!]
  if (view.by === "pitches") return "pitch"
  if (own.sign.kind === "rest" || other.sign.kind === "rest") return "rest"
  if (view.by === "durations") return "duration"
  const apart = view.tokens[model.token]!.value + step.shift - model.shift - view.tokens[step.token]!.value
  if (Math.abs(apart) > NEARLY) return "level"
  return own.marks === other.marks ? "coloration" : "dot"
}

function described(view: View, kind: DifferenceKind, step: Step, shift: number): string {
  const figura = view.figurae[step.token]!
  if (kind === "coloration") return figura.coloration
  if (kind === "dot") return figura.marks === "" ? "no dot" : figura.marks.includes("|") ? "stroke" : "dot"
  return written(view, step, step.shift + shift)
}

/** A sign as a statement with this shift would write it. */
function written(view: View, step: Step, shift: number): string {
  const { sign, spaces }: Figura = view.figurae[step.token]!
  const by = shift - step.shift
  if (view.by === "pitches") return by === 0 ? sign.pitch! : movedPitch(sign.pitch!, by)
  if (view.by === "durations") {
    const text = durationText(view.tokens[step.token]!.value + by)
    return sign.kind === "rest" ? `rest of ${text}` : text
  }
  const level = shiftedLevel(sign.level, view, by) ?? "?"
  if (sign.kind !== "rest") return level
  return by === 0 && spaces !== "" ? `rest of ${spaces}` : `${level} rest`
}

function movedPitch(pitch: string, by: number): string {
  const letters = "cdefgab"
  const number = letters.indexOf(pitch[0]!) + 7 * Number(/-?\d+$/.exec(pitch)![0]) + by
  return `${letters[((number % 7) + 7) % 7]}${Math.floor(number / 7)}`
}

/** Back from a logarithm to the fraction it came from: denominators of durations are small. */
function durationText(logarithm: number): string {
  const duration = 2 ** logarithm
  for (let den = 1; den <= 64; den++) {
    const num = Math.round(duration * den)
    if (Math.abs(num / den - duration) < NEARLY * duration) return den === 1 ? String(num) : `${num}/${den}`
  }
  return duration.toFixed(3)
}
