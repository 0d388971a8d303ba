/** A run of signs as it is being read: a voice, or an alternative to a stretch of one. */
import { signId } from "../../base/index.js"
import type { Ligature, Sign, Syllable } from "../signs.js"
import type { Placed } from "./check-sign.js"
import type { SignDraft } from "./heads.js"
import { IdCounter } from "./ids.js"
import { notePlace } from "./places.js"
import { readLyricLine } from "./lyrics.js"
import { syllablesOf, type Running } from "./read-sign.js"
import { excerpt, type Reporter } from "./reporter.js"

/** Kinds that stand in the definition of a voice when they come before everything else. */
export const INITIAL_KINDS: ReadonlySet<Sign["kind"]> = new Set(["clef", "signature", "mensuration"])

export class Run {
  readonly signs: Sign[] = []
  readonly running: Running = { level: undefined, octave: undefined, coloration: "none" }
  /** Only signs that could be initial ones have come so far. */
  private leading: boolean
  /** The notes since the last music line after lyrics, each with its list of syllables, and how far each stanza is. */
  private slots: Syllable[][] = []
  private reached = new Map<number, number>()
  private sung = false

  constructor(
    private readonly ids: IdCounter,
    private readonly report: Reporter,
    ofVoice: boolean,
  ) {
    this.leading = ofVoice
  }

  /** A line of music begins: lyrics after it no longer reach what has been sung. */
  beginLine(): void {
    if (!this.sung) return
    this.slots = []
    this.reached = new Map()
    this.sung = false
  }

  add(draft: SignDraft, at: number): void {
    const { initial, ...rest } = draft
    const inLead = this.leading && INITIAL_KINDS.has(draft.kind)
    if (draft.kind !== "comment") this.leading = inLead
    const isInitial = INITIAL_KINDS.has(draft.kind) && ((initial as boolean | undefined) ?? inLead)
    this.signs.push(this.named({ ...rest, kind: draft.kind, ...(isInitial && { initial: true }) }, at))
    if (draft.kind === "note") this.slots.push(syllablesOf(draft))
  }

  addLigature(draft: SignDraft, members: readonly Placed[], at: number): void {
    this.leading = false
    const whole = this.named(draft, at)
    const named = members.map(member => this.named(member.draft, member.at))
    this.signs.push({ ...whole, members: named } as unknown as Ligature)
    const first = members.find(member => member.draft.kind === "note")
    if (first) this.slots.push(syllablesOf(first.draft))
  }

  private named(draft: SignDraft, at: number): Sign {
    const { id: written, ...rest } = draft as SignDraft & { readonly id?: string }
    let id = written ?? this.ids.expected()
    if (!this.ids.use(id)) {
      this.report.error(
        at,
        "id-twice",
        `The id "${excerpt(id)}" is borne by another sign already.`,
        "Give this one another id, or none.",
      )
      this.ids.use((id = this.ids.expected()))
    }
    const sign = { id: signId(id), ...rest } as unknown as Sign
    notePlace(sign, at)
    return sign
  }

  /** `from` is where the line begins in the text. */
  sing(line: string, from: number): void {
    const odd = (at: number) =>
      this.report.error(
        from + at,
        "odd-lyric",
        `"${line.charAt(at)}" stands for nothing here.`,
        'Put a syllable with odd letters in quotes: "a-b".',
      )
    const { stanza, steps } = readLyricLine(line, odd)
    if (stanza < 1) {
      this.report.error(from, "bad-stanza", "Stanzas are counted from 1.", "Begin the line with > or 2>.")
      return
    }
    this.sung = true
    let next = this.reached.get(stanza) ?? 0
    for (const step of steps) {
      if (step.kind === "pass") next += step.notes
      else if (!this.place({ stanza, ...step.syllable }, step.sameNote && next > 0 ? next - 1 : next++)) {
        this.report.error(
          from + step.at,
          "no-note",
          `There is no note for "${excerpt(step.syllable.text)}".`,
          "Single notes and first notes of ligatures take one syllable each; * passes one over, + puts two on one note.",
        )
        break
      }
    }
    this.reached.set(stanza, next)
  }

  private place(syllable: Syllable, slot: number): boolean {
    this.slots[slot]?.push(syllable)
    return slot < this.slots.length
  }
}
