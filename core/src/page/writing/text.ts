/** The text in which a page is typed: what stands on it, without ids and without what is not typed. */
import { signId, voiceId, type SignId } from "../../base/index.js"
import type { Page, Voice } from "../page.js"
import { printShorthand } from "../shorthand/index.js"
import { IdCounter } from "../shorthand/ids.js"
import type { Sign } from "../signs.js"

/**
 * The shorthand of title, years, shapes, voices and signs. Ids are left out, so are photographs, other readings, people and decisions:
 * `changeTo(page, parsed)` leaves them as they are.
 */
export function writingText(page: Page): string {
  const { title, years, shapes, voices } = page
  const taken = new Set<string>()
  return printShorthand({
    title,
    ...(years && { years }),
    shapes,
    voices: voices.map(voice => withoutIds(voice, taken)),
    surfaces: [],
    zones: [],
    alternatives: [],
  })
}

/** With the ids that signs have which are written without one. */
function withoutIds(voice: Voice, taken: Set<string>): Voice {
  const ids = new IdCounter(voice.n, taken)
  const next = (): SignId => {
    const id = ids.expected()
    ids.use(id)
    return signId(id)
  }
  return { ...voice, id: voiceId(voice.n), signs: voice.signs.map(sign => plain(sign, next)) }
}

function plain(sign: Sign, next: () => SignId): Sign {
  const { zone: _, extra: __, ...typed } = sign
  const named = { ...typed, id: next() } as Sign
  return named.kind === "ligature"
    ? { ...named, members: named.members.map(member => plain(member, next) as typeof member) }
    : named
}
