/** The preface: what was read by which rules, how it is written, and how sure all that is. In whole sentences. */
import { compare, times, toText, type Rational } from "../base/index.js"
import { conventionsInWords, type EditionConventions } from "../edition/index.js"
import { flatSigns, type Page } from "../page/index.js"
import { practiceNamed, type OptionSpec } from "../practices/index.js"
import type { MensurationSpan, Reading } from "../reading/index.js"
import type { NotatedScore, Score } from "../score/index.js"
import type { MeiHead } from "../formats/mei/index.js"
import { equivalencesOf, equivalenceSentences, tempoTaken, tuningDefault } from "../performance/index.js"
import { commonUnit } from "../score/units.js"
import { levelInWords } from "../together/index.js"
import { alike, counted, listed, voicesNamed } from "./lists.js"
import { doubtText, type ReportEntry } from "./report/index.js"
import { barsIn } from "./report/where.js"

export interface PrefaceInput {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
  readonly notated: NotatedScore
  readonly conventions: EditionConventions
  readonly head: MeiHead
  readonly report: readonly ReportEntry[]
  readonly doubtFrom: number
}
export interface PrefaceSection {
  readonly heading: string
  readonly paragraphs: readonly string[]
}

/** Sections without anything to say are left out. */
export function prefaceOf(input: PrefaceInput): PrefaceSection[] {
  const sections = [
    { heading: "The source", paragraphs: source(input) },
    { heading: "How the notation was read", paragraphs: practices(input) },
    { heading: "Mensuration", paragraphs: mensurations(input) },
    { heading: "How it is written here", paragraphs: written(input) },
    { heading: "How it sounds", paragraphs: sounding(input) },
    { heading: "What is sure and what is not", paragraphs: sureness(input) },
  ]
  return sections.filter(({ paragraphs }) => paragraphs.length > 0)
}

/** What is chosen where the edition is played and nobody has asked for anything else. */
function sounding({ score }: PrefaceInput): string[] {
  const speed = tempoTaken(score, undefined)?.sentence
  const tuning = tuningDefault({ practice: score.practice }).sentence
  const kept = equivalenceSentences(equivalencesOf(score, undefined, []), score.unit)
  const told = [tuning, ...(speed === undefined ? [] : [speed]), ...kept]
  return score.duration.num === 0
    ? []
    : [printed(`A recording made without other wishes is as follows. ${told.join(" ")}`)]
}

function source({ head, page }: PrefaceInput): string[] {
  const sources =
    head.sources.length === 1 ? [`Source: ${ended(head.sources[0]!)}`] : head.sources.map(one => ended(one))
  const lead = head.sources.length > 1 ? ["The file names these sources."] : []
  const folios = page.voices.flatMap(voice =>
    voice.signs.flatMap(sign => (sign.kind === "break" && sign.of === "folio" && sign.n ? [sign.n] : [])),
  )
  const named = [...new Set(folios)]
  const leaves = named.length > 0 ? [`Its folios are ${listed(named.map(n => `f. ${n}`))}.`] : []
  const none = sources.length === 0 ? ["The file from which this edition was made names no source."] : []
  return [...lead, ...none, ...sources, ...leaves, ...(head.rights === "" ? [] : [ended(head.rights)])]
}
const ended = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`)

const FROM = {
  given: "as the file says",
  option: "as was asked for",
  inferred: "as was inferred from the signs",
} as const

function practices({ readings }: PrefaceInput): string[] {
  const same = alike(readings, ({ practice: { name, options, from, settled } }) =>
    JSON.stringify([name, changed(name, options), from, settled]),
  )
  const paragraphs = same.map(group => {
    const { name, options, from, doubt, settled = [] } = group[0]!.practice
    const { subject, many } = voicesNamed(group.map(labelOf), readings.length)
    const title = practiceNamed(name)?.title ?? name
    const unsure = doubt >= 0.05 ? ` (doubt ${doubtText(doubt)})` : ""
    const chosen = changed(name, options).map(([spec, value]) =>
      optionSentence(spec, value, settled.includes(spec.name)),
    )
    return [
      `${subject} ${many ? "are" : "is"} read by the practice “${title}”, ${FROM[from]}${unsure}.`,
      ...chosen,
    ].join(" ")
  })
  const usual =
    readings.length > 0 ? ["Where the treatises leave a choice that is not named here, the usual one was taken."] : []
  return [...paragraphs, ...usual]
}
const labelOf = ({ label, n }: Pick<Reading, "label" | "n">): string => label || n

/** With the apostrophe of print. */
const printed = (text: string): string => text.replace(/(\p{L})'(?=\p{L})/gu, "$1’")

/** Options that are not as usual. */
function changed(name: string, options: Readonly<Record<string, string>>): (readonly [OptionSpec, string])[] {
  return (practiceNamed(name)?.options ?? []).flatMap(spec => {
    const value = options[spec.name]
    return value === undefined || value === spec.default ? [] : [[spec, value] as const]
  })
}
const optionSentence = ({ name, meaning, source: by }: OptionSpec, value: string, isSettled: boolean): string =>
  `The option ${name} (${meaning}) is “${value}”${isSettled ? ", as was inferred from the signs" : ""}, after ${by.replace(/^Common/, "common")}.`

/** Mensurations of each voice by bars, signed or found. */
function mensurations(input: PrefaceInput): string[] {
  const { readings } = input
  const { factor } = commonUnit(readings)
  const told = readings
    .map(reading => ({ label: labelOf(reading), text: spansText(reading, input, factor(reading)) }))
    .filter(({ text }) => text !== "")
  const lines = alike(told, ({ text }) => text).map(group => {
    const { subject } = voicesNamed(
      group.map(one => one.label),
      readings.length,
    )
    return `${subject}: ${group[0]!.text}.`
  })
  const found = readings.some(({ mensurations }) => mensurations.some(span => span.from === "inferred"))
  const note = "What is found has no sign in the source: it was inferred from the notes and from how the voices meet."
  return [...lines, ...(found && lines.length > 0 ? [note] : [])]
}

function spansText(reading: Reading, { notated }: PrefaceInput, factor: Rational): string {
  const bars = barsIn(notated)
  const spans = reading.mensurations.filter((span, i, all) => !all[i + 1] || compare(all[i + 1]!.onset, span.onset) > 0)
  const told = spans.map(span => ({ from: bars(times(span.onset, factor))?.[0], text: spanText(span) }))
  const changes = told.filter(({ text }, i) => text !== "" && text !== told[i - 1]?.text)
  return changes
    .map(({ from, text }, i) => (from === undefined || i === 0 ? text : `from bar ${from} ${text}`))
    .join("; ")
}

const FOUND = { given: "", option: " (as asked for)", inferred: " (found)" } as const

/** "perfect tempus, prolatio minor, in the proportion 3/2 (found)". */
function spanText(span: MensurationSpan): string {
  const levels = LEVEL_NAMES.flatMap(level => {
    const parts = span[level]
    if (parts === null || (level === "modusMaior" && parts === 2)) return []
    return [levelInWords(level, parts)]
  })
  const { num, den } = span.proportion
  const proportion = num === den ? [] : [`in the proportion ${toText(span.proportion)}`]
  const words = [...levels, ...proportion].join(", ")
  return words === "" ? "" : words + FOUND[span.from]
}
const LEVEL_NAMES = ["modusMaior", "modusMinor", "tempus", "prolatio"] as const

function written({ conventions, score }: PrefaceInput): string[] {
  const sentences = [...conventionsInWords(conventions, score), ...(score.equivalence ? [score.equivalence] : [])]
  return inParagraphs([...sentences, prefatory(), ...(score.voices.length > 1 ? [IN_PARTS] : [])])
}

/** Sentences as running text, a few to a paragraph. */
function inParagraphs(sentences: readonly string[]): string[] {
  const count = Math.ceil(sentences.length / MOST_SENTENCES)
  const each = Math.ceil(sentences.length / count)
  return Array.from({ length: count }, (_, i) => sentences.slice(i * each, (i + 1) * each).join(" "))
}
const MOST_SENTENCES = 6

const IN_PARTS = "In the parts several bars of silence stand as one rest with their number."

const prefatory = (): string =>
  "Before the first system stand the name of each voice, its clef, signature, signs and first note in the source, and behind the modern clef its range."

/** Under it a reading is as good as sure. */
const SURE = 0.05

function sureness({ readings, report, doubtFrom, score, page }: PrefaceInput): string[] {
  const lasting = readings.flatMap(reading => reading.signs.filter(sign => sign.number > 0))
  if (lasting.length === 0) return []
  const sure = lasting.filter(sign => sign.doubt < SURE).length
  const open = lasting.filter(sign => sign.doubt >= doubtFrom && sign.rivals.length > 0).length
  return [
    [
      `The program that read the signs tells of each duration how sure it is, as a doubt from 0 to 1, which is twice the estimated chance that the duration is wrong.`,
      sure === lasting.length && sure > 1
        ? `Of all ${counted(sure, "note and rest", "notes and rests")} the doubt is under ${SURE}.`
        : `Of ${sure} among ${counted(lasting.length, "note and rest", "notes and rests")} the doubt is under ${SURE}.`,
      open === 0
        ? `None has one of ${doubtFrom} or more.`
        : `${capital(counted(open, "has one", "have one"))} of ${doubtFrom} or more and ${open === 1 ? "is" : "are"} named in the report with what else ${open === 1 ? "it" : "they"} could be.`,
    ].join(" "),
    [fitSentence(score), handSentence(page, report)].filter(text => text !== "").join(" "),
  ].filter(text => text !== "")
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

function fitSentence({ fit, voices }: Score): string {
  if (voices.length < 2) return ""
  if (fit.finalsMeet) return "The voices meet at the end, but not at a sign before; the report says where they part."
  return fit.together
    ? "The voices meet at the end."
    : "The voices do not meet at the end as they were read; the report says where they part."
}

function handSentence(page: Page, report: readonly ReportEntry[]): string {
  const count = (kind: ReportEntry["kind"]) => report.filter(entry => entry.kind === kind).length
  const accidentals = page.voices.flatMap(flatSigns).filter(({ sign }) => {
    if (sign.kind === "note") return sign.accidentalByEditor
    return sign.kind === "accidental" && sign.byEditor
  }).length
  const told = [
    [count("emendation"), "emendation"],
    [count("supplied"), "passage supplied", "passages supplied"],
    [count("decision"), "decision on how to read"],
    [accidentals, "accidental over a note", "accidentals over notes"],
  ] as const
  const parts = told.flatMap(([n, one, many]) =>
    n === 0 ? [] : [counted(n, one, many ?? (one.startsWith("decision") ? "decisions on how to read" : `${one}s`))],
  )
  return parts.length === 0 ? "" : `An editor’s hand is in this edition in ${listed(parts)}.`
}
