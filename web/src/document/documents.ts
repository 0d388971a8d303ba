/**
 * The piece that is open. Every act is a change of its page, made at once and kept at once; the way back is kept with it. Nobody
 * else changes the page.
 */
import { applyChange, type Page, type PageChange, type Problem } from "@resolutio/core"
import { createStore, type StoreApi } from "zustand/vanilla"
import { Database } from "../keep/database.js"
import { Holds } from "../keep/hold.js"
import type { Base, KeptPiece, PieceRecord, Step } from "../keep/types.js"
import { common, merged, walk } from "./history.js"
import { Writes } from "./writes.js"

export interface DocumentState {
  readonly record?: PieceRecord
  readonly base?: Base
  readonly page: Page
  /** The change that led from the page before to this one; undefined where another page took its place. */
  readonly led?: PageChange
  /** From `record.first` on: those done, then those that can be done again. */
  readonly steps: readonly Step[]
  /** This window may write; false where it only looks on. */
  readonly holding: boolean
  readonly keeping: "kept" | "writing" | "failed"
  /** What went wrong with the last act or in keeping it. */
  readonly problems: readonly Problem[]
}

export const NO_PAGE: Page = { title: "", voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] }
const EMPTY: DocumentState = {
  page: NO_PAGE,
  steps: [],
  holding: false,
  keeping: "kept",
  problems: [],
}

/** Where a page comes from, when it becomes a piece. */
export interface Origin {
  readonly file?: string
  /** Text of the MEI file. */
  readonly mei?: string
  readonly demo?: boolean
  readonly id?: string
}

export class Documents {
  readonly store: StoreApi<DocumentState> = createStore<DocumentState>(() => EMPTY)
  readonly #writes: Writes
  readonly #holds: Holds

  constructor(
    readonly database = new Database(),
    private readonly now: () => number = Date.now,
  ) {
    this.#writes = new Writes(database, {
      keeping: keeping => this.store.setState({ keeping }),
      failed: problem => this.store.setState({ keeping: "failed", problems: [problem] }),
      overtaken: () => void this.#follow(),
      written: piece => this.#holds.tell(piece),
    })
    this.#holds = new Holds({
      written: piece => void (piece === this.store.getState().record?.id && this.#follow()),
      handOver: () => this.#writes.settled(),
      lost: piece => void (piece === this.store.getState().record?.id && this.store.setState({ holding: false })),
    })
  }

  /** A page becomes a piece and is opened. */
  async create(page: Page, { file, mei, demo, id = crypto.randomUUID() }: Origin = {}): Promise<void> {
    const time = this.now()
    const record: PieceRecord = {
      ...namesOf(page),
      id,
      opened: time,
      changed: time,
      at: 0,
      first: 0,
      revision: 0,
      ...(file === undefined ? {} : { file }),
      ...(demo ? { demo } : {}),
    }
    const base: Base = { id, page, ...(mei === undefined ? {} : { mei }) }
    await this.#leave()
    this.store.setState({ ...EMPTY, record, base, page, holding: true })
    await this.#writes.whole({ record, base, steps: [] })
    await this.#holds.tryToHold(id)
  }

  /** Opens what is kept; false where there is no such piece. */
  async open(id: string): Promise<boolean> {
    await this.#leave()
    const holding = await this.#holds.tryToHold(id)
    if (holding) await this.#writes.recover(id)
    const kept = await this.database.read(id)
    if (!kept) {
      this.#holds.release()
      return false
    }
    const { page, problems } = walk(kept.base.page, kept.steps, 0, kept.record.at - kept.record.first)
    this.store.setState({ ...EMPTY, ...kept, page, problems, holding })
    if (holding) this.#note({ opened: this.now() })
    return true
  }

  /** Nothing is open. */
  async close(): Promise<void> {
    await this.#leave()
    this.store.setState(EMPTY, true)
  }

  /** Settles when everything done so far is kept. */
  settled(): Promise<void> {
    return this.#writes.settled()
  }

  /**
   * Makes a change and keeps it. `words` say what it is. A window that looks on takes the piece over first, then makes the
   * change: it is not made yet when this returns. True if it was made.
   */
  act(change: PageChange, words: string, gesture?: string): boolean {
    const { record, holding, page, steps } = this.store.getState()
    if (!record) return false
    if (!holding) {
      void this.#takeOver().then(taken => taken && this.act(change, words, gesture))
      return false
    }
    const changed = applyChange(page, change)
    if (!changed.ok) {
      this.store.setState({ problems: changed.problems })
      return false
    }
    const revision = record.revision + 1
    const done = steps.slice(0, record.at - record.first)
    const last = done.at(-1)
    const joins = gesture !== undefined && last?.gesture === gesture && done.length === steps.length
    const own: Step = { change, undo: changed.value.undo, words, stamp: revision, ...(gesture ? { gesture } : {}) }
    const step = joins ? merged(last!, own) : own
    const now: PieceRecord = {
      ...record,
      ...namesOf(changed.value.page),
      at: record.at + (joins ? 0 : 1),
      changed: this.now(),
      revision,
    }
    const all = [...(joins ? done.slice(0, -1) : done), step]
    this.store.setState({ record: now, page: changed.value.page, led: change, steps: all, problems: [] })
    this.#writes.act({ record: now, step }, () => this.#all())
    return true
  }

  get canUndo(): boolean {
    const { record } = this.store.getState()
    return record !== undefined && record.at > record.first
  }
  get canRedo(): boolean {
    const { record, steps } = this.store.getState()
    return record !== undefined && record.at - record.first < steps.length
  }
  undo(): void {
    this.#move(-1)
  }
  redo(): void {
    this.#move(1)
  }

  /** What was told of the last act is no longer shown. */
  dismiss(): void {
    this.store.setState({ problems: [] })
  }

  #move(by: 1 | -1): void {
    const { record, holding, page, steps } = this.store.getState()
    if (!record || (by < 0 ? !this.canUndo : !this.canRedo)) return
    if (!holding) {
      void this.#takeOver().then(taken => taken && this.#move(by))
      return
    }
    const at = record.at - record.first
    const moved = walk(page, steps, at, at + by)
    const step = steps[by > 0 ? at : at - 1]
    this.store.setState({ page: moved.page, led: by > 0 ? step?.change : step?.undo, problems: moved.problems })
    if (moved.at !== at) this.#note({ at: moved.at + record.first, changed: this.now(), ...namesOf(moved.page) })
  }

  #note(more: Partial<PieceRecord>): void {
    const { record } = this.store.getState()
    if (!record) return
    const now = { ...record, ...more, revision: record.revision + 1 }
    this.store.setState({ record: now })
    this.#writes.act({ record: now }, () => this.#all())
  }

  /** All of the piece, for keeping it as a whole when a step could not be kept. */
  #all(): KeptPiece | undefined {
    const { record, base, steps } = this.store.getState()
    return record && base && { record, base, steps }
  }

  async #takeOver(): Promise<boolean> {
    const { record } = this.store.getState()
    if (!record || !(await this.#holds.takeOver(record.id))) return false
    await this.#writes.recover(record.id)
    await this.#follow()
    this.store.setState({ holding: true })
    return true
  }

  /** What is kept is what counts: goes to it from where this window stands. */
  async #follow(): Promise<void> {
    const { record } = this.store.getState()
    const kept = record && (await this.database.read(record.id).catch(() => undefined))
    if (!kept || this.store.getState().record?.id !== kept.record.id) return
    this.store.setState(followed(this.store.getState(), kept))
  }

  async #leave(): Promise<void> {
    await this.#writes.settled()
    this.#holds.release()
  }
}

function followed({ record, page, steps }: DocumentState, kept: KeptPiece): Partial<DocumentState> {
  const to = kept.record.at - kept.record.first
  const shared = record?.first === kept.record.first ? common(steps, kept.steps) : -1
  const at = record ? record.at - record.first : 0
  const back = shared >= 0 && at > shared ? walk(page, steps, at, shared) : { page, at, problems: [] }
  const [start, from] = shared >= 0 ? [back.page, back.at] : [kept.base.page, 0]
  const { page: now, problems } = walk(start, kept.steps, from, to)
  return { ...kept, page: now, led: undefined, problems, keeping: "kept" }
}

const namesOf = ({ title, voices }: Page): Pick<PieceRecord, "title" | "voices"> => ({
  title,
  voices: voices.map(voice => voice.label || voice.n),
})
