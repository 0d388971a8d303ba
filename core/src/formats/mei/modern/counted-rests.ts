/** In a part several bars of silence stand as one rest with their number, so that a singer need not count signs. */
import { element, type XmlElement } from "../../xml.js"

/** What belongs to each stretch of one voice, runs of stretches that are nothing but silence put together in their first. */
export function withCountedRests(parts: readonly (readonly XmlElement[])[]): XmlElement[][] {
  const counted: XmlElement[][] = []
  for (let i = 0; i < parts.length;) {
    let next = i + 1
    // what stands before a measure (a new meter, a new system) begins a new run
    if (restIn(parts[i]!)) while (next < parts.length && parts[next]!.length === 1 && restIn(parts[next]!)) next++
    const own = parts[i]!
    counted.push(next - i > 1 ? [...own.slice(0, -1), together(own.at(-1)!, restIn(own)!, next - i)] : [...own])
    // the others stay as places without content, so that stretches and parts keep the same numbers
    for (let n = i + 1; n < next; n++) counted.push([])
    i = next
  }
  return counted
}

/** The rest through the whole measure, if the measure has nothing else: no words, no repeat, no line within. */
function restIn(part: readonly XmlElement[]): XmlElement | undefined {
  const measure = part.at(-1)!
  const [staff, more] = elementsIn(measure)
  if (!staff || more || measure.attributes["left"] !== undefined || measure.attributes["right"] !== undefined)
    return undefined
  const [layer] = elementsIn(staff)
  const content = layer ? elementsIn(layer) : []
  return content.length === 1 && content[0]!.name === "mRest" ? content[0] : undefined
}
const elementsIn = ({ children }: XmlElement): XmlElement[] => children.filter(child => typeof child !== "string")

function together(measure: XmlElement, rest: XmlElement, num: number): XmlElement {
  const [staff] = elementsIn(measure)
  const [layer] = elementsIn(staff!)
  const long = element("multiRest", { ...rest.attributes, num })
  return { ...measure, children: [{ ...staff!, children: [{ ...layer!, children: [long] }] }] }
}
