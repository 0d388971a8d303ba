/** What is kept of a piece on this machine. */
import type { Page, PageChange } from "@resolutio/core"

/** One act: what it did to the page, and the way back. */
export interface Step {
  readonly change: PageChange
  readonly undo: PageChange
  /** What it was, for whoever takes it back: "a breve turned into a long". */
  readonly words: string
  /** Acts with the same gesture, one right after the other, are one step. */
  readonly gesture?: string
  /** `PieceRecord.revision` with which it was kept: no two steps of a piece have the same. */
  readonly stamp: number
}

/** A piece in the list of pieces. */
export interface PieceRecord {
  readonly id: string
  readonly title: string
  readonly voices: readonly string[]
  /** Milliseconds since 1970. */
  readonly opened: number
  readonly changed: number
  /** Number of the last step that is done; those after it can be done again. */
  readonly at: number
  /** The base is the page after this many steps; there is no way back beyond it. */
  readonly first: number
  /** Goes up with everything that is kept of the piece: whoever writes has to have seen the last. */
  readonly revision: number
  /** Name of the file that it came from. */
  readonly file?: string
  /** It came with the program. */
  readonly demo?: boolean
}

/** The page from which the steps begin, and the text of the MEI file it came from. */
export interface Base {
  readonly id: string
  readonly page: Page
  readonly mei?: string
}

export interface KeptPiece {
  readonly record: PieceRecord
  readonly base: Base
  /** From `record.first` on, done and undone. */
  readonly steps: readonly Step[]
}

/** A photograph of the source: the picture itself, which no file of the piece carries. */
export interface KeptPicture {
  readonly piece: string
  /** Id of the surface of the page that it is the picture of. */
  readonly surface: string
  readonly picture: Blob
}
