/** A document as text. */
import type { Page } from "../../page/index.js"
import { inOrder } from "./patch/order.js"
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
  if (!traced.ok) return newMei(document.page)
  const text = patchMei(traced.value, document.page)
  return sameOrder(traced.value.document.page, document.page) ? text : ordered(text, document.page)
}

/** The voices that were there stand as they stood, with any new ones after them. */
function sameOrder(old: Page, page: Page): boolean {
  const known = old.voices.map(voice => voice.id)
  const kept = known.filter(id => page.voices.some(voice => voice.id === id))
  return kept.every((id, index) => page.voices[index]!.id === id)
}

function ordered(text: string, page: Page): string {
  const traced = traceMei(text)
  return (traced.ok && inOrder(traced.value, page)) || text
}
