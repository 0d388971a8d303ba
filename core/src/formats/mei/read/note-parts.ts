/** What stands in the element of a note. */
import { childrenOf, type XmlElement } from "../xml.js"
import { chosenOf, handOf } from "./editorial.js"

export interface Part {
  readonly element: XmlElement
  readonly byEditor: boolean
}

/** What stands in a note, through an editor's elements around it; readings that were not chosen are passed over. */
export function partsOf(note: XmlElement, byEditor = false): Part[] {
  return childrenOf(note).flatMap(child => {
    const name = child.localName
    if (name === "app" || name === "choice" || name === "subst") {
      const chosen = chosenOf(child)
      return chosen ? partsOf(chosen, byEditor || handOf(chosen)?.kind === "corr") : []
    }
    const hand = handOf(child)
    if (hand || name === "sic" || name === "orig")
      return partsOf(child, byEditor || hand?.kind === "supplied" || hand?.kind === "corr" || hand?.kind === "reg")
    return [{ element: child, byEditor }]
  })
}
