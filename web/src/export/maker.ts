/** The window's end of the line to whoever makes files. */
import address from "worker:./export/export-worker.ts"
import { trustedAddress } from "../parts/trusted.js"
import type { FromMaker } from "./export-worker.js"
import type { FormatName } from "./formats-offered.js"
import type { Made, Piece } from "./formats.js"

/** A file on its way. */
export interface Making {
  readonly made: Promise<Made>
  /** No longer wanted: nothing is made, and `made` stays open. */
  readonly end: () => void
}

export function making(name: FormatName, piece: Piece): Making {
  const worker = new Worker(trustedAddress(address) as string, { type: "module", name: "export" })
  const made = new Promise<Made>((resolve, reject) => {
    worker.addEventListener("message", ({ data }: MessageEvent<FromMaker>) => {
      worker.terminate()
      if ("failed" in data) reject(new Error(data.failed))
      else resolve(data)
    })
    worker.addEventListener("error", event => reject(new Error(event.message)))
    worker.postMessage({ name, piece })
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

/** A file's name that every system takes. */
export const fileName = (title: string): string =>
  title
    .normalize("NFC")
    .replace(/[^\p{L}\p{N} ._-]/gu, "")
    .trim()
    .replace(/\s+/g, "-")
    .replace(/^\.+/, "")
    .slice(0, 80) || "piece"
