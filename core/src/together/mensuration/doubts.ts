/** A note is no surer than the divisions on which its length depends. */
import type { VoiceId } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import type { Divisions } from "../../practices/index.js"
import { readPage, type MensurationSpan, type Reading, type SignReading } from "../../reading/index.js"
import type { Assumed } from "../../reading/settings.js"
import { dependingOn } from "./depending.js"
import { assumedFor, type FindOptions } from "./find.js"
import { withMensurationsTold } from "./told.js"
import { inOtherPractice, withOther } from "./other-practice.js"
import type { LevelName } from "./types.js"
import { LEAST_WRONG } from "./weights.js"

/** What was found of each voice. */
type AssumedByVoice = ReadonlyMap<VoiceId, Assumed>

/** Every voice by itself, under what is found from it alone where it does not say. */
export function readApart(page: Page, options: FindOptions = {}): Reading[] {
  const assumed = options.assumed ?? assumedFor(page, { ...options, alone: true })
  const others = readInOther(page, assumed, (one, there) => readPage(one, { ...options, assumed: there }))
  const readings = readPage(page, { ...options, assumed }).map((one, v) => withDoubts(one, assumed, others?.[v]))
  return withMensurationsTold(page, readings, { ...options, assumed })
}

/** What another practice that may be meant has of the page, without the decisions, which are in units of the first. */
export function readInOther(
  page: Page,
  assumed: AssumedByVoice,
  read: (page: Page, assumed: AssumedByVoice) => readonly Reading[],
): readonly Reading[] | undefined {
  const there = inOtherPractice(assumed)
  if (there === undefined) return undefined
  const { decisions: _, ...plain } = page
  return read(plain, there)
}

/**
 * The reading with the doubt of every note and rest raised to that of the divisions it depends on. `other`: the voice as it would be
 * read in another practice that may be meant; where that is not known, the doubt of the practice is that of every note.
 */
export function withDoubts(reading: Reading, assumed: AssumedByVoice, other?: Reading): Reading {
  const known = assumed.get(reading.voice)
  const rivals = known?.divisions?.rivals
  const inferred = reading.practice.from === "inferred" ? known?.practice : undefined
  const rival = other && inferred?.rival
  const practice = rival || !inferred ? 0 : (inferred.noteDoubt ?? inferred.doubt)
  if (rivals === undefined || (practice === 0 && rivals.length === 0 && !rival)) return reading
  const found = known!.divisions!
  const spans = reading.mensurations
  const levelsUnder = dependingOn(reading)
  let at = 0
  const signs = reading.signs.map((sign, num) => {
    while (spans[at + 1] !== undefined && !isBefore(sign, spans[at + 1]!)) at++
    if (sign.number === 0 || sign.held === true || sign.decidedBy === "given" || sign.decidedBy === "decision")
      return sign
    const signed = at > 0 && spans[at]!.from === "given"
    const own = at > 0 && !signed ? divisionsOf(spans[at]!, found) : found
    const here = Math.max(sign.doubt, Math.min(1, practice + doubtOn(levelsUnder(sign), own, rivals, signed)))
    const doubt = rival ? withOther(here, { num, reading, other }, rival) : here
    return doubt <= sign.doubt ? sign : { ...sign, doubt }
  })
  return { ...reading, signs }
}

/** A level that the practice does not have is as it was found. */
const divisionsOf = ({ modusMaior, modusMinor, tempus, prolatio }: MensurationSpan, found: Divisions): Divisions => ({
  modusMaior: modusMaior ?? found.modusMaior,
  modusMinor: modusMinor ?? found.modusMinor,
  tempus: tempus ?? found.tempus,
  prolatio: prolatio ?? found.prolatio,
})

const isBefore = ({ onset }: SignReading, { onset: from }: MensurationSpan): boolean =>
  onset.num * from.den < from.num * onset.den

/** Twice the chance that one of the levels is divided otherwise; a later sign states tempus and prolation. */
function doubtOn(
  levels: readonly LevelName[],
  found: Divisions,
  rivals: NonNullable<NonNullable<Assumed["divisions"]>["rivals"]>,
  signed: boolean,
): number {
  const open = signed ? levels.filter(level => level === "modusMaior" || level === "modusMinor") : levels
  const others = rivals.filter(one => open.some(level => one[level] !== found[level]))
  if (others.length === 0) return 0
  const wrong = others.reduce((sum, { chance }) => sum + chance, 0)
  return Math.round(1e4 * Math.min(1, 2 * Math.max(LEAST_WRONG, wrong))) / 1e4
}
