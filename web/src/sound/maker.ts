/** The window's end of the line to the thread that makes sound. It is kept, since it keeps the voices that it has rendered. */
import address from "worker:./sound/player-worker.ts"
import type { Page } from "@resolutio/core"
import { trustedAddress } from "../parts/trusted.js"
import type { FromPlayer, ToPlayer } from "./messages.js"

export class SoundMaker {
  #worker: Worker | undefined
  #busy = false
  #page: Page | undefined
  #pageNumber = 0

  /** What was being made is made no longer. */
  make(asked: Omit<ToPlayer, "pageNumber">, take: (message: FromPlayer) => void): void {
    this.stop()
    if (this.#page !== asked.page) {
      this.#page = asked.page
      this.#pageNumber++
    }
    const worker = (this.#worker ??= this.#start())
    this.#busy = true
    this.#take = take
    worker.postMessage({ ...asked, pageNumber: this.#pageNumber } satisfies ToPlayer)
  }
  #take: (message: FromPlayer) => void = () => undefined

  #start(): Worker {
    const worker = new Worker(trustedAddress(address) as string, { type: "module", name: "sound" })
    worker.addEventListener("message", ({ data }: MessageEvent<FromPlayer>) => {
      if (data.tell !== "progress") this.#busy = false
      this.#take(data)
    })
    worker.addEventListener("error", ({ message }) => {
      this.#worker = undefined
      this.#busy = false
      this.#take({ tell: "failed", what: message })
    })
    return worker
  }

  /** A thread that is at work cannot be asked to stop. */
  stop(): void {
    if (!this.#busy) return
    this.#worker?.terminate()
    this.#worker = undefined
    this.#busy = false
  }
}
