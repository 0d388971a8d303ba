/** Files are made in a thread of their own, which is ended when one no longer wants them. */
import { makeFile, type Made, type Piece } from "./formats.js"
import type { FormatName, Wishes } from "./offered.js"

interface Surroundings {
  postMessage(message: FromMaker): void
  addEventListener(name: "message", take: (event: MessageEvent<ToMaker>) => void): void
}
export interface ToMaker {
  readonly name: FormatName
  readonly piece: Piece
  readonly wishes: Wishes
}
export type FromMaker =
  | { readonly tell: "made"; readonly made: Made }
  | { readonly tell: "progress"; readonly share: number }
  | { readonly tell: "failed"; readonly what: string }

const surroundings = self as unknown as Surroundings
surroundings.addEventListener("message", ({ data: { name, piece, wishes } }) => {
  makeFile(name, piece, wishes, share => surroundings.postMessage({ tell: "progress", share })).then(
    made => surroundings.postMessage({ tell: "made", made }),
    (error: unknown) =>
      surroundings.postMessage({ tell: "failed", what: error instanceof Error ? error.message : String(error) }),
  )
})
