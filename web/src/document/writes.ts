/** What is to be kept, one after the other. What cannot be kept is told, and the whole piece is kept at the next act instead. */
import type { Problem } from "@resolutio/core"
import { Gone, Overtaken, type Database } from "../keep/database.js"
import type { KeptPiece, PieceRecord } from "../keep/types.js"
import { forgetUnwritten, keepUnwritten, unwritten, type Act } from "../keep/unwritten.js"
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
    return this.#queue(piece.record, () => this.database.replace(piece))
  }

  /** A step with the record after it, or the record alone: it outlives the window from now on. */
  act(act: Act, whole: Whole): void {
    keepUnwritten(act)
    void this.#queue(act.record, () => this.#orWhole(() => this.#write(act), whole))
  }

  /** Writes what a window that died had not. What does not follow on what is kept is let go. */
  async recover(piece: string): Promise<void> {
    try {
      const kept = (await this.database.read(piece))?.record
      for (const act of notYet(unwritten(piece), kept)) await this.#write(act)
    } catch (error) {
      // not able to write now: a later opening may be
      if (!lapsed(error)) return
    }
    forgetUnwritten(piece)
  }

  #write({ record, step }: Act): Promise<void> {
    return step ? this.database.step(record, step) : this.database.note(record)
  }

  async #orWhole(write: () => Promise<void>, whole: Whole): Promise<void> {
    const all = this.#incomplete ? whole() : undefined
    if (!all) return write()
    await this.database.replace(all)
    this.#incomplete = false
  }

  #queue({ id, revision }: PieceRecord, write: () => Promise<void>): Promise<void> {
    this.#waiting++
    this.events.keeping("writing")
    // what was done is seen first; the words for it follow when it is kept
    const seen = soonAfterPaint()
    const before = this.#last.then(() => seen)
    this.#last = before.then(write).then(
      () => this.#written(id, revision),
      (error: unknown) => this.#failed(id, error),
    )
    return this.#last
  }

  #written(piece: string, revision: number): void {
    forgetUnwritten(piece, revision)
    if (--this.#waiting === 0) this.events.keeping("kept")
    this.events.written(piece)
  }

  #failed(piece: string, error: unknown): void {
    this.#waiting--
    if (lapsed(error)) forgetUnwritten(piece)
    if (error instanceof Overtaken) return this.events.overtaken()
    this.#incomplete = true
    const { what, mend } = error instanceof Gone ? words.keep.gone : words.keep.failed(nameOf(error))
    this.events.failed({ code: "not-kept", what, mend, severity: "error" })
  }
}

/** The acts after what is kept. If what is kept at one's revision is not that act, another window went on from before it. */
function notYet(acts: readonly Act[], kept: PieceRecord | undefined): readonly Act[] {
  const last = acts.findIndex(({ record }) => record.revision === kept?.revision)
  if (last < 0) return acts
  return JSON.stringify(acts[last]?.record) === JSON.stringify(kept) ? acts.slice(last + 1) : []
}

const lapsed = (error: unknown): boolean => error instanceof Overtaken || error instanceof Gone
const nameOf = (error: unknown): string => (error instanceof Error ? error.name : String(error))
