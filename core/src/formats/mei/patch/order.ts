/** The order of the voices is that of their definitions. */
import type { Page } from "../../../page/index.js"
import type { Traced } from "../document.js"
import { Edits } from "./edits.js"
import { ElementPatcher } from "./element.js"

/** The text with its staffDefs in the order of the page's voices; undefined when they stand so already. */
export function inOrder(traced: Traced, page: Page): string | undefined {
  const { document, reader, tree } = traced
  const wanted = page.voices.map(voice => voice.id as string)
  const found = document.original.voices.map(voice => voice.id as string)
  const sameVoices = wanted.length === found.length && wanted.every(id => found.includes(id))
  if (!sameVoices || wanted.every((id, index) => id === found[index])) return undefined
  const edits = new Edits(document.source)
  const patcher = new ElementPatcher(edits, tree.root, tree.spans)
  const drafts = [...reader.voices.values()].filter(voice => !voice.passedOver)
  const spans = new Map(
    drafts.flatMap(({ id, definitions: [own] }) => (own ? [[id, patcher.spanOf(own)] as const] : [])),
  )
  if (spans.size !== wanted.length) return undefined
  found.forEach((id, index) => {
    const slot = spans.get(id)!
    const { start, end } = spans.get(wanted[index]!)!
    edits.exchange(slot.start, slot.end, document.source.slice(start, end))
  })
  return edits.apply()
}
