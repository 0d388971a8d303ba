/** Lines of the report on the reading: what an editor decided, and what could be read otherwise. */
import { equals, toText, type Rational, type SignId } from "../../base/index.js"
import { decisionWords, flatSigns, type Decision, type Page, type Sign } from "../../page/index.js"
import type { MensurationSpan, Reading, SignReading } from "../../reading/index.js"
import { explainRule, explainShort } from "../../reading/explain.js"
import { mensurationInWords } from "../../together/mensuration/words.js"
import { signsInWords, withoutWords } from "../sign-words.js"
import type { Drafted } from "./emendations.js"
import type { LevelOf } from "./types.js"

interface Read {
  readonly reading: Reading
  readonly sign: SignReading
}
export type ReadOf = ReadonlyMap<SignId, Read>

export function readOf(readings: readonly Reading[]): ReadOf {
  return new Map(readings.flatMap(reading => reading.signs.map(sign => [sign.id, { reading, sign }] as const)))
}

/** "6 minims", "1 tempus". */
export function lasting(duration: Rational, unit: Reading["unit"]): string {
  const one = duration.num === duration.den
  return `${toText(duration)} ${unit === "tempus" ? (one ? "tempus" : "tempora") : one ? "minim" : "minims"}`
}

/** One line for each decision; those that were made as one under a label are one line. */
export function decisionLines(page: Page, read: ReadOf, levelOf: LevelOf): Drafted[] {
  const signs = new Map<SignId, Sign>(page.voices.flatMap(voice => flatSigns(voice).map(({ sign }) => [sign.id, sign])))
  const groups = new Map<string, Decision[]>()
  for (const one of page.decisions ?? []) {
    const key = one.label === undefined ? `id ${one.id}` : `label ${one.label}`
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  return [...groups.values()].map((group): Drafted => {
    const [first] = group as [Decision]
    const found = group.flatMap(one => signs.get(one.sign) ?? [])
    const many = group.length > 1 ? `${group.length} signs, decided as one` : ""
    return {
      signs: group.map(one => one.sign),
      entry: {
        kind: "decision",
        source:
          found.length === 0
            ? "a sign that is no longer there"
            : many || signsInWords(found.map(withoutWords), levelOf),
        edition:
          group.length > 4
            ? "another reading of the passage as a whole"
            : group.map(one => decided(one, read)).join("; "),
        why: first.why ?? "",
        who: first.who === undefined ? "" : page.people?.[first.who] || first.who,
      },
    }
  })
}

function decided(decision: Decision, read: ReadOf): string {
  const found = read.get(decision.sign)
  if (decision.duration === undefined || !found) return decisionWords(decision, found?.reading.unit)
  const { reading, sign } = found
  const by = sign.othersSay ? "by the voices together" : "by the rules"
  const rules = sign.rulesSay && !equals(sign.rulesSay, sign.duration) ? `; ${by} ${toText(sign.rulesSay)}` : ""
  return `${lasting(decision.duration, reading.unit)}${rules}`
}

/** A mensuration by which a voice is read though no sign states it. Before the Ars nova there are no signs to miss. */
export function foundLines(page: Page, readings: readonly Reading[]): Drafted[] {
  return readings.flatMap(({ voice: id, unit, mensurations }): Drafted[] => {
    const [span] = mensurations
    const first = page.voices.find(one => one.id === id)?.signs[0]
    if (span?.from !== "inferred" || unit === "tempus" || first === undefined) return []
    const entry = {
      kind: "found",
      source: "no sign of mensuration",
      edition: spanInWords(span),
      why: "",
      who: "",
    } as const
    return [{ signs: [first.id], entry: { ...entry, doubt: span.doubt } }]
  })
}

const spanInWords = ({ modusMaior, modusMinor, tempus, prolatio }: MensurationSpan): string =>
  mensurationInWords({
    modusMaior: modusMaior ?? 2,
    modusMinor: modusMinor ?? 2,
    tempus: tempus ?? 2,
    prolatio: prolatio ?? 2,
  })

/** Signs whose doubt is at least so much; those side by side that share one doubt are one line. */
export function openLines(page: Page, readings: readonly Reading[], least: number, levelOf: LevelOf): Drafted[] {
  return readings.flatMap(reading => {
    const voice = page.voices.find(one => one.id === reading.voice)
    const signs = new Map(voice ? flatSigns(voice).map(({ sign }) => [sign.id, sign] as const) : [])
    return runs(reading, least).map(run => openLine(reading, run, signs, levelOf))
  })
}

function runs(reading: Reading, least: number): SignReading[][] {
  const all: SignReading[][] = []
  let before: SignReading | undefined
  for (const sign of reading.signs) {
    if (sign.number === 0) continue
    const open = sign.doubt >= least && sign.rivals.length > 0
    const joined = open && before !== undefined && Math.abs(before.doubt - sign.doubt) < 0.01
    if (joined) all.at(-1)!.push(sign)
    else if (open) all.push([sign])
    before = open ? sign : undefined
  }
  return all
}

function openLine(
  reading: Reading,
  run: readonly SignReading[],
  signs: ReadonlyMap<SignId, Sign>,
  levelOf: LevelOf,
): Drafted {
  const [first] = run as [SignReading]
  const sources = run.flatMap(one => signs.get(one.id) ?? [])
  const many = run.length > 6
  return {
    signs: run.map(one => one.id),
    entry: {
      kind: "open",
      source: many ? `${run.length} notes and rests` : signsInWords(sources.map(withoutWords), levelOf),
      edition: many ? "as in the score" : durations(run, reading.unit),
      why: run.length === 1 ? `${explainShort(reading, first)} ${rivalsOf(reading, first)}` : otherwise(run, many),
      who: "",
      doubt: Math.max(...run.map(one => one.doubt)),
    },
  }
}

function durations(run: readonly SignReading[], unit: Reading["unit"]): string {
  if (run.length === 1) return lasting(run[0]!.duration, unit)
  return `${run.map(one => toText(one.duration)).join(", ")} ${unit === "tempus" ? "tempora" : "minims"}`
}

/** Those rarer than so much are not told. */
const RARE = 0.02
function rivalsOf(reading: Reading, sign: SignReading): string {
  return sign.rivals
    .filter((rival, i) => i === 0 || rival.chance >= RARE)
    .map(rival => {
      const other = { ...sign, duration: rival.duration, because: rival.because }
      return `It could also last ${toText(rival.duration)}: ${lowered(explainRule(reading, other, rival.rule))}`
    })
    .join(" ")
}
const lowered = (sentence: string): string => sentence.charAt(0).toLowerCase() + sentence.slice(1)

function otherwise(run: readonly SignReading[], many: boolean): string {
  if (many) return "The passage allows two readings."
  return `They could also last ${run.map(one => toText(one.rivals[0]!.duration)).join(", ")}.`
}
