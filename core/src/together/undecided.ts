/** What the voices together would have read without an editor's decisions: the rules of one voice alone may say otherwise. */
import { equals, type Rational } from "../base/index.js"
import type { Decision, Page, Voice } from "../page/index.js"
import type { ReadOptions } from "../reading/settings.js"
import type { Reading, SignReading } from "../reading/types.js"

type Read = (page: Page) => { readonly readings: readonly Reading[] }

/** Decisions on how long a sign lasts and what a dot is; those on accidentals, canons and forms move none. */
const movesTime = ({ duration, not, dot }: Decision): boolean =>
  duration !== undefined || not !== undefined || dot !== undefined

/**
 * Readings of a page with decisions, with what `read` makes of it without them beside each sign that was decided on. That
 * takes as long as reading the page, and is of use only where it is told: it is read when the first such sign is asked, and kept.
 */
export function withUndecided(page: Page, readings: Reading[], options: ReadOptions, read: Read): Reading[] {
  if (!page.decisions?.some(movesTime)) {
    remember(page, options, readings)
    return readings
  }
  if (!readings.some(({ signs }) => signs.some(isDecided))) return readings
  let found: readonly Reading[] | undefined
  const undecided = (): readonly Reading[] => (found ??= undecidedBy(page, page.decisions!, options, read))
  return readings.map((reading, i) => withOthersSay(reading, () => undecided()[i]!))
}

function undecidedBy(page: Page, all: readonly Decision[], options: ReadOptions, read: Read): readonly Reading[] {
  const decisions = all.filter(one => !movesTime(one))
  const { decisions: _, ...plain } = page
  const without = decisions.length > 0 ? { ...page, decisions } : plain
  return recalled(without, options) ?? remember(without, options, read(without).readings)
}

const isDecided = ({ decidedBy, refused }: SignReading): boolean =>
  decidedBy === "decision" || (refused !== undefined && decidedBy !== "given")

function withOthersSay(reading: Reading, undecided: () => Reading): Reading {
  if (!reading.signs.some(sign => sign.number > 0 && isDecided(sign))) return reading
  const signs = reading.signs.map((sign, i) =>
    sign.number > 0 && isDecided(sign) ? askedLater(sign, () => undecided().signs[i]) : sign,
  )
  return { ...reading, signs }
}

type Said = Pick<SignReading, "rulesSay" | "othersSay">

/** The sign with what is said beside it worked out when it is asked for. */
function askedLater(
  { rulesSay, othersSay: _, ...sign }: SignReading,
  undecided: () => SignReading | undefined,
): SignReading {
  let found: Said | undefined
  const said = (): Said => (found ??= saidBeside(sign.duration, rulesSay, undecided()))
  return Object.defineProperties(sign, {
    rulesSay: { enumerable: true, get: () => said().rulesSay },
    othersSay: { enumerable: true, get: () => said().othersSay },
  })
}

function saidBeside(duration: Rational, rulesSay?: Rational, other?: SignReading): Said {
  if (other === undefined) return rulesSay ? { rulesSay } : {}
  if (equals(other.duration, duration)) return {}
  if (rulesSay !== undefined && equals(rulesSay, other.duration)) return { rulesSay }
  return { rulesSay: other.duration, othersSay: true }
}

/** Read last without decisions, by the first voice: a decision leaves the voices as they are. */
interface Known {
  readonly voices: readonly Voice[]
  readonly asked: string
  readonly practices: ReadOptions["practices"]
  readonly readings: readonly Reading[]
}
const known = new WeakMap<Voice, Known>()

const askedOf = (page: Page, { practice, ignoreGiven, assumed, gaps }: ReadOptions): string =>
  JSON.stringify([practice, ignoreGiven ?? false, assumed && [...assumed], gaps && [...gaps], page.decisions ?? []])

function remember(page: Page, options: ReadOptions, readings: readonly Reading[]): readonly Reading[] {
  const { voices } = page
  const [first] = voices
  if (first) known.set(first, { voices, asked: askedOf(page, options), practices: options.practices, readings })
  return readings
}

function recalled(page: Page, options: ReadOptions): readonly Reading[] | undefined {
  const found = page.voices[0] && known.get(page.voices[0])
  if (found === undefined || found.practices !== options.practices) return undefined
  const same = found.voices.length === page.voices.length && found.voices.every((voice, i) => voice === page.voices[i])
  return same && found.asked === askedOf(page, options) ? found.readings : undefined
}
