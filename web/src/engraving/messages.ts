/** What the window and the engraver's thread say to each other. */
export interface ToEngraver {
  readonly ask: number
  readonly mei: string
  /** Of the sheet, in tenths of a millimetre. */
  readonly width: number
}
export type FromEngraver =
  | { readonly ask: number; readonly svg: string; readonly width: number; readonly height: number }
  | { readonly ask: number; readonly failed: string }
