/** What was found of practices and mensurations as data for other programs (docs/json.md tells it member by member). */
import type { Problem } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import {
  LEVEL_NAMES,
  type Candidate,
  type Evidence,
  type FitUnder,
  type Found,
  type FoundChange,
  type VoiceFound,
} from "../../together/mensuration/index.js"
import { type Json, problemJson, problemsMember, rounded, unreadable } from "./common.js"

export const MENSURATION_FORMAT = "resolutio-mensuration"
export const MENSURATION_VERSION = 1

/** The object that `resolutio mensuration --format json` prints. */
export function mensurationJson(
  page: Page,
  found: Found,
  fits: readonly FitUnder[] = [],
  problems: readonly Problem[] = [],
): Json {
  return {
    format: MENSURATION_FORMAT,
    version: MENSURATION_VERSION,
    title: page.title,
    voices: found.voices.map(voice => voiceJson(page, voice)),
    together: fits.map(({ level, division, meeting, voices, cost, what }) => ({
      level: level ?? null,
      division: division ?? null,
      meeting,
      voices,
      cost,
      what,
    })),
    ...problemsMember(problems),
  }
}

/** The object of a file that could not be read. */
export function unreadableMensurationJson(file: string, problems: readonly Problem[]): Json {
  return unreadable(MENSURATION_FORMAT, MENSURATION_VERSION, file, problems)
}

function voiceJson(page: Page, found: VoiceFound): Json {
  const { practice, stated, doubt, doubts, candidates, changes, problems, from } = found
  const byTempus = practice.name === "ars-antiqua"
  return {
    n: page.voices.find(voice => voice.id === found.voice)?.n ?? "",
    label: found.label,
    practice: {
      name: practice.name,
      options: practice.options,
      from: practice.from,
      doubt: rounded(practice.doubt),
      candidates: practice.candidates.map(({ name, chance, evidence }) => ({
        name,
        chance: rounded(chance),
        evidence: evidence.map(evidenceJson),
      })),
    },
    mensuration: {
      ...levels(found.divisions, byTempus),
      from,
      stated,
      doubt: rounded(doubt),
      doubts: levels(doubts, byTempus),
    },
    candidates: candidates.map(one => candidateJson(one, byTempus)),
    changes: changes.map(one => changeJson(one, byTempus)),
    problems: problems.map(problemJson),
  }
}

/** A level that the practice does not have is null. */
function levels(values: Readonly<Record<(typeof LEVEL_NAMES)[number], number>>, byTempus: boolean): Json {
  const known = (level: string): boolean => !byTempus || level === "modusMinor" || level === "tempus"
  return Object.fromEntries(LEVEL_NAMES.map(level => [level, known(level) ? values[level] : null]))
}

function candidateJson(
  { divisions, chance, shared, fit, others, asLongAs, evidence }: Candidate,
  byTempus: boolean,
): Json {
  return {
    ...levels(divisions, byTempus),
    chance: rounded(chance),
    shared: rounded(shared),
    fit,
    others,
    asLongAs: asLongAs ?? null,
    evidence: evidence.map(evidenceJson),
  }
}

const evidenceJson = ({ rule, level, signs, weight, what }: Evidence): Json => ({
  rule,
  ...(level === undefined ? {} : { level }),
  signs,
  weight: rounded(weight),
  what,
})

function changeJson({ from, until, divisions, fit, doubt, used, what }: FoundChange, byTempus: boolean): Json {
  const read = used === true
  return { from, until: until ?? null, ...levels(divisions, byTempus), fit, doubt: rounded(doubt), used: read, what }
}
