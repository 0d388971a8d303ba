/** How the voices fit each other as found, and if a level that nobody states were divided the other way in all of them. */
import type { VoiceId } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import type { Assumed } from "../../reading/settings.js"
import { sounding } from "../hearing.js"
import { SIGN_MISSES } from "../other-sign.js"
import { readTogether } from "../read-together.js"
import { assumedOf, type FindOptions } from "./find.js"
import { suppliedLevels } from "./supply.js"
import { LEVEL_NAMES, type Found, type LevelName, type VoiceFound } from "./types.js"
import { levelInWords } from "./words.js"

/** The voices read together under one supposition. */
export interface FitUnder {
  /** The level that is turned, and to what; undefined: as found. */
  readonly level?: LevelName
  readonly division?: 2 | 3
  /** How many voices meet at their finals, of how many. */
  readonly meeting: number
  readonly voices: number
  /** Natural logarithm of odds against the reading as found: higher is less likely. 0 as found. */
  readonly cost: number
  /** One plain sentence. */
  readonly what: string
}

/** Nothing for a page of one voice, or where every voice states everything. Takes as long as a few readings together. */
export function fitsUnder(page: Page, found: Found, options: FindOptions = {}): FitUnder[] {
  const open = found.voices.filter(one => one.from !== "given" && one.candidates.length > 1)
  if (page.voices.length < 2 || open.length === 0 || options.alone === true) return []
  const asFound = under(page, found.voices, options)
  const turned = LEVEL_NAMES.filter(level => open.some(one => isShown(one, level))).map(level => {
    const division = common(open, level) === 3 ? 2 : 3
    const other = under(
      page,
      found.voices.map(one => turn(one, level, division)),
      options,
    )
    const cost = Math.round(100 * (other.cost - asFound.cost)) / 100
    const what = `With ${levelInWords(level, division)} instead ${meetingInWords(other)}.`
    return { level, division, meeting: other.meeting, voices: other.voices, cost, what }
  })
  return [{ ...asFound, cost: 0, what: `As found ${meetingInWords(asFound)}.` }, ...turned] as FitUnder[]
}

/** With what all voices read together say against a stated sign. Takes as long as a reading. */
export function withSignsChecked(page: Page, found: Found, options: FindOptions = {}): Found {
  if (page.voices.length < 2 || options.alone === true) return found
  const assumed: ReadonlyMap<VoiceId, Assumed> = new Map(found.voices.map(one => [one.voice, assumedOf(one)]))
  const { readings } = readTogether(page, { ...options, assumed })
  const told = readings.map(({ problems }) => problems.filter(one => one.code === SIGN_MISSES))
  return {
    ...found,
    voices: found.voices.map((one, v) => ({ ...one, problems: [...one.problems, ...(told[v] ?? [])] })),
  }
}

/** The notes of the voice are told differently by the other division. */
function isShown(one: VoiceFound, level: LevelName): boolean {
  if (!suppliedLevels(one).includes(level)) return false
  const [first, ...others] = one.candidates
  const rival = others.find(other =>
    LEVEL_NAMES.every(name => (other.divisions[name] === first!.divisions[name]) === (name !== level)),
  )
  return rival !== undefined && rival.fit !== first!.fit
}

function common(voices: readonly VoiceFound[], level: LevelName): 2 | 3 {
  const perfect = voices.filter(one => one.divisions[level] === 3).length
  return 2 * perfect > voices.length ? 3 : 2
}

function turn(one: VoiceFound, level: LevelName, division: 2 | 3): VoiceFound {
  return suppliedLevels(one).includes(level) ? { ...one, divisions: { ...one.divisions, [level]: division } } : one
}

interface Outcome {
  readonly meeting: number
  readonly voices: number
  readonly cost: number
}

function under(page: Page, voices: readonly VoiceFound[], options: FindOptions): Outcome {
  const assumed: ReadonlyMap<VoiceId, Assumed> = new Map(voices.map(one => [one.voice, assumedOf(one)]))
  const { meeting, worked, cost } = readTogether(page, { ...options, assumed })
  return { meeting: meeting.length, voices: sounding(worked).length, cost }
}

function meetingInWords({ meeting, voices }: Outcome): string {
  if (meeting === voices) return "the voices meet at their finals"
  return meeting > 1
    ? `only ${meeting} of ${voices} voices meet at their finals`
    : "the voices do not meet at their finals"
}
