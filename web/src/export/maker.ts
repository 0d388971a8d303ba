/** The window's end of the line to whoever makes files. */
import address from "worker:./export/export-worker.ts"
import { trustedAddress } from "../parts/trusted.js"
import type { FromMaker } from "./export-worker.js"
import type { Made, Piece } from "./formats.js"
import type { FormatName, Wishes } from "./offered.js"

/** A file on its way. */
export interface Making {
  readonly made: Promise<Made>
  /** No longer wanted: nothing is made, and `made` stays open. */
  readonly end: () => void
}

/** `told` hears how far it has come, 0 to 1. */
export function making(name: FormatName, piece: Piece, wishes: Wishes, told: (share: number) => void): Making {
  const worker = new Worker(trustedAddress(address) as string, { type: "module", name: "export" })
  const made = new Promise<Made>((resolve, reject) => {
    worker.addEventListener("message", ({ data }: MessageEvent<FromMaker>) => {
      if (data.tell === "progress") return told(data.share)
      worker.terminate()
      if (data.tell === "failed") reject(new Error(data.what))
      else resolve(data.made)
    })
    worker.addEventListener("error", event => reject(new Error(event.message)))
    worker.postMessage({ name, piece, wishes })
  })
  return { made, end: () => worker.terminate() }
}

/** Gives the file to the browser to be saved. */
export function save(content: string | Uint8Array, name: string, type: string): void {
  const address = URL.createObjectURL(new Blob([content as BlobPart], { type }))
  const link = document.createElement("a")
  link.href = address
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(address), 10_000)
}
