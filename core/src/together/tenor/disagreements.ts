/** What the statements of a talea say of each other's durations. */
import { equals, over, times, type Rational, type SignId } from "../../base/index.js"
import type { Repetition, Series } from "./types.js"

/** A sign whose duration is not what its fellows make expected, though the written signs are the same. */
export interface Disagreement {
  readonly sign: SignId
  /** Number of the statement, from 1. */
  readonly statement: number
  /** From 0. */
  readonly place: number
  readonly own: Rational
  /** What most others say, in the time of this statement. */
  readonly others: Rational
  readonly fellows: readonly SignId[]
  /** True: at least two others agree against it. */
  readonly odd: boolean
}

export interface Disagreements {
  /** How many durations would have to change for all statements to agree. */
  readonly count: number
  /** In the order of the voice; of two statements that differ, both are listed. */
  readonly places: readonly Disagreement[]
}

/** The signs at the same place of the other statements of the talea; none for a sign outside, or one of a kind. */
export function fellowsOf(repetition: Repetition, sign: SignId): readonly SignId[] {
  const spot = repetition.spots.get(sign)
  if (!spot) return []
  return spot.series.statements.flatMap((statement, at) => {
    const other = statement.signs[spot.place]
    return at !== spot.statement && other ? [other] : []
  })
}

/**
 * Where durations differ between statements at places that are written alike. `durations` are those of any reading of
 * the voice (undefined: leave the sign out), so that rival readings can be compared by their counts. A statement in
 * diminution is compared in its own time. Takes time in proportion to the voice.
 */
export function repeatDisagreements(
  { taleae }: Pick<Repetition, "taleae">,
  durations: (sign: SignId) => Rational | undefined,
): Disagreements {
  const each = taleae.map(series => inSeries(series, durations))
  return { count: each.reduce((total, one) => total + one.count, 0), places: each.flatMap(one => one.places) }
}

interface Here {
  readonly statement: number
  readonly sign: SignId
  readonly own: Rational
  /** Duration in the first statement's time. */
  readonly scaled: Rational
  readonly scale: Rational
}

function inSeries(series: Series, durations: (sign: SignId) => Rational | undefined): Disagreements {
  const scales = series.statements.map((_, at) => scaleOf(series, at, durations))
  const otherwise = new Set(series.differences.filter(one => one.kind !== "duration").map(one => one.sign))
  const places: Disagreement[] = []
  let count = 0
  for (let place = 0; place < series.places.length; place++) {
    const here = series.statements.flatMap((statement, at): Here[] => {
      const sign = statement.signs[place]
      const own = sign && !otherwise.has(sign) ? durations(sign) : undefined
      const scale = own && scales[at]!(place)
      return sign && own && scale ? [{ statement: at, sign, own, scaled: over(own, scale), scale }] : []
    })
    const groups = grouped(here)
    count += here.length - Math.max(0, ...groups.map(group => group.length))
    for (const group of groups) places.push(...disagreeing(group, groups, place))
  }
  return { count, places: places.toSorted((a, b) => a.statement - b.statement || a.place - b.place) }
}

function grouped(here: readonly Here[]): Here[][] {
  const groups = new Map<string, Here[]>()
  for (const one of here) {
    const key = `${one.scaled.num}/${one.scaled.den}`
    const group = groups.get(key)
    if (group) group.push(one)
    else groups.set(key, [one])
  }
  return [...groups.values()].toSorted((a, b) => b.length - a.length)
}

function disagreeing(group: readonly Here[], groups: readonly Here[][], place: number): Disagreement[] {
  const against = groups.find(other => other !== group)
  if (!against || against.length < group.length) return []
  return group.map(({ sign, statement, own, scale }) => ({
    sign,
    statement: statement + 1,
    place,
    own,
    others: times(against[0]!.scaled, scale),
    fellows: against.map(one => one.sign),
    odd: against.length >= 2 && against.length > group.length,
  }))
}

/** Instances that a level needs before its own ratio counts: a level may shrink to a third where another halves. */
const ENOUGH = 3

/**
 * Place by place, how a statement's durations stand to the first's. One ratio for all where most places share it, as
 * in a plain repeat or a proportion; else one for each level, as in diminution by names; undefined where neither shows.
 */
function scaleOf(
  { statements, places }: Series,
  at: number,
  durations: (sign: SignId) => Rational | undefined,
): (place: number) => Rational | undefined {
  const ratios: { readonly level: string; readonly ratio: Rational }[] = []
  statements[at]!.signs.forEach((sign, place) => {
    const first = statements[0]!.signs[place]
    const [own, other] = [sign && durations(sign), first && durations(first)]
    if (own && other && own.num > 0 && other.num > 0)
      ratios.push({ level: `${places[place]!.level}`, ratio: over(own, other) })
  })
  const common = most(ratios.map(one => one.ratio))
  const byLevel = new Map<string, Rational | undefined>()
  for (const { level } of ratios) {
    if (byLevel.has(level)) continue
    const own = ratios.filter(one => one.level === level).map(one => one.ratio)
    byLevel.set(level, own.length >= ENOUGH ? (most(own) ?? common) : common)
  }
  return place => byLevel.get(`${places[place]!.level}`)
}

/** The ratio of more than half. */
function most(ratios: readonly Rational[]): Rational | undefined {
  const counts: { ratio: Rational; count: number }[] = []
  for (const ratio of ratios) {
    const known = counts.find(one => equals(one.ratio, ratio))
    if (known) known.count++
    else counts.push({ ratio, count: 1 })
  }
  return counts.find(one => one.count * 2 > ratios.length)?.ratio
}
