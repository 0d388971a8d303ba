/** Readings that stand in the file beside the chosen one, written back as app and choice. */
import type { Alternative, Editorial, Page, Sign } from "../../../page/index.js"
import { element, type XmlElement } from "../../xml.js"
import { handAttributes } from "./signs.js"

export interface Choice {
  /** How many of the signs of the run it takes. */
  readonly count: number
  /** The alternatives, in order. */
  readonly alternatives: readonly Alternative[]
}

/** Alternatives by the id of the first sign they would replace. */
export function choicesOf(page: Page): Map<string, Alternative[]> {
  const choices = new Map<string, Alternative[]>()
  for (const alternative of page.alternatives) {
    const first = alternative.insteadOf[0] ?? ""
    choices.set(first, [...(choices.get(first) ?? []), alternative])
  }
  return choices
}

/** The choice that begins at this sign, when all it is about stand together in this run. */
export function choiceAt(
  choices: ReadonlyMap<string, readonly Alternative[]>,
  signs: readonly Sign[],
  at: number,
): Choice | undefined {
  const all = choices.get(signs[at]!.id)
  const insteadOf = all?.[0]?.insteadOf
  if (!insteadOf || !insteadOf.every((id, i) => signs[at + i]?.id === id)) return undefined
  const alternatives = all.filter(one => one.insteadOf.length === insteadOf.length)
  return { count: insteadOf.length, alternatives }
}

/** `write` writes signs with their editor's elements, or bare. */
export function choiceXml(
  chosen: readonly Sign[],
  alternatives: readonly Alternative[],
  write: (sign: Sign, bare: boolean) => XmlElement[],
  others: (alternative: Alternative) => XmlElement[],
): XmlElement {
  const hand = sharedHand(chosen)
  const whats = new Set(alternatives.map(one => one.what))
  const side = (name: string) => (one: Alternative) =>
    element(name, handAttributes(name, one.editorial, one.id), ...others(one))
  if (hand?.kind === "corr" && only(whats, "sic")) {
    const corr = element("corr", handAttributes("corr", hand), ...chosen.flatMap(sign => write(sign, true)))
    return element("choice", {}, ...alternatives.map(side("sic")), corr)
  }
  if (hand === undefined && only(whats, "reg")) {
    const orig = element("orig", {}, ...chosen.flatMap(sign => write(sign, false)))
    return element("choice", {}, orig, ...alternatives.map(side("reg")))
  }
  const name = hand?.kind === "rdg" ? "rdg" : "lem"
  const bare = hand?.kind === name
  const first = element(name, bare ? handAttributes(name, hand) : {}, ...chosen.flatMap(sign => write(sign, bare)))
  return element("app", {}, first, ...alternatives.map(side("rdg")))
}

function only(whats: ReadonlySet<string>, what: string): boolean {
  return whats.size === 1 && whats.has(what)
}

/** The editor's hand that all these signs share. */
function sharedHand(signs: readonly Sign[]): Editorial | undefined {
  const first = signs[0]?.editorial
  const same = JSON.stringify(first)
  return signs.every(sign => JSON.stringify(sign.editorial) === same) ? first : undefined
}
