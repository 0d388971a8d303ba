/** Files are made in a thread of their own, which is ended when one no longer wants them. */
import type { FormatName } from "./formats-offered.js"
import { makeFile, type Piece } from "./formats.js"

interface Surroundings {
  postMessage(message: FromMaker): void
  addEventListener(name: "message", take: (event: MessageEvent<ToMaker>) => void): void
}
export interface ToMaker {
  readonly name: FormatName
  readonly piece: Piece
}
export type FromMaker =
  { readonly content: string | Uint8Array; readonly losses: readonly string[] } | { readonly failed: string }

const surroundings = self as unknown as Surroundings
surroundings.addEventListener("message", ({ data }) => {
  try {
    surroundings.postMessage(makeFile(data.name, data.piece))
  } catch (error) {
    surroundings.postMessage({ failed: error instanceof Error ? error.message : String(error) })
  }
})
