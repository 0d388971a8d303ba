/** An engraver's drawing of a score, asked for and read. The engraver itself is handed in: it is a program of its own. */
import type { EditionConventions } from "../../edition/index.js"
import { barNumber, goesOnOver, modernMei } from "../../formats/mei/modern/index.js"
import type { Score } from "../../score/index.js"
import type { PrefatoryStaves } from "../prefatory.js"
import { endsLonely, systemsFor } from "./breaking.js"
import { readEngraved, type EngravedScore } from "./compose.js"
import { prefatoryRoom } from "./prefatory-system.js"
import { roomText } from "./typeface.js"

/** What is used of the engraver (verovio's toolkit). */
export interface EngraverToolkit {
  setOptions(options: Readonly<Record<string, unknown>>): void
  loadData(data: string): boolean | number
  getLog(): string
  getPageCount(): number
  renderToSVG(page: number, xmlDeclaration: boolean): string
}

export interface EngraveOptions {
  /** Width of a system with its margins in tenths of a millimetre, 2100 (A4) by default; a staff space has 1.8 mm. */
  readonly width?: number
  /** Height of the sheets of which a long score is joined, in tenths of a millimetre: 60000 by default, the engraver's limit. */
  readonly sheetHeight?: number
  /** The title over the first system; true by default. */
  readonly title?: boolean
  /** Margin around the whole, in tenths of a millimetre: 50 by default. */
  readonly margin?: number
  /** What stands before the first system. */
  readonly prefatory?: PrefatoryStaves | undefined
}

export interface Engraving {
  readonly score: EngravedScore
  /** What the engraver complained about; a score of ours has nothing here. */
  readonly warnings: readonly string[]
}

/** A score of which the notes depend on where its systems begin: those written whole are tied there. */
export interface ScoreInSystems {
  readonly score: Score
  readonly conventions: Partial<EditionConventions>
  /** In a part: several bars of silence stand as one rest with their number. */
  readonly countedRests?: boolean
}

/**
 * A score, or modern MEI as it is, engraved. Throws when it cannot be drawn. A score is first engraved as the engraver breaks it.
 * Again, if a system is crowded or the last one all but empty, in systems that are about equally full; and if notes are
 * written whole that sound on over the beginning of a system, to tie them there.
 */
export function engraveWith(
  toolkit: EngraverToolkit,
  what: string | ScoreInSystems,
  options: EngraveOptions = {},
): Engraving {
  if (typeof what === "string") return uncrowded(toolkit, what, options)
  const { score, conventions, countedRests = false } = what
  const layout = { countedRests, wordsOfOneSize: true }
  const mei = modernMei(score, conventions, layout)
  const first = drawn(toolkit, mei, options)
  const ill = first.warnings.some(isCrowded) || endsLonely(first.score)
  const systems = ill ? betterBreaks(toolkit, mei, first.score, options) : systemStarts(first.score)
  if (!ill && !goesOnOver(score, conventions, systems)) return first
  // without any break of ours the engraver would break as it likes
  const begun = systems.length > 0 ? systems : [1]
  return uncrowded(toolkit, modernMei(score, conventions, { ...layout, systems: begun }), {
    ...options,
    breaks: "encoded",
  })
}

/** Numbers of the bars that begin the systems after the first. */
function systemStarts({ systems }: EngravedScore): number[] {
  return systems.slice(1).flatMap(({ firstBar }) => (firstBar === undefined ? [] : (barNumber(firstBar) ?? [])))
}

/** By the widths that the bars have when nothing presses them. */
function betterBreaks(
  toolkit: EngraverToolkit,
  mei: string,
  { width, margin }: EngravedScore,
  options: EngraveOptions,
): number[] {
  const natural = drawn(toolkit, mei, { ...options, breaks: "none" })
  return systemsFor(natural.score, width - 2 * margin).flatMap(id => barNumber(id) ?? [])
}

/**
 * Where a stretch without a common bar line is too long for one system, the sheet is made wider rather than the notes
 * crowded.
 */
function uncrowded(toolkit: EngraverToolkit, mei: string, options: DrawOptions): Engraving {
  const { width = 2100 } = options
  const first = drawn(toolkit, mei, options)
  return first.warnings.some(isCrowded) ? drawn(toolkit, mei, { ...options, width: width * 2 }) : first
}

interface DrawOptions extends EngraveOptions {
  readonly breaks?: "auto" | "encoded" | "none"
}

function drawn(toolkit: EngraverToolkit, mei: string, options: DrawOptions): Engraving {
  const { width = 2100, sheetHeight = 60_000, margin = 50, title = true, breaks = "auto", prefatory } = options
  const margins = Object.fromEntries(["Left", "Right", "Top", "Bottom"].map(side => [`pageMargin${side}`, margin]))
  const header = title ? "auto" : "none"
  toolkit.setOptions({ ...LAYOUT, ...margins, breaks, header, pageWidth: width, pageHeight: sheetHeight })
  const roomy = prefatory ? withRoom(mei, prefatoryRoom(prefatory)) : mei
  if (!toolkit.loadData(roomy)) throw new Error(`the engraver cannot read this score: ${complaint(toolkit)}`)
  const sheets = Array.from({ length: toolkit.getPageCount() }, (_, i) => toolkit.renderToSVG(i + 1, false))
  if (sheets.length === 0) throw new Error(`the engraver made no page: ${complaint(toolkit)}`)
  const warnings = toolkit.getLog().split("\n")
  return { score: readEngraved(sheets, prefatory), warnings: warnings.filter(line => line.trim() !== "") }
}

const LAYOUT = {
  scale: 40,
  adjustPageHeight: true,
  svgViewBox: true,
  svgRemoveXlink: true,
  multiRestStyle: "block",
  footer: "none",
  // in halves of a staff space: words stand apart as in a text, not only by a hair
  lyricWordSpace: 2.4,
  // Ids that the engraver makes up are the same in each run.
  xmlIdSeed: 1,
}

/** Labels that nobody sees stand in the room which is wanted before the first system. */
function withRoom(mei: string, room: number): string {
  const label = `<label>${roomText(room)}</label>`
  // those of verses are the numbers of stanzas
  return mei.replace(/(<verse[^>]*>\s*)?(<label>[^<]*<\/label>|<label\/>)/g, (all, verse) => (verse ? all : label))
}

function complaint(toolkit: EngraverToolkit): string {
  return toolkit.getLog().trim() || "it says no more"
}

function isCrowded(warning: string): boolean {
  return warning.includes("highly compressed")
}
