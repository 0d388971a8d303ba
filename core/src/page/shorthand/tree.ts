/** The tree of a text by the grammar, and where the grammar had to skip or supply something. */
import type { Tree, TreeCursor } from "@lezer/common"
import { parser } from "./parser.generated.js"
import { excerpt, type Reporter } from "./reporter.js"

const strict = parser.configure({ strict: true })

/** Most texts have no faults: those are not looked through for them. */
export function treeOf(text: string): { readonly tree: Tree; readonly faultless: boolean } {
  try {
    return { tree: strict.parse(text), faultless: true }
  } catch {
    return { tree: parser.parse(text), faultless: false }
  }
}

/** Places where the grammar itself had to skip or to supply something. */
export function reportErrors(cursor: TreeCursor, text: string, report: Reporter): void {
  cursor.iterate(node => {
    if (!node.type.isError) return
    const skipped = excerpt(text.slice(node.from, node.to))
    const within = node.node.parent?.name
    if (within === "Arguments")
      report.error(
        node.from,
        "open-bracket",
        "This bracket is not closed, or holds what it cannot hold.",
        "Close it with ) before anything else is said.",
      )
    else if (skipped)
      report.error(
        node.from,
        "out-of-place",
        `"${skipped}" cannot stand here.`,
        "Take it away, put it in quotes, or begin a new line before it.",
      )
  })
}
