/** Drawings as files: SVG, PNG and PDF, with what is on this disk. */
import type { Scene } from "@resolutio/core"
import { pictureOf as made, type PictureOptions } from "@resolutio/press"
import { TOOLS } from "./tools.js"

export { PICTURE_ENDINGS, lettersLacking } from "@resolutio/press"

/** The content of a file with this ending; a PDF takes all sheets, the others the first. */
export const pictureOf = (
  sheets: readonly Scene[],
  ending: string,
  options: PictureOptions,
): Promise<string | Uint8Array> => made(sheets, ending, options, TOOLS)
