/** What can be decided, as it stands in a decision's line, without the line: for a command or a field that asks for it. */
import { done, failed, type Result } from "../../base/index.js"
import type { CanonDecision, FormDecision } from "../decision.js"
import { parseShorthand } from "./parse.js"

/** `voice voice=(after=2B interval=-5)`, or `form=(A B A2)`. */
export function readDecided(text: string): Result<Pick<CanonDecision, "canon"> | Pick<FormDecision, "form">> {
  const line = text.replaceAll(/\s+/g, " ").trim()
  const read = parseShorthand(`B o\ndecision on=1.1 ${line}`)
  const decision = read.ok && read.problems.length === 0 ? read.value.decisions?.[0] : undefined
  if (decision?.canon) return done({ canon: decision.canon })
  if (decision?.form) return done({ form: decision.form })
  const told = read.problems.find(({ mend }) => mend !== "")
  return failed({
    code: "not-decided",
    what: `“${line}” does not say how it is sung.`,
    mend: told?.mend ?? "Write voice voice=(after=2B interval=-5), or form=(A B A2 A).",
    severity: "error",
  })
}
