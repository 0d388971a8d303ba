/** From text to page. Takes time in proportion to the text; whatever can be read is read, every fault is reported. */
import type { TreeCursor } from "@lezer/common"
import { done, failed, type Problem, type Result } from "../../base/index.js"
import type { Decision } from "../decision.js"
import type { Alternative, LocalShape, Page, Surface, Voice, Zone } from "../page.js"
import type { Years } from "../years.js"
import { readDecision } from "./decisions.js"
import { IdCounter } from "./ids.js"
import * as header from "./header.js"
import { commentText, MusicReader } from "./read-music.js"
import { excerpt, Reporter } from "./reporter.js"
import { Run } from "./run.js"
import { forChildren, readTerm, tidy, unquote, withoutForbidden, type Term } from "./tokens.js"
import { reportErrors, treeOf } from "./tree.js"
import { readYears } from "./years.js"
import type { KeywordName } from "./words.js"

/** Characters; a voice of 200,000 notes with ids and words has fewer. The tree of a longer text would fill the memory. */
export const LONGEST = 8_000_000

/**
 * Reads a page typed in the shorthand. `file` is only named in problems. Failed only when nothing at all could be
 * read; otherwise what was wrong is among the problems, with severity "error", and is missing from the page.
 */
export function parseShorthand(typed: string, file?: string): Result<Page> {
  if (typed.length > LONGEST) return failed(tooLong(typed.length, file))
  const report = new Reporter(typed, file)
  const text = withoutForbidden(typed, at =>
    report.error(
      at,
      "bad-letter",
      "Here is a letter that no text can hold.",
      "Save the file as UTF-8 text, or take it away.",
    ),
  )
  const reading = new PageReading(text, report)
  // Of blank lines alone the tree would be large for nothing.
  const { tree, faultless } = treeOf(/\S/.test(text) ? text : "")
  if (!faultless) reportErrors(tree.cursor(), text, report)
  forChildren(tree.cursor(), line => reading.line(line))
  const page = reading.page()
  if (page) return done(page, report.problems())
  report.error(
    0,
    "nothing-to-read",
    "There is no page here.",
    "Begin with a line such as: voice triplum black — and notes below it: B c4 d e",
  )
  return failed(...report.problems())
}

function tooLong(length: number, file: string | undefined): Problem {
  return {
    code: "text-too-long",
    what: `The text has ${length} characters; at most ${LONGEST} are read.`,
    where: { ...(file && { file }), line: 1, column: 1 },
    mend: "Divide the piece into several files; perhaps this is not a text in the shorthand.",
    severity: "error",
  }
}

class PageReading {
  private title: string | undefined
  private years: Years | undefined
  private hasYears = false
  private readonly voices: Voice[] = []
  private readonly alternatives: Alternative[] = []
  private readonly shapes: LocalShape[] = []
  private readonly surfaces: Surface[] = []
  private readonly zones: Zone[] = []
  private people: [string, string][] | undefined
  private readonly decisions: { readonly decision: Decision; readonly at: number }[] = []
  private readonly alternativesAt: number[] = []
  private readonly taken = new Set<string>()
  /** Shapes, surfaces and zones, each after its keyword. */
  private readonly named = new Set<string>()
  private run: Run | undefined
  /** Remarks that stand before the first voice; they become its first signs. */
  private readonly early: { readonly text: string; readonly at: number }[] = []
  private statements = 0

  private readonly music: MusicReader

  constructor(
    private readonly text: string,
    private readonly report: Reporter,
  ) {
    const target = { run: () => this.current(), comment: (text: string, at: number) => this.comment(text, at) }
    this.music = new MusicReader(text, report, target)
  }

  /** Undefined when nothing was there. */
  page(): Page | undefined {
    const { title, years, voices, shapes, surfaces, zones, alternatives, people } = this
    const signs = voices.reduce((sum, voice) => sum + voice.signs.length, 0)
    if (title === undefined && this.statements === 0 && signs === 0) return undefined
    for (const { at } of this.early)
      this.report.warning(
        at,
        "lost-remark",
        "There is no voice that could hold this remark.",
        "Begin a voice: voice tenor",
      )
    this.checkPointers()
    return {
      title: title ?? "",
      ...(years && { years }),
      voices,
      shapes,
      surfaces,
      zones,
      alternatives,
      ...this.decided(),
      ...(people && { people: Object.fromEntries(people) }),
    }
  }

  /** Alternatives must stand for signs that are there, in a voice that is there. */
  private checkPointers(): void {
    const voices = new Set<string>(this.voices.map(({ id }) => id))
    this.alternatives.forEach(({ voice, insteadOf }, index) => {
      for (const [id, what] of [[voice, "voice"] as const, ...insteadOf.map(id => [id, "sign"] as const)])
        if (!(what === "voice" ? voices : this.taken).has(id))
          this.report.warning(
            this.alternativesAt[index] ?? 0,
            "unknown-id",
            `No ${what} has the id "${excerpt(id)}".`,
            `Give the ${what} that is meant an id, and name that here.`,
          )
    })
  }

  /** The decisions whose ids are their own. */
  private decided(): Pick<Page, "decisions"> {
    const taken = new Set(this.taken)
    const decisions = this.decisions.flatMap(({ decision, at }) => {
      if (!taken.has(decision.id)) {
        taken.add(decision.id)
        return [decision]
      }
      this.report.error(
        at,
        "id-taken",
        `The id "${excerpt(decision.id)}" is given to something else already.`,
        "Give the decision another id, or none.",
      )
      return []
    })
    return decisions.length > 0 ? { decisions } : {}
  }

  line(cursor: TreeCursor): void {
    switch (cursor.name) {
      case "TitleLine":
        return this.readTitle(cursor)
      case "Statement":
        return this.readStatement(cursor)
      case "LyricLine":
        return this.readLyrics(cursor)
      case "Music":
        return this.readMusic(cursor)
    }
  }

  private readTitle(cursor: TreeCursor): void {
    const written = this.here(cursor).slice("title:".length).trim()
    if (this.title !== undefined)
      this.report.error(
        cursor.from,
        "said-twice",
        "The page has a title already.",
        "Write one title, in the first line.",
      )
    else this.title = tidy(/^".*"$/s.test(written) ? unquote(written) : written)
  }

  private readStatement(cursor: TreeCursor): void {
    let keyword: KeywordName | undefined
    const terms: Term[] = []
    let comment: { text: string; at: number } | undefined
    forChildren(cursor, child => {
      if (child.name === "Keyword") keyword = this.here(child) as KeywordName
      else if (child.name === "Argument") terms.push(readTerm(child, this.text))
      else if (child.name === "Comment") comment = { text: commentText(this.here(child)), at: child.from }
    })
    if (!keyword) return
    this.statements++
    this.state(keyword, new header.Words(keyword, terms, cursor.from, this.report))
    if (comment) this.comment(comment.text, comment.at)
  }

  private state(keyword: KeywordName, words: header.Words): void {
    switch (keyword) {
      case "voice":
        return this.beginVoice(words)
      case "alternative":
        this.alternativesAt.push(words.at)
        return this.beginAlternative(words)
      case "years":
        return this.readYears(words)
      case "shape":
        return this.add(words, this.shapes, header.readShape(words), one => one.name)
      case "surface":
        return this.add(words, this.surfaces, header.readSurface(words), one => one.id)
      case "zone":
        return this.add(words, this.zones, this.standing(words, header.readZone(words)), one => one.id)
      case "person":
        return addTo((this.people ??= []), header.readPerson(words))
      case "decision": {
        const decision = readDecision(words, this.decisions.length + 1)
        if (decision) this.decisions.push({ decision, at: words.at })
        return
      }
      case "people":
        this.people ??= []
        return words.end("nothing else")
    }
  }

  /** A second one of that name is told and left out. */
  private add<T>(words: header.Words, all: T[], one: T | undefined, nameOf: (one: T) => string): void {
    if (one === undefined) return
    const name = `${words.keyword} ${nameOf(one)}`
    if (!this.named.has(name)) {
      this.named.add(name)
      all.push(one)
    } else
      this.report.error(
        words.at,
        "said-twice",
        `There is a ${words.keyword} "${excerpt(nameOf(one))}" already.`,
        "Give each one a name of its own.",
      )
  }

  /** A part of a picture belongs to one that has been named before. */
  private standing(words: header.Words, zone: Zone | undefined): Zone | undefined {
    if (!zone || this.named.has(`surface ${zone.surface}`)) return zone
    this.report.error(
      words.at,
      "unknown-id",
      `There is no surface "${excerpt(zone.surface)}" on which this zone could be.`,
      `Write a line above it: surface ${excerpt(zone.surface)} label="f. 1r"`,
    )
    return undefined
  }

  private readYears(words: header.Words): void {
    const said = readYears(words)
    if (this.hasYears)
      this.report.error(words.at, "said-twice", "The page has its years already.", "Say both in one line of years.")
    else this.years = said
    this.hasYears = true
  }

  private beginVoice(words: header.Words): void {
    const head = header.readVoice(words, this.voices.length + 1)
    const run = new Run(new IdCounter(head.n, this.taken), this.report, true)
    this.voices.push({ ...head, signs: run.signs })
    this.run = run
    for (const { text, at } of this.early.splice(0)) run.add({ kind: "comment", text }, at)
  }

  private beginAlternative(words: header.Words): void {
    if (this.voices.length === 0) {
      this.report.error(
        words.at,
        "no-voice",
        "There is no voice yet to which this is an alternative.",
        "Write the voice before it.",
      )
      this.current()
    }
    const number = this.alternatives.length + 1
    const head = header.readAlternative(words, number, this.voices)
    const voice = this.voices.find(({ id }) => id === head.voice)
    this.run = new Run(new IdCounter(header.alternativePrefix(voice, number), this.taken), this.report, false)
    this.alternatives.push({ ...head, signs: this.run.signs })
  }

  /** The voice or alternative that is being read; music before any `voice` line is that of a voice without a name. */
  private current(): Run {
    if (!this.run) this.beginVoice(new header.Words("voice", [], 0, this.report))
    return this.run as Run
  }

  private readLyrics(cursor: TreeCursor): void {
    this.current().sing(this.here(cursor), cursor.from)
  }

  private comment(text: string, at: number): void {
    if (this.run) this.run.add({ kind: "comment", text }, at)
    else this.early.push({ text, at })
  }

  private readMusic(cursor: TreeCursor): void {
    this.run?.beginLine()
    this.music.line(cursor)
  }

  private here({ from, to }: { readonly from: number; readonly to: number }): string {
    return this.text.slice(from, to)
  }
}

function addTo<T>(all: T[], one: T | undefined): void {
  if (one !== undefined) all.push(one)
}
