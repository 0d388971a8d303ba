/** An editor's decision as an annotation of the sign. */
import type { Rational } from "../../../base/index.js"
import { writeCanon, writeFormStep, type Decision } from "../../../page/index.js"
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

function whatTokens({ duration, not = [], dot, canon, form, accidental, notAccidental }: Decision): string[] {
  if (accidental !== undefined) return [token("accid", accidental)]
  if (notAccidental) return notAccidental.map(one => token("not-accid", one))
  if (dot !== undefined) return [token("dot", dot)]
  if (canon)
    return writeCanon(canon).map(({ name, says }) => token(name, ...says.flat().filter(part => part !== undefined)))
  if (form) return [token("form", ...form.map(writeFormStep))]
  return duration ? [durationToken("duration", duration)] : not.map(one => durationToken("not", one))
}

const durationToken = (name: string, { num, den }: Rational): string => token(name, num, den)
