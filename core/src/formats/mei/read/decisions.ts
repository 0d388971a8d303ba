/** An editor's decisions: annotations that say, in words of their type, how a sign is to be read. */
import { signId, timeFromText, type Rational } from "../../../base/index.js"
import {
  CHOSEN_ACCIDENTALS,
  DECIDED_DOTS,
  everySign,
  isCanonFlag,
  readCanon,
  readFormStep,
  type CanonWord,
  type ChosenAccidental,
  type DecidedWhat,
  type Decision,
} from "../../../page/index.js"
import { allTokenParts, partsOfToken, splitTokens, tokenPart, tokenParts, type Tokens } from "../tokens.js"
import { attribute, elementsIn, textIn, type XmlElement } from "../xml.js"
import { idOf } from "./common.js"
import { pointer, trim, type Reader } from "./reader.js"

/** Annotations that tell of a decision; others are remarks. */
export function isDecision(element: XmlElement): boolean {
  if (element.localName !== "annot" || attribute(element, "plist") === undefined) return false
  const tokens = splitTokens(attribute(element, "type"))
  return (
    tokens.includes("decision") &&
    tokens.some(one => /^((duration|not|dot|form|accid|not-accid):|(voice|then)(:|$))/.test(one))
  )
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
function whatIn(tokens: Tokens): DecidedWhat | undefined {
  const durations = allTokenParts(tokens, "duration")
  const refused = allTokenParts(tokens, "not")
  const dots = allTokenParts(tokens, "dot")
  const voices = tokens.filter(one => /^(voice|then)(:|$)/.test(one))
  const forms = allTokenParts(tokens, "form")
  const accidentals = allTokenParts(tokens, "accid")
  const without = allTokenParts(tokens, "not-accid")
  const several = [refused, voices, without].map(all => Math.min(all.length, 1))
  if (
    [durations.length, dots.length, forms.length, accidentals.length, ...several].reduce((sum, one) => sum + one, 0) !==
    1
  )
    return undefined
  if (voices.length > 0) return canonIn(voices)
  if (forms.length > 0) return formIn(forms[0]!)
  if (accidentals.length > 0) return accidentalIn(accidentals[0]!)
  if (without.length > 0) return withoutIn(without)
  if (dots.length > 0) {
    const dot = DECIDED_DOTS.find(one => one === tokenPart(tokens, "dot"))
    return dot && { dot }
  }
  const duration = durationIn(tokenParts(tokens, "duration"))
  if (durations.length > 0) return duration && { duration }
  const not = refused.map(durationIn).filter(one => one !== undefined)
  return not.length === refused.length ? { not } : undefined
}

const chosen = ([text]: readonly string[]): ChosenAccidental | undefined => CHOSEN_ACCIDENTALS.find(one => one === text)

function accidentalIn(parts: readonly string[]): DecidedWhat | undefined {
  const accidental = chosen(parts)
  return accidental && { accidental }
}

function withoutIn(all: readonly (readonly string[])[]): DecidedWhat | undefined {
  const notAccidental = all.map(chosen).filter(one => one !== undefined)
  return notAccidental.length === all.length ? { notAccidental } : undefined
}

function canonIn(tokens: Tokens): DecidedWhat | undefined {
  const read = readCanon(
    tokens.map(one => {
      const [name, ...parts] = partsOfToken(one)
      return { name: name as CanonWord["name"], says: sayings(parts) }
    }),
  )
  return "canon" in read ? read : undefined
}

/** Names with their values, which follow them unless the name stands without one. */
function sayings(parts: readonly string[]): CanonWord["says"] {
  const says: [string, string?][] = []
  for (let i = 0; i < parts.length; i++) {
    const name = parts[i]!
    if (isCanonFlag(name) || parts[i + 1] === undefined) says.push([name])
    else says.push([name, parts[++i]!])
  }
  return says
}

function formIn(parts: readonly string[]): DecidedWhat | undefined {
  const form = parts.map(readFormStep).filter(step => step !== undefined)
  return form.length === parts.length && form.length > 0 ? { form } : undefined
}

const durationIn = (parts: readonly string[] | undefined): Rational | undefined => timeFromText((parts ?? []).join("/"))
