/** The ligature a voice is in: what its drawn form says of its notes, one after the other. */
import type { FlatSign, Ligature, Note } from "../page/index.js"
import { BREVIS, isDrawn, ligatureLevels, MAXIMA } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"
import { LEVEL_NUMBER } from "./measured.js"
import type { Chosen } from "./settings.js"

export class LigatureReader {
  private current: Ligature | undefined
  /** The last ligature met, counted in the voice from 0. */
  number = -1
  private levels: readonly number[] = []
  private drawn = false
  private atNote = 0
  /** The practice reads levels from the drawn form. */
  private readonly reads: boolean

  constructor(private readonly chosen: Chosen) {
    this.reads = chosen.practice.rules.some(rule => rule.id === "ligatura")
  }

  /** The next sign belongs to `ligature`, or to none. */
  enter(ligature: Ligature | undefined): void {
    if (ligature === this.current) return
    this.current = ligature
    if (ligature === undefined) return
    this.number++
    this.atNote = 0
    const notes = ligature.members.filter(m => m.kind === "note")
    this.drawn = ligature.conjunctura !== true && isDrawn(ligature, notes)
    this.levels = this.reads && notes.some(n => n.level === undefined) ? this.levelsOf(ligature, notes) : []
  }

  private levelsOf(ligature: Ligature, notes: readonly Note[]): readonly number[] {
    const { practice, settings } = this.chosen
    return ligatureLevels(ligature, notes, practice.unit === "tempus" ? "acm-1280" : "mensural", settings)
  }

  /** The level written, else the one its place in the ligature gives it. */
  levelOf(note: Note): number {
    if (note.duplex === true && note.level === "longa") return MAXIMA
    if (note.level !== undefined) return LEVEL_NUMBER[note.level]!
    return this.levels[this.atNote] ?? BREVIS
  }

  /** Sets down where in its ligature the figure stands, and goes on to the next note. */
  mark(figure: DraftFigure, flat: FlatSign): void {
    if (flat.ligature === undefined) return
    figure.ligature = this.number
    figure.ligatureStart = flat.at === 0
    figure.ligatureEnd = flat.last === true
    figure.conjunctura = flat.ligature.conjunctura === true
    figure.drawn = this.drawn && this.reads
    this.atNote++
  }
}
