/** From a way through the voice to statements, places and the differences between written signs or pitches. */
import { equals, minus, over, plus, type Rational, type SignId } from "../../base/index.js"
import { LEVELS } from "../../page/index.js"
import type { Step } from "./follow.js"
import { alike, doubtOf, isStatement, largestGroup, type Found } from "./search.js"
import type { Difference, DifferenceKind, Place, Series, Statement } from "./types.js"
import { NEARLY, type Figura, type View } from "./views.js"

/** The steps of one statement: at each place the sign that stands there (or is missing), and those too many before it. */
interface Row {
  readonly shift: number
  readonly at: readonly (Step | undefined)[]
  readonly extra: readonly Step[]
}

export function seriesOf(found: Found): Series {
  const { view, template, way, gain } = found
  const period = template.tokens.length
  const rows = rowsOf(way.steps, period)
  const statements = rows.map((row, at) => statementOf(view, row, at, rows[0]!, period))
  const differences = rows.flatMap((row, at) => differencesOf(view, row, at, rows, period))
  const places = Array.from({ length: period }, (_, place) => placeOf(view, rows, place))
  return {
    of: view.of,
    by: view.by,
    places,
    statements,
    differences,
    gain: Math.round(gain * 10) / 10,
    doubt: doubtOf(gain),
  }
}

function rowsOf(steps: readonly Step[], period: number): Row[] {
  const rows: { shift: number; at: (Step | undefined)[]; extra: Step[] }[] = []
  for (const step of steps) {
    const number = Math.floor(step.at / period)
    const row = (rows[number] ??= { shift: step.shift, at: [], extra: [] })
    if (step.extra) row.extra.push(step)
    else row.at[step.at % period] = step
    row.shift = step.shift
  }
  const last = rows.at(-1)
  // A sign or two behind the last statement are an ending, not another statement.
  if (last && rows.length > 1 && last.at.length < period && !isStatement(idsOf(last.at), period)) rows.pop()
  return rows
}
const idsOf = (steps: readonly (Step | undefined)[]) =>
  steps.map(step => (step && step.token >= 0 ? ("x" as SignId) : null))

function statementOf(view: View, row: Row, at: number, first: Row, period: number): Statement {
  const id = (step: Step | undefined) => (step && step.token >= 0 ? view.figurae[step.token]!.sign.id : null)
  const extra = row.extra.map(step => ({ sign: view.figurae[step.token]!.sign.id, before: step.at % period }))
  const tokens = [...row.at, ...row.extra].flatMap(step => (step && step.token >= 0 ? [step.token] : []))
  const [from, to] = [Math.min(...tokens), Math.max(...tokens)]
  const last = view.figurae[to]!.sign
  const { onset } = view.figurae[from]!.sign
  return {
    number: at + 1,
    signs: row.at.map(id),
    extra,
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

function placeOf(view: View, rows: readonly Row[], place: number): Place {
  const standing = rows.flatMap(row => standsAt(row, place))
  const [model] = largestGroup(view, standing)
  const { kind, level, pitch } = view.figurae[model!.token]!.sign
  return { kind: kind === "rest" ? "rest" : "note", level: shiftedLevel(level, view, -model!.shift), pitch }
}

function standsAt(row: Row, place: number): Step[] {
  const step = row.at[place]
  return step && step.token >= 0 ? [step] : []
}

function shiftedLevel(level: Place["level"], view: View, shift: number): Place["level"] {
  if (level === null || view.by !== "signs") return level
  return LEVELS[LEVELS.indexOf(level) + shift] ?? level
}

function differencesOf(view: View, row: Row, at: number, rows: readonly Row[], period: number): Difference[] {
  const found: Difference[] = []
  for (let place = 0; place < row.at.length; place++) {
    const extra = row.extra.filter(step => step.at % period === place)
    found.push(...extra.map(step => extraAt(view, step, at, place, rows)))
    const step = row.at[place]
    if (!step) continue
    const others = rows.flatMap((other, index) => (index === at ? [] : standsAt(other, place)))
    const lacking = rows.filter(other => (other.at[place]?.token ?? 0) < 0).length
    const difference =
      step.token < 0
        ? missingAt(view, row, step, at, place, others, lacking, rows)
        : otherAt(view, step, at, place, others)
    if (difference) found.push(difference)
  }
  return found
}

function extraAt(view: View, step: Step, at: number, place: number, rows: readonly Row[]): Difference {
  const sign = view.figurae[step.token]!.sign
  const fellows = rows.flatMap((row, index) => (index === at ? [] : standsAt(row, place).map(one => idAt(view, one))))
  const own = sign.kind === "rest" ? "rest" : "note"
  return { statement: at + 1, place, sign: sign.id, kind: "extra", own, others: null, fellows, odd: rows.length > 2 }
}

const idAt = (view: View, step: Step): SignId => view.figurae[step.token]!.sign.id

/** A place without a sign. The sign before it in the voice is named, for there is none to name. */
function missingAt(
  view: View,
  row: Row,
  step: Step,
  at: number,
  place: number,
  others: readonly Step[],
  lacking: number,
  rows: readonly Row[],
): Difference | undefined {
  const fellows = largestGroup(view, others)
  const [model] = fellows
  const near = row.at.slice(0, place).findLast(one => one && one.token >= 0)
  const last = near?.token ?? lastBefore(rows.slice(0, at)) ?? row.at.find(one => one && one.token >= 0)?.token
  if (!model || last === undefined) return undefined
  return {
    statement: at + 1,
    place,
    sign: view.figurae[last]!.sign.id,
    kind: "missing",
    own: null,
    others: written(view, model, step.shift),
    fellows: fellows.map(one => idAt(view, one)),
    odd: fellows.length >= 2 && fellows.length > lacking,
  }
}

function lastBefore(rows: readonly Row[]): number | undefined {
  const tokens = rows.flatMap(row => row.at.flatMap(step => (step && step.token >= 0 ? [step.token] : [])))
  return tokens.length > 0 ? Math.max(...tokens) : undefined
}

/** A sign that most others do not agree with. */
function otherAt(view: View, step: Step, at: number, place: number, others: readonly Step[]): Difference | undefined {
  const figura = view.figurae[step.token]!
  // The last note is held freely and often written larger.
  if (view.by !== "pitches" && figura.sign.held) return undefined
  const like = others.filter(one => alike(view, one, step)).length
  const against = largestGroup(view, others.filter(one => !alike(view, one, step)))
  const [model] = against
  if (!model || against.length < like + 1) return undefined
  const kind = kindOf(view, step, model)
  return {
    statement: at + 1,
    place,
    sign: figura.sign.id,
    kind,
    own: described(view, kind, step, 0),
    others: described(view, kind, model, step.shift - model.shift),
    fellows: against.map(one => idAt(view, one)),
    odd: against.length >= 2 && against.length > like + 1,
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

