/** What is to be kept, one after the other. What cannot be kept is told, and the whole piece is kept at the next act instead. */
import type { Problem } from "@resolutio/core"
import { Gone, Overtaken, type Database } from "../keep/database.js"
import type { KeptPiece, PieceRecord, Step } from "../keep/types.js"
import { soonAfterPaint } from "../parts/after-paint.js"
import { words } from "../words/index.js"

interface WriteEvents {
  keeping(state: "kept" | "writing"): void
  failed(problem: Problem): void
  /** Another window has written: what it wrote counts. */
  overtaken(): void
  written(piece: string): void
}
type Whole = () => KeptPiece | undefined

export class Writes {
  #last: Promise<void> = Promise.resolve()
  #waiting = 0
  #incomplete = false

  constructor(
    private readonly database: Database,
    private readonly events: WriteEvents,
  ) {}

  settled(): Promise<void> {
    return this.#last
  }

  whole(piece: KeptPiece): Promise<void> {
    this.#incomplete = false
    return this.#queue(piece.record.id, () => this.database.replace(piece))
  }

  step(record: PieceRecord, step: Step, whole: Whole): void {
    void this.#queue(record.id, () => this.#orWhole(() => this.database.step(record, step), whole))
  }

  note(record: PieceRecord, whole: Whole): void {
    void this.#queue(record.id, () => this.#orWhole(() => this.database.note(record), whole))
  }

  async #orWhole(write: () => Promise<void>, whole: Whole): Promise<void> {
    const all = this.#incomplete ? whole() : undefined
    if (!all) return write()
    await this.database.replace(all)
    this.#incomplete = false
  }

  #queue(piece: string, write: () => Promise<void>): Promise<void> {
    this.#waiting++
    this.events.keeping("writing")
    // what was done is seen first; the words for it follow when it is kept
    const seen = soonAfterPaint()
    const before = this.#last.then(() => seen)
    this.#last = before.then(write).then(
      () => this.#written(piece),
      (error: unknown) => this.#failed(error),
    )
    return this.#last
  }

  #written(piece: string): void {
    if (--this.#waiting === 0) this.events.keeping("kept")
    this.events.written(piece)
  }

  #failed(error: unknown): void {
    this.#waiting--
    if (error instanceof Overtaken) return this.events.overtaken()
    this.#incomplete = true
    const { what, mend } = error instanceof Gone ? words.keep.gone : words.keep.failed(nameOf(error))
    this.events.failed({ code: "not-kept", what, mend, severity: "error" })
  }
}

const nameOf = (error: unknown): string => (error instanceof Error ? error.name : String(error))
