/** What the page says of a voice's signs, found by id. */
import type { SignId } from "../base/index.js"
import type { Mark, Note, Rest, Sign, Signature, Voice } from "../page/index.js"
import type { ScoreBracket, ScoreEvent, ScoreNote } from "./types.js"

export interface VoiceFacts {
  readonly notes: ReadonlyMap<SignId, Note>
  readonly rests: ReadonlyMap<SignId, Rest>
  readonly ligatures: readonly ScoreBracket[]
  /** Each signature with the first note or rest that follows it; undefined after the last. */
  readonly signatures: readonly { readonly before: SignId | undefined; readonly signature: Signature }[]
  /** The same of marks without length. */
  readonly marks: readonly { readonly before: SignId | undefined; readonly mark: Mark }[]
}

export function factsOf(voice: Voice | undefined): VoiceFacts {
  const notes = new Map<SignId, Note>()
  const rests = new Map<SignId, Rest>()
  const ligatures: ScoreBracket[] = []
  const waiting: (Signature | Mark)[] = []
  const signatures: { before: SignId | undefined; signature: Signature }[] = []
  const marks: { before: SignId | undefined; mark: Mark }[] = []
  const reach = (before: SignId | undefined) => {
    for (const sign of waiting.splice(0))
      if (sign.kind === "mark") marks.push({ before, mark: sign })
      else signatures.push({ before, signature: sign })
  }
  const take = (sign: Sign) => {
    if (sign.kind === "note" || sign.kind === "rest") reach(sign.id)
    if (sign.kind === "note") notes.set(sign.id, sign)
    else if (sign.kind === "rest") rests.set(sign.id, sign)
    else if (sign.kind === "signature" || sign.kind === "mark") waiting.push(sign)
    else if (sign.kind === "ligature") {
      sign.members.forEach(take)
      const inside = sign.members.filter(member => member.kind === "note")
      if (inside.length > 1) ligatures.push({ kind: "ligature", from: inside[0]!.id, to: inside.at(-1)!.id })
    }
  }
  voice?.signs.forEach(take)
  reach(undefined)
  return { notes, rests, ligatures, signatures, marks }
}

/** Runs of coloured notes; rests, which have no colour of their own, do not part them. */
export function colorationBrackets(events: readonly ScoreEvent[]): ScoreBracket[] {
  const brackets: ScoreBracket[] = []
  let from: ScoreNote | undefined
  let to: ScoreNote | undefined
  const close = () => {
    if (from && to) brackets.push({ kind: "coloration", from: from.id, to: to.id })
    from = to = undefined
  }
  for (const event of events) {
    if (event.kind === "rest") continue
    if (event.coloration === "none" || (to && event.coloration !== to.coloration)) close()
    if (event.coloration === "none") continue
    from ??= event
    to = event
  }
  close()
  return brackets
}
