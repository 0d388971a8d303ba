/** The window's end of the line to the engraver. Its thread is started when the first score is wanted. */
import address from "worker:./engraving/engraver-worker.ts"
import { trustedAddress } from "../parts/trusted.js"
import type { FromEngraver, ToEngraver } from "./messages.js"

export interface EngravedDrawing {
  /** Elements to be put into an SVG. */
  readonly svg: string
  readonly width: number
  readonly height: number
}

export class Engraver {
  #worker: Worker | undefined
  #asked = 0
  readonly #waiting = new Map<number, { resolve: (drawn: EngravedDrawing) => void; reject: (error: Error) => void }>()

  engrave(mei: string, width: number): Promise<EngravedDrawing> {
    const worker = (this.#worker ??= this.#start())
    const ask = ++this.#asked
    return new Promise((resolve, reject) => {
      this.#waiting.set(ask, { resolve, reject })
      worker.postMessage({ ask, mei, width } satisfies ToEngraver)
    })
  }

  #start(): Worker {
    const worker = new Worker(trustedAddress(address) as string, { type: "module", name: "engraver" })
    worker.addEventListener("message", ({ data }: MessageEvent<FromEngraver>) => {
      const one = this.#waiting.get(data.ask)
      this.#waiting.delete(data.ask)
      if ("failed" in data) one?.reject(new Error(data.failed))
      else one?.resolve(data)
    })
    // what could not be loaded is tried again when a score is wanted next
    worker.addEventListener("error", () => {
      this.#worker = undefined
      for (const { reject } of this.#waiting.values()) reject(new Error("the engraver could not be loaded"))
      this.#waiting.clear()
    })
    return worker
  }
}
