/** A voice as it stands under another sign of mensuration than its own. */
import { signId } from "../base/index.js"
import type { CanonSign, MensurationSign, Sign, Voice } from "../page/index.js"

/** The voice with this sign in place of those drawn at its head, and without a canon. */
export function underSign(voice: Voice, sign: CanonSign): Voice {
  const first = voice.signs.findIndex(({ kind }) => kind === "note" || kind === "rest" || kind === "ligature")
  const end = first < 0 ? voice.signs.length : first
  const isHead = (one: Sign): boolean => one.kind === "mensuration" && one.sign !== undefined
  const head = voice.signs.slice(0, end)
  const old = head.find(isHead)
  const put: MensurationSign = { kind: "mensuration", id: old?.id ?? signId(`${voice.id}.sign`), ...sign }
  const rest = [...head.filter(one => !isHead(one)), put, ...voice.signs.slice(end)]
  return { ...voice, signs: rest.filter(one => one.kind !== "mark" || one.of !== "canon") }
}
