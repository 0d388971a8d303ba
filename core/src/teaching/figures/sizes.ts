/** Sizes of figures by name. All are laid out in units of which 1080 make the height of a lecture slide. */

export interface FigureSize {
  readonly name: string
  /** In px; without a height the figure is as high as what it shows. */
  readonly width: number
  readonly height?: number
  /** Px in a unit: the smallest type, 24 units, is so many times as large. */
  readonly scale: number
  /** Free at all sides, in units. */
  readonly margin: number
  /** Of the headline, in units. */
  readonly headline: number
  /** In millimetres, where it is meant for print. */
  readonly printed?: number
}

/** A4 is 210 mm wide, half a column of print 85 mm; both are told at the resolution they are printed with (200 and 300 dots an inch). */
export const FIGURE_SIZES: readonly FigureSize[] = [
  { name: "1920x1080", width: 1920, height: 1080, scale: 1, margin: 90, headline: 68 },
  { name: "1280x720", width: 1280, height: 720, scale: 2 / 3, margin: 90, headline: 68 },
  { name: "square", width: 1080, height: 1080, scale: 1, margin: 60, headline: 54 },
  { name: "vertical", width: 1080, height: 1920, scale: 1, margin: 70, headline: 60 },
  { name: "a4", width: 1654, height: 2339, scale: 1.25, margin: 112, headline: 56, printed: 210 },
  { name: "half-column", width: 1004, scale: 1.4, margin: 24, headline: 40, printed: 85 },
]
export const USUAL_SIZE = FIGURE_SIZES[0]!

/** The size of this name ("1920×1080" and "A4" are understood too), or undefined. */
export function figureSize(name: string): FigureSize | undefined {
  const wanted = name.trim().toLowerCase().replace("×", "x").replaceAll(/[ _]/g, "-")
  return FIGURE_SIZES.find(one => one.name === wanted)
}
