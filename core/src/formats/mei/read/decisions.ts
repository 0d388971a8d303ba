/** An editor's decisions: annotations that say, in words of their type, how a sign is to be read. */
import { signId, timeFromText, type Rational } from "../../../base/index.js"
import { DECIDED_DOTS, everySign, type DecidedDot, type Decision } from "../../../page/index.js"
import { allTokenParts, splitTokens, tokenPart, tokenParts, type Tokens } from "../tokens.js"
import { attribute, elementsIn, textIn, type XmlElement } from "../xml.js"
import { idOf } from "./common.js"
import { pointer, trim, type Reader } from "./reader.js"

type What = { duration: Rational } | { not: readonly Rational[] } | { dot: DecidedDot }

/** Annotations that tell of a decision; others are remarks. */
export function isDecision(element: XmlElement): boolean {
  if (element.localName !== "annot" || attribute(element, "plist") === undefined) return false
  const tokens = splitTokens(attribute(element, "type"))
  return tokens.includes("decision") && tokens.some(one => /^(duration|not|dot):/.test(one))
}

/** All decisions in the music, in document order; what cannot be one is reported and stays in the file alone. */
export function readDecisions(reader: Reader, music: XmlElement): Decision[] {
  const decisions: Decision[] = []
  let taken: Set<string> | undefined
  for (const element of elementsIn(music)) {
    if (!isDecision(element)) continue
    const decision = readDecision(reader, element, decisions.length + 1)
    if (!decision) continue
    taken ??= signIds(reader)
    let { id } = decision
    if (taken.has(id)) {
      report(reader, element, `The id “${id}” is given twice; this decision gets another.`, "Give it its own xml:id.")
      while (taken.has(id)) id = signId(`${id}a`)
    }
    taken.add(id)
    decisions.push({ ...decision, id })
    reader.decisions.push(element)
  }
  return decisions
}

function signIds(reader: Reader): Set<string> {
  const runs = [...[...reader.voices.values()].map(voice => voice.signs), ...reader.alternatives.map(one => one.signs)]
  return new Set(runs.flatMap(signs => [...everySign(signs)].map(sign => sign.id as string)))
}

function readDecision(reader: Reader, element: XmlElement, number: number): Decision | undefined {
  const tokens = splitTokens(attribute(element, "type"))
  const sign = pointer(element, "plist")
  const what = whatIn(tokens)
  const several = /\S\s+\S/.test(attribute(element, "plist")!)
  if (sign === undefined || what === undefined || several) {
    const mend = 'Write type="decision duration:9:2" (or not:6:1, or dot:division), and one sign in plist.'
    report(reader, element, "This decision does not say what is decided, or not on which one sign.", mend)
    return undefined
  }
  const id = idOf(element, tokens)
  return trim({
    id: id || signId(`decision-${number}`),
    sign: signId(sign),
    ...what,
    label: attribute(element, "label"),
    who: pointer(element, "resp"),
    why: textIn(element) || undefined,
  })
}

function report(reader: Reader, element: XmlElement, what: string, mend: string): void {
  reader.report("decision-unclear", what, mend, element)
}

/** What is decided: one thing, and one that can be. */
function whatIn(tokens: Tokens): What | undefined {
  const durations = allTokenParts(tokens, "duration")
  const refused = allTokenParts(tokens, "not")
  const dots = allTokenParts(tokens, "dot")
  if (durations.length + dots.length + Math.min(refused.length, 1) !== 1) return undefined
  if (dots.length > 0) {
    const dot = DECIDED_DOTS.find(one => one === tokenPart(tokens, "dot"))
    return dot && { dot }
  }
  const duration = durationIn(tokenParts(tokens, "duration"))
  if (durations.length > 0) return duration && { duration }
  const not = refused.map(durationIn).filter(one => one !== undefined)
  return not.length === refused.length ? { not } : undefined
}

const durationIn = (parts: readonly string[] | undefined): Rational | undefined => timeFromText((parts ?? []).join("/"))
