/** A page or a voice with a change made in thought. */
import { signId, type SignId, type VoiceId } from "../../base/index.js"
import { everySign, type Page, type Voice } from "../../page/index.js"
import type { Candidate } from "./candidates.js"
import { edited } from "./figures.js"

const MOST_SUPPLIED = 16

/** The page with the change made, nothing said of whose hand it is. */
export function changed(page: Page, id: VoiceId, edit: Candidate["edit"]): Page | undefined {
  const voice = page.voices.find(one => one.id === id)
  const after = voice && edited(voice, edit)
  return after && { ...page, voices: page.voices.map(one => (one === voice ? after : one)) }
}

/** One voice with the change, and what is changed in it along with that. */
export function editedThroughout(voice: Voice, { edit, also = [] }: Candidate): Voice | undefined {
  return [edit, ...also].reduce<Voice | undefined>((now, one) => now && edited(now, one), voice)
}

/** The same with what is changed along with it. */
export function changedThroughout(page: Page, { edit, also = [] }: Candidate): Page | undefined {
  return [edit, ...also].reduce<Page | undefined>((now, one) => now && changed(now, one.voice, one), page)
}

/** Ids that supplied signs can have: none of them stands on the page. */
export function freshIds(page: Page): SignId[] {
  const taken = new Set<string>(page.decisions?.map(one => one.id))
  for (const one of [...page.voices, ...page.alternatives]) for (const sign of everySign(one.signs)) taken.add(sign.id)
  const fresh: SignId[] = []
  for (let n = 1; fresh.length < MOST_SUPPLIED; n++)
    if (!taken.has(`supplied-${n}`)) fresh.push(signId(`supplied-${n}`))
  return fresh
}
