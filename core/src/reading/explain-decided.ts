/** What an editor decided of a sign, and what the rules would have read: in a sentence, or decision by decision. */
import { toText } from "../base/index.js"
import { decisionReason, decisionWords, type Page } from "../page/index.js"
import { RULE_IDS } from "../practices/index.js"
import type { Reading, SignReading } from "./types.js"

/** Behind the sentence on its rule; "" where no editor decided anything. */
export function decidedText(sign: SignReading): string {
  const { decidedBy, refused, number, rulesSay, rulesTakeFor } = sign
  const said: string[] = []
  if (decidedBy === "decision" && number === 0)
    said.push(
      rulesTakeFor === undefined
        ? "An editor decided so."
        : `An editor decided so; the rules would have taken it for ${markName(rulesTakeFor)}.`,
    )
  if (refused !== undefined) said.push(`An editor refused ${refused.map(toText).join(" and ")}.`)
  const who = sign.othersSay ? "The voices together" : "The rules"
  if (rulesSay !== undefined && decidedBy !== "given") said.push(`${who} would have read ${toText(rulesSay)}.`)
  else if (decidedBy === "decision" && number > 0) said.push("Without any decision it would be read so too.")
  return said.length > 0 ? ` ${said.join(" ")}` : ""
}

/** "punctus divisionis (a dot or stroke that parts two perfections)". */
function markName(rule: string): string {
  const meaning = RULE_IDS[rule]
  return rule.replaceAll("-", " ") + (meaning === undefined ? "" : ` (${meaning})`)
}

/** The page's decisions on the sign, one a line, with who and why. */
export function decisionLines(page: Page, id: string, unit: Reading["unit"]): string[] {
  return (page.decisions ?? [])
    .filter(one => one.sign === id)
    .map(one => {
      const reason = decisionReason(page, one)
      return `Decision ${one.id}: ${decisionWords(one, unit)}${reason === "" ? "" : ` (${reason})`}.`
    })
}
