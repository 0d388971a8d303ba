/** The kinds of figures by name. */

export interface FigureKind {
  readonly name: string
  /** In one sentence. */
  readonly shows: string
  /** Made from a piece; the others take one and ignore it. Without a piece a line of our own is shown. */
  readonly ofPiece: boolean
}

/** In the order in which they are told. */
export const FIGURE_KINDS: readonly FigureKind[] = [
  {
    name: "old-over-new",
    shows: "a passage sign under sign: as written, its counts with why, as read",
    ofPiece: true,
  },
  {
    name: "step-series",
    shows:
      "one voice in five pictures of one scale: signs, perfections, imperfections, alterations, result; and all on one sheet",
    ofPiece: true,
  },
  { name: "division-tree", shows: "how values divide under any signs, side by side", ofPiece: false },
  { name: "ligature-table", shows: "ligatures by how they begin and end, with the notes they hold", ofPiece: false },
  { name: "rests", shows: "rests by length, in spaces, with what each is worth", ofPiece: false },
  { name: "dots", shows: "what a dot may mean, each with the same signs without it", ofPiece: false },
  { name: "coloration", shows: "what coloured notes lose, each with the same signs in plain ink", ofPiece: false },
  { name: "proportions", shows: "signs and figures of proportion over one common time", ofPiece: false },
]

export const figureKind = (name: string): FigureKind | undefined =>
  FIGURE_KINDS.find(one => one.name === name.trim().toLowerCase())
