/** The same page with the ids that signs have when none is written; alternatives point to what they pointed to. */
import { signId, type SignId } from "../../../base/index.js"
import type { Page } from "../../page.js"
import type { Sign } from "../../signs.js"

export function withPlainIds(page: Page): Page {
  const renamed = new Map<SignId, SignId>()
  const named = (signs: readonly Sign[], prefix: string): Sign[] => {
    let running = 0
    const name = (old: SignId) => {
      const id = signId(`${prefix}.${++running}`)
      renamed.set(old, id)
      return id
    }
    return signs.map(sign => {
      const id = name(sign.id)
      if (sign.kind !== "ligature") return { ...sign, id }
      return { ...sign, id, members: sign.members.map(member => ({ ...member, id: name(member.id) })) }
    })
  }
  const voices = page.voices.map(voice => ({ ...voice, signs: named(voice.signs, voice.n) }))
  const alternatives = page.alternatives.map((one, index) => {
    const n = page.voices.find(({ id }) => id === one.voice)?.n ?? ""
    const insteadOf = one.insteadOf.map(id => renamed.get(id) ?? id)
    return { ...one, id: `${n}.alternative.${index + 1}`, insteadOf, signs: named(one.signs, `${n}.${index + 1}`) }
  })
  return { ...page, voices, alternatives }
}
