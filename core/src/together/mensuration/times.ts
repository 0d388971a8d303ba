/** What tells the time of a page beside its shapes: the years that the file states, names of voices, signs of later use. */
import type { SignId } from "../../base/index.js"
import type { Page, Voice } from "../../page/index.js"
import type { Shapes } from "./practices.js"
import type { Evidence } from "./types.js"
import { DATED, LATE } from "./weights.js"

/** Names of voices in motets before 1430, and of the voices into which the contratenor was divided (common practice). */
const EARLY_NAME = /\b(triplum|motetus|quadruplum|duplum)\b/i
const LATE_NAME = /\b(altus|bassus|superius|discantus|quint[ua]|sext[ua]|quinta pars)\b/i

/** For white notation (positive) or Ars nova, where nothing is said of the heads. */
export function lateSigns(voices: readonly Voice[], shapes: Shapes): Evidence[] {
  const named = (names: RegExp): boolean => voices.some(voice => names.test(voice.label))
  const kinds: [string, boolean, number, string, readonly SignId[]][] = [
    ["fusae", shapes.fusae.length > 0, LATE.fusae, "fusae are written", shapes.fusae],
    ["cut-signs", shapes.cut.length > 0, LATE.cut, "a stroke goes through a sign of mensuration", shapes.cut],
    ["blackened", shapes.blackened.length > 0, LATE.blackened, "notes are blackened", shapes.blackened],
    ["red", shapes.red.length > 0, LATE.red, "notes are red", shapes.red],
    ["late-names", named(LATE_NAME), LATE.names, "voices bear names that came into use about 1450", []],
    ["early-names", named(EARLY_NAME), -LATE.names, "voices bear names of motets before 1430", []],
    ["many-voices", voices.length > 4, LATE.many, `there are ${voices.length} voices`, []],
  ]
  return kinds
    .filter(([, shown]) => shown)
    .map(([rule, , weight, what, signs]) => ({ rule, weight, what, signs: signs.slice(0, 3) }))
}

/** For the later of two practices (positive) or the earlier: years between which the later took over. */
export function yearEvidence(years: Page["years"], between: number, within: number): Evidence[] {
  if (years === undefined) return []
  const later = (year: number): number => 1 / (1 + Math.exp((between - year) / within))
  const [from, to] = years.made ?? years.copied!
  const chances = Array.from({ length: to - from + 1 }, (_, i) => later(from + i))
  const chance = chances.reduce((sum, one) => sum + one, 0) / chances.length
  const odds = Math.log(chance / (1 - chance))
  // a source may be much younger than what it holds, never older
  const weight = Math.max(-DATED, Math.min(years.made === undefined ? 0 : DATED, odds))
  if (!(Math.abs(weight) >= LEAST_TOLD)) return []
  const when = from === to ? `${from}` : `${from}-${to}`
  const what = years.made === undefined ? `the source is of ${when}` : `the piece is of ${when}`
  return [{ rule: "date", signs: [], weight: Math.round(100 * weight) / 100, what: `${what}, as the file says` }]
}

const LEAST_TOLD = 0.2
