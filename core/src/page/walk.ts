/** Ways through a voice, sign by sign. Nothing here knows what a sign means. */
import type { SignId } from "../base/index.js"
import type { Page, Voice } from "./page.js"
import type { Ligature, Note, Sign } from "./signs.js"

/** A sign as it is met from left to right; what stands in a ligature is met in its own right. */
export interface FlatSign {
  /** Never itself a ligature. */
  readonly sign: Exclude<Sign, Ligature>
  /** The ligature in which the sign stands. */
  readonly ligature?: Ligature
  /** In a ligature: how many of its notes stand before this sign (so 0 for its first note). */
  readonly at?: number
  /** In a ligature: this is its last note. */
  readonly last?: boolean
}

/** The signs of a voice from left to right, a ligature given as its members. Takes time in proportion to their number. */
export function flatSigns(voice: { readonly signs: readonly Sign[] }): FlatSign[] {
  const flat: FlatSign[] = []
  for (const sign of voice.signs) {
    if (sign.kind === "ligature") flattenLigature(sign, flat)
    else flat.push({ sign })
  }
  return flat
}

function flattenLigature(ligature: Ligature, flat: FlatSign[]): void {
  const { members } = ligature
  let lastNote = members.length - 1
  while (lastNote >= 0 && members[lastNote]!.kind !== "note") lastNote--
  let at = 0
  for (let i = 0; i < members.length; i++) {
    const sign = members[i]!
    flat.push({ sign, ligature, at, last: i === lastNote })
    if (sign.kind === "note") at++
  }
}

/** Every sign of the voice from left to right, a ligature before its members. */
export function* everySign(signs: readonly Sign[]): Generator<Sign> {
  for (const sign of signs) {
    yield sign
    if (sign.kind === "ligature") yield* sign.members
  }
}

/** The notes of a ligature, without its dots and rarer members. */
export function notesOf(ligature: Ligature): Note[] {
  return ligature.members.filter(member => member.kind === "note")
}

/** Where each id stands: its voice, its sign, and the ligature around it. Alternatives are not in it. */
export function indexSigns(page: Page): Map<SignId, { voice: Voice; sign: Sign; ligature?: Ligature }> {
  const index = new Map<SignId, { voice: Voice; sign: Sign; ligature?: Ligature }>()
  for (const voice of page.voices)
    for (const sign of voice.signs) {
      index.set(sign.id, { voice, sign })
      if (sign.kind === "ligature")
        for (const member of sign.members) index.set(member.id, { voice, sign: member, ligature: sign })
    }
  return index
}
