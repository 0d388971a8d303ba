/**
 * What coloration does to a value. Default: a note that is perfect at its level or in its parts loses a third; another
 * keeps its value, but for groups, pairs and single notes in imperfect time.
 */
import type { Mensuration } from "./mensuration.js"
import { BREVIS, LONGA, MINIMA, SEMIBREVIS, SEMIMINIMA } from "./mensuration.js"
import type { Rule, Settings, Source } from "./types.js"

/** What is needed of a figure to weigh its colour; rests within a coloured group count by worth. */
export interface Inked {
  readonly level: number
  readonly rest: boolean
  readonly full: number
  readonly coloration: "none" | "full" | "half"
  readonly dotted: boolean
}
export interface Coloured {
  readonly ticks: number
  readonly rule: string
}

export function isPerfectible(mensuration: Mensuration, level: number, least = MINIMA): boolean {
  for (let k = level; k < least; k++) if (mensuration.divisions[k] === 3) return true
  return false
}

/** What colour leaves of the figures from one on up to another; of those that are not told it changes nothing. */
export interface ColourEffects {
  readonly from: number
  readonly to: number
  readonly effects: ReadonlyMap<number, Coloured>
}

/** What colour leaves of the figures, at least of those `from` up to `to`: to where no other group has a part in it. */
export function colourEffects(
  figures: readonly Inked[],
  mensuration: Mensuration,
  settings: Settings,
  from = 0,
  to = figures.length,
): ColourEffects {
  const effects = new Map<number, Coloured>()
  let first = from > 0 ? from - 1 : 0
  while (first > 0 && !standsApart(figures[first]!)) first--
  let i = first
  while (i < figures.length && !(i >= to && standsApart(figures[i]!))) {
    if (figures[i]!.coloration === "none") {
      i++
      continue
    }
    const hidden = endOfHemiola(figures, i, mensuration, settings)
    if (hidden > i) {
      for (let at = i; at < hidden; at++)
        effects.set(at, { ticks: (worthInGroup(figures[at]!) * 2) / 3, rule: "coloratio" })
      i = hidden
      continue
    }
    const end = endOfGroup(figures, i, settings)
    effectsOfGroup({ figures, from: i, to: end, settings, effects }, mensuration)
    i = end
  }
  return { from: first, to: i, effects }
}

/** A figure over which no coloured group reaches. */
const standsApart = (f: Inked): boolean => f.coloration === "none" && !f.rest && f.level !== SEMIMINIMA

/** In a coloured group a black minim cannot be told from a semiminim by its shape (Proportionale musices, 1470s, I.6). */
const worthInGroup = (f: Inked): number => (f.coloration === "none" && f.level === SEMIMINIMA ? 2 * f.full : f.full)

/**
 * Where a black group of imperfect time holds semiminims between its larger notes, and taking them for black minims makes
 * the whole a three of its largest: the end of that hemiola; -1 where there is none.
 */
function endOfHemiola(figures: readonly Inked[], from: number, mensuration: Mensuration, settings: Settings): number {
  if (settings["colourInImperfect"] !== "late" || figures[from]!.level >= MINIMA || figures[from]!.rest) return -1
  if (isPerfectible(mensuration, BREVIS)) return -1
  let worth = 0
  let small = 0
  let end = -1
  for (let i = from; i < figures.length; i++) {
    const f = figures[i]!
    const black = f.coloration === "full" && f.level < MINIMA
    if (f.rest || f.dotted || !(black || (f.coloration === "none" && f.level === SEMIMINIMA))) break
    worth += worthInGroup(f)
    if (!black) small++
    if (black && small > 0 && small % 2 === 0 && worth % (3 * figures[from]!.full) === 0) end = i + 1
  }
  return end
}

/**
 * A coloured group runs on over its rests to its last coloured note. Where coloured notes stand in threes, a three that is whole
 * before a rest ends there: the rest is outside it, and keeps its value (common practice).
 */
function endOfGroup(figures: readonly Inked[], from: number, settings: Settings): number {
  const threes = settings["colourInImperfect"] === "threes"
  let last = from
  for (let i = from; i < figures.length; i++) {
    if (figures[i]!.coloration !== "none" && !figures[i]!.rest) last = i
    else if (!figures[i]!.rest || (threes && last === i - 1 && isThreefold({ figures, from, to: i }))) break
  }
  return last + 1
}

/** Figures `from` up to `to` are a coloured group; what its colour leaves of each goes into `effects`. */
interface Group {
  readonly figures: readonly Inked[]
  readonly from: number
  readonly to: number
  readonly settings: Settings
  readonly effects: Map<number, Coloured>
}

/** By what colour means: the level that it makes imperfect (option colourMap). */
const IMPERFECT_AT: Readonly<Record<string, number>> = {
  "perfect-modus": LONGA,
  "perfect-tempus": BREVIS,
  "perfect-prolatio": SEMIBREVIS,
}

function effectsOfGroup(group: Group, mensuration: Mensuration): void {
  const level = IMPERFECT_AT[group.settings["colourMap"]!]
  if (level === undefined) return usualEffects(group, mensuration)
  const { figures, from, to, effects } = group
  for (let i = from; i < to; i++) {
    const { rest, full, level: own } = figures[i]!
    if (!rest && own <= level) effects.set(i, { ticks: (full * 2) / 3, rule: "coloratio" })
  }
}

function usualEffects(group: Group, mensuration: Mensuration): void {
  const { figures, from, to, effects, settings } = group
  const imperfect: number[] = []
  // where no minims are drawn, no note is perfect because its semibreves would have three of them (inference)
  const least = settings["minims"] === "unwritten" ? SEMIBREVIS : MINIMA
  for (let i = from; i < to; i++) {
    const f = figures[i]!
    if (f.coloration === "half") {
      if (isPerfectible(mensuration, f.level, least)) effects.set(i, { ticks: (f.full * 5) / 6, rule: "semicoloratio" })
    } else if (isPerfectible(mensuration, f.level, least)) {
      if (f.coloration === "full" && !f.rest) effects.set(i, { ticks: (f.full * 2) / 3, rule: "coloratio" })
    } else imperfect.push(i)
  }
  const imperfectTimeHolds = !isPerfectible(mensuration, BREVIS, least)
  if (imperfect.length === to - from && imperfectTimeHolds) imperfectTime(group)
}

/** Groups of three, pairs and single notes where nothing is perfect (Practica musicae, 1496, IV.5; De arte canendi, 1540, II.1). */
function imperfectTime(group: Group): void {
  const { figures, from, to, settings } = group
  if (settings["colourInImperfect"] === "keep") return
  if (settings["colourInImperfect"] === "threes") return isThreefold(group) ? threesForTwo(group) : undefined
  if (figures.slice(from, to).every(f => f.level >= MINIMA)) return blackMinims(group)
  const pair =
    to - from === 2 &&
    figures[from + 1]!.level === figures[from]!.level + 1 &&
    !figures[from + 1]!.rest &&
    !figures[from]!.rest
  if (pair) return minorColor(group, from)
  if (to - from === 1) return single(group, from)
  if (isThreefold(group)) return threesForTwo(group)
  pairsAndSingles(group)
}

function threesForTwo({ figures, from, to, effects }: Group): void {
  for (let i = from; i < to; i++) effects.set(i, { ticks: (figures[i]!.full * 2) / 3, rule: "coloratio" })
}

/** The group's worth is a multiple of three of its largest or next larger note. */
function isThreefold({ figures, from, to }: Pick<Group, "figures" | "from" | "to">): boolean {
  let worth = 0
  let largest = 0
  for (let i = from; i < to; i++) {
    const f = figures[i]!
    worth += f.dotted ? f.full * 1.5 : f.full
    largest = Math.max(largest, f.full)
  }
  return worth % (3 * largest) === 0 || (worth % (3 * (largest / 2)) === 0 && worth > 1.5 * largest)
}

function pairsAndSingles(group: Group): void {
  const { figures, from, to } = group
  for (let i = from; i < to;) {
    if (i + 1 < to && figures[i + 1]!.level === figures[i]!.level + 1) {
      minorColor(group, i)
      i += 2
    } else {
      single(group, i)
      i++
    }
  }
}

function minorColor({ figures, settings, effects }: Group, at: number): void {
  const [large, small] = settings["minorColor"] === "triplet" ? [2 / 3, 2 / 3] : [3 / 4, 1 / 2]
  effects.set(at, { ticks: Math.round(figures[at]!.full * large), rule: "minor-color" })
  effects.set(at + 1, { ticks: Math.round(figures[at + 1]!.full * small), rule: "minor-color" })
}

function single({ figures, settings, effects }: Group, at: number): void {
  const f = figures[at]!
  if (f.rest || f.level >= MINIMA) return
  const kept = settings["isolatedBlack"] === "half" ? 1 / 2 : settings["isolatedBlack"] === "two-thirds" ? 2 / 3 : 3 / 4
  effects.set(at, { ticks: Math.round(f.full * kept), rule: "isolated-black" })
}

/** Black minims by their number and by the white minim next to them (Proportionale musices, 1470s, I.6; Practica musicae, 1496, IV.5). */
function blackMinims({ figures, from, to, effects }: Group): void {
  let worth = 0
  for (let i = from; i < to; i++) worth += figures[i]!.dotted ? figures[i]!.full * 1.5 : figures[i]!.full
  const unit = figures.slice(from, to).find(f => f.level === MINIMA)?.full ?? figures[from]!.full
  const count = worth / unit
  const white = (f: Inked | undefined): boolean =>
    f !== undefined && f.coloration === "none" && f.level === MINIMA && !f.rest
  const before = white(figures[from - 1])
  const after = white(figures[to])
  const thirds = thirdsOf(count, before, after)
  let seen = 0
  for (let i = from; i < to; i++) {
    const at = seen / unit
    effects.set(i, { ticks: Math.round(figures[i]!.full * (thirds(at) ? 2 / 3 : 1 / 2)), rule: "black-minims" })
    seen += figures[i]!.full
  }
}

function thirdsOf(count: number, before: boolean, after: boolean): (at: number) => boolean {
  if (count % 2 === 0) return () => count % 3 === 0 && !before && !after
  if (count % 3 === 0) return () => true
  if (count === 5) return after && !before ? at => at < 3 : at => at >= 2
  if (count === 7) return at => at >= 4
  return () => false
}

/** Five rules, one for each way colour acts; the amounts come from `colourEffects`. */
export function colourRule(id: string, ...sources: Source[]): Rule {
  return {
    id,
    sources,
    appliesTo: f => f.colouredTicks !== undefined,
    propose(s) {
      const f = s.figure
      if (f.colouredTicks !== undefined && f.colourRule === id && f.fixed === undefined && f.dotGiven !== "aug")
        s.offer(id, f.colouredTicks, 0, { free: true })
    },
  }
}
