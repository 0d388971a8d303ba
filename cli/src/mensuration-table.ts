/** What was found for one voice as a table: a row for each candidate, and under it what speaks for and against it. */
import {
  divisionsInWords,
  ownOdds,
  shownCandidates,
  suppliedLevels,
  type Candidate,
  type Evidence,
  type Found,
  type VoiceFound,
} from "@resolutio/core"
import { columns, paragraph } from "./layout.js"
import type { TableOptions } from "./printer.js"
import { plain } from "./shell.js"
import { doubtMark } from "./table.js"

/** So much is told of the first, and of each other. */
const MOST_EVIDENCE = 9
const MOST_AGAINST = 3

/** The practices that were tried for the voices that do not say theirs; nothing where all do. */
export function practiceTable(found: Found, { columns: width }: TableOptions): string[] {
  const tried = found.voices.find(one => one.practice.candidates.length > 0)?.practice.candidates ?? []
  return tried.flatMap(({ name, chance, evidence }) =>
    rows(`${name}: chance ${percent(chance)}`, evidence, MOST_EVIDENCE, width),
  )
}

export function mensurationTable(found: VoiceFound, { columns: width, bold, dim }: TableOptions): string[] {
  const say = (text: string, style = (line: string) => line) => paragraph(text, width).map(style)
  const lines = [...say(`${plain(found.label)}: ${verdict(found)}`, bold), ...say(practiceLine(found), dim)]
  const shown = shownCandidates(found)
  if (shown.length > 1) {
    lines.push(...shown.flatMap((one, at) => candidateRows(one, at, found, width)))
    lines.push(...others(found, shown, width))
  }
  for (const { what, used, doubt } of found.changes)
    lines.push(...say(`${used ? "A change (supplied):" : "A change?"} ${what} (doubt ${doubtText(doubt)})`))
  return lines
}

function verdict(found: VoiceFound): string {
  if (found.candidates.length === 0) return "there is no note to tell a mensuration from"
  const words = divisionsInWords(found.divisions, found)
  if (found.from === "given") return `${words} (stated in the file)`
  const open = suppliedLevels(found)
  const { stated } = found
  const some =
    stated.length > 0 && open.length > 0
      ? `${stated.map(level => LEVELS[level]).join(" and ")} stated in the file, the rest `
      : ""
  return `${words} (${some}supplied; doubt ${doubtText(found.doubt)})`
}

const FROM: Record<string, string> = { given: "stated in the file", option: "as you asked" }

function practiceLine({ practice }: VoiceFound): string {
  const from = FROM[practice.from] ?? `inferred; doubt ${doubtText(practice.doubt)}`
  return `Practice ${practice.name} (${from})`
}

/** What was tried besides, so that the chances can be seen to add up. */
function others({ candidates }: VoiceFound, shown: readonly Candidate[], width: number | undefined): string[] {
  const left = candidates.filter(one => !shown.includes(one))
  if (left.length === 0) return []
  const chance = left.reduce((sum, one) => sum + one.chance, 0)
  const many = left.length === 1 ? "one more was tried" : `${left.length} more were tried, together`
  return paragraph(`  ${many}: chance ${percent(chance)} (--format json lists them)`, width)
}

const LEVELS = { modusMaior: "modus maior", modusMinor: "modus minor", tempus: "tempus", prolatio: "prolatio" } as const

function candidateRows(one: Candidate, at: number, found: VoiceFound, width: number | undefined): string[] {
  const numbers = at === 0 ? "" : ` (notes ${signed(ownOdds(one, found))}, others and custom ${signed(one.others)})`
  const fits = one.asLongAs === undefined ? "" : `; ${asLong(one.asLongAs)}`
  const head = `  ${divisionsInWords(one.divisions, found)}: chance ${percent(one.chance)}${together(one, found.candidates)}${numbers}${fits}`
  return rows(head, one.evidence, at === 0 ? MOST_EVIDENCE : MOST_AGAINST, width)
}

/** The first is chosen for what all have together that no note tells apart, and may have less by itself than the second. */
function together({ chance, shared }: Candidate, [first]: readonly Candidate[]): string {
  const isMate = shared === first?.shared && chance !== first.chance
  return isMate || shared - chance < 0.005 ? "" : `, ${percent(shared)} with those that no note tells from it`
}

function rows(head: string, evidence: readonly Evidence[], most: number, width: number | undefined): string[] {
  const told = evidence
    .slice(0, most)
    .map(({ weight, what }) => [`    ${weight >= 0 ? "for" : "against"}`, signed(weight), plain(what)])
  if (told.length === 0) told.push(["    no place of any weight speaks for or against it"])
  return [...paragraph(head, width), ...columns(told, width)]
}

function asLong(labels: readonly string[]): string {
  if (labels.length === 0) return "no other voice is as long"
  const names = labels.map(plain)
  return `as long as ${names.length > 1 ? `${names.slice(0, -1).join(", ")} and ${names.at(-1)}` : names[0]!}`
}

const doubtText = (doubt: number): string => `${doubt.toFixed(2)}${doubtMark(doubt)}`
const percent = (chance: number): string =>
  chance < 0.0005 ? "under 0.1 %" : `${(100 * chance).toFixed(chance > 0.0995 ? 0 : 1)} %`
const signed = (weight: number): string => {
  if (!Number.isFinite(weight)) return "none"
  return `${weight < 0 ? "−" : "+"}${Math.min(99.9, Math.abs(weight)).toFixed(1)}`
}
