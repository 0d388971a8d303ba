/** Sizes of the pages of a book. */

/** In points. */
export interface Paper {
  readonly width: number
  readonly height: number
}
export const PAPERS = {
  a4: { width: 595.28, height: 841.89 },
  letter: { width: 612, height: 792 },
} as const satisfies Record<string, Paper>
export type PaperName = keyof typeof PAPERS
export const PAPER_NAMES = Object.keys(PAPERS) as PaperName[]
