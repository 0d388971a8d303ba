/** An editor's decision as an annotation of the sign. */
import type { Rational } from "../../../base/index.js"
import type { Decision } from "../../../page/index.js"
import { element, type XmlElement } from "../../xml.js"
import { toName, token } from "../tokens.js"

/** `<annot type="decision duration:9:2" plist="#n12" resp="#ed">why</annot>` */
export function decisionXml(decision: Decision): XmlElement {
  const { id, sign, label, who, why } = decision
  const attributes = {
    "xml:id": toName(id),
    type: ["decision", ...whatTokens(decision)].join(" "),
    label,
    plist: `#${toName(sign)}`,
    resp: who === undefined ? undefined : `#${toName(who)}`,
  }
  return element("annot", attributes, why || undefined)
}

function whatTokens({ duration, not, dot }: Decision): string[] {
  if (dot !== undefined) return [token("dot", dot)]
  return duration ? [durationToken("duration", duration)] : not!.map(one => durationToken("not", one))
}

const durationToken = (name: string, { num, den }: Rational): string => token(name, num, den)
