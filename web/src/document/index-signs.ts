/** Where the signs of a page are: worked out voice by voice, and only again for a voice that has changed. */
import { flatSigns, type FlatSign, type Page, type SignId, type Voice } from "@resolutio/core"

interface Indexed {
  readonly flat: readonly FlatSign[]
  readonly at: ReadonlyMap<SignId, number>
}
const known = new WeakMap<Voice, Indexed>()

function indexed(voice: Voice): Indexed {
  const found = known.get(voice)
  if (found) return found
  const flat = flatSigns(voice)
  const at = new Map<SignId, number>()
  flat.forEach(({ sign, ligature }, i) => {
    at.set(sign.id, i)
    if (ligature && !at.has(ligature.id)) at.set(ligature.id, i)
  })
  const made = { flat, at }
  known.set(voice, made)
  return made
}

/** The signs of a voice from left to right, notes of ligatures in their own right. */
export const flatOf = (voice: Voice): readonly FlatSign[] => indexed(voice).flat

/** Index among them; a ligature's is that of its first note. */
export const indexIn = (voice: Voice, sign: SignId): number | undefined => indexed(voice).at.get(sign)

export function voiceOf({ voices }: Page, sign: SignId): Voice | undefined {
  return voices.find(voice => indexed(voice).at.has(sign))
}

/** The sign itself, in whatever voice. */
export function signOf(page: Page, id: SignId): FlatSign | undefined {
  const voice = voiceOf(page, id)
  const at = voice && indexIn(voice, id)
  return voice && at !== undefined ? flatOf(voice)[at] : undefined
}
