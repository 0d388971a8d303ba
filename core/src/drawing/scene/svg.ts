/**
 * A scene as SVG: presentation attributes only, no style sheet, no script. Positions of groups are reckoned in, so that every
 * number in the file is in px. The same scene gives the same text.
 */
import type { Item, Scene } from "./scene.js"
import type { Placing, SvgOptions } from "./svg-options.js"
import { SvgWriter } from "./svg-writer.js"

export type { Placing, SvgOptions } from "./svg-options.js"
export { FONT_FAMILIES } from "./svg-styles.js"

/** One SVG document, ending with a line break. */
export function toSvg(scene: Scene, options: SvgOptions = {}): string {
  return new SvgWriter(options).document(scene)
}

/**
 * Items alone, without a document around them: for putting into a picture that is shown, so that only what changed is written
 * anew. A sign's id is data only, since there may be others in the page.
 */
export function svgOf(
  items: readonly Item[],
  { x = 0, y = 0, scale = 1 }: Placing = {},
  options: SvgOptions = {},
): string {
  return new SvgWriter(options, true).fragment(items, { x, y, scale })
}
