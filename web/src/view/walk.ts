/** From one sign to the next: along a voice, or to another voice at the same moment. */
import { compare, type Page, type Rational, type Reading, type Sign, type SignId, type Voice } from "@resolutio/core"
import { flatOf, indexIn, voiceOf } from "../document/index-signs.js"

/** Signs at which one does not stop. */
const PASSED: ReadonlySet<Sign["kind"]> = new Set(["break", "comment"])

/** The sign `by` further in its voice; from nowhere the first of the page. Undefined at an end. */
export function along(page: Page, from: SignId | undefined, by: 1 | -1): SignId | undefined {
  const voice = from === undefined ? undefined : voiceOf(page, from)
  if (!voice) return endOf(page.voices[0], 1)
  const flat = flatOf(voice)
  for (let at = indexIn(voice, from!)! + by; at >= 0 && at < flat.length; at += by)
    if (!PASSED.has(flat[at]!.sign.kind)) return flat[at]!.sign.id
  return undefined
}

/** The first sign of the voice (by 1), or its last (by -1). */
export function endOf(voice: Voice | undefined, by: 1 | -1): SignId | undefined {
  const signs = (voice ? flatOf(voice) : []).filter(({ sign }) => !PASSED.has(sign.kind))
  return signs.at(by === 1 ? 0 : -1)?.sign.id
}

/** What sounds in the voice above or below when the sign begins; there being no such voice, undefined. */
export function across(page: Page, from: SignId, by: 1 | -1, readingOf: (voice: Voice) => Reading): SignId | undefined {
  const at = page.voices.findIndex(voice => indexIn(voice, from) !== undefined)
  const [here, there] = [page.voices[at], page.voices[at + by]]
  if (!here || !there) return undefined
  const onset = onsetOf(readingOf(here), from)
  const signs = readingOf(there).signs.filter(one => one.number > 0)
  const sounding = signs.findLast(one => compare(one.onset, onset) <= 0)
  return (sounding ?? signs[0])?.id ?? endOf(there, 1)
}

function onsetOf({ signs }: Reading, id: SignId): Rational {
  return signs.find(one => one.id === id)?.onset ?? { num: 0, den: 1 }
}
