/**
 * One window at a time writes to a piece. The browser's own lock says which: it is let go when the window is closed or dies. A
 * window that wants to write asks the holder, which finishes what it is writing and hands the piece over.
 */

type Message =
  /** What is kept of the piece has changed. */
  { readonly kind: "written"; readonly piece: string } | { readonly kind: "wanted"; readonly piece: string }

/** The holder is asked once, and again after this many milliseconds; then the piece is taken from it. */
const PATIENCE = 1500

export interface HoldEvents {
  /** Somebody else has written. */
  written(piece: string): void
  /** To be handed over: settles when nothing is left to be written. */
  handOver(): Promise<void>
  /** The piece was handed over, or taken. */
  lost(piece: string): void
}

export class Holds {
  readonly #channel = typeof BroadcastChannel === "undefined" ? undefined : new BroadcastChannel("resolutio")
  #held: { piece: string; release: () => void } | undefined

  constructor(private readonly events: HoldEvents) {
    this.#channel?.addEventListener("message", ({ data }: MessageEvent<Message>) => {
      if (data.kind === "written") events.written(data.piece)
      else if (this.#held?.piece === data.piece) void this.#yield(data.piece)
    })
  }

  get piece(): string | undefined {
    return this.#held?.piece
  }

  /** Takes the piece if no other window holds it. */
  async tryToHold(piece: string): Promise<boolean> {
    this.release()
    return this.#ask(piece, { ifAvailable: true })
  }

  /** Asks the holder for the piece; one that does not answer loses it. */
  async takeOver(piece: string): Promise<boolean> {
    this.release()
    if (!navigator.locks) return true
    this.#channel?.postMessage({ kind: "wanted", piece } satisfies Message)
    const signal = AbortSignal.timeout(PATIENCE)
    const given = await this.#ask(piece, { signal }).catch(() => false)
    return given || this.#ask(piece, { steal: true })
  }

  release(): void {
    this.#held?.release()
    this.#held = undefined
  }

  tell(piece: string): void {
    this.#channel?.postMessage({ kind: "written", piece } satisfies Message)
  }

  async #yield(piece: string): Promise<void> {
    await this.events.handOver()
    if (this.#held?.piece !== piece) return
    this.release()
    this.events.lost(piece)
  }

  /** The lock is held as long as the promise given to it is not settled. */
  #ask(piece: string, options: LockOptions): Promise<boolean> {
    const { locks } = navigator as { locks?: LockManager }
    if (!locks) return Promise.resolve(true)
    return new Promise((resolve, reject) => {
      const held = locks.request(`resolutio piece ${piece}`, options, lock => {
        if (!lock) {
          resolve(false)
          return undefined
        }
        return new Promise<void>(release => {
          this.#held = { piece, release }
          resolve(true)
        })
      })
      // stolen by another window, or not given in time
      held.catch((error: unknown) => {
        if (this.#held?.piece === piece) {
          this.#held = undefined
          this.events.lost(piece)
        }
        reject(error instanceof Error ? error : new Error(String(error)))
      })
    })
  }
}
