/** A document as text. */
import { patchMei } from "./patch/patch.js"
import { traceMei, type MeiDocument } from "./document.js"
import { newMei } from "./write/page.js"

/**
 * The document's text: byte for byte as it was read when its page was not edited; otherwise the same text with only
 * the edited elements changed, which keeps whatever the page does not know, and the file's own version.
 */
export function writeMei(document: MeiDocument): string {
  if (document.page === document.original) return document.source
  const traced = traceMei(document.source)
  // A document is only made by reading, so its source can be read; for any other the page is all there is.
  return traced.ok ? patchMei(traced.value, document.page) : newMei(document.page)
}
