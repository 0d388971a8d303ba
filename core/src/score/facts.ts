/** What the page says of a voice's signs, found by id. */
import type { SignId } from "../base/index.js"
import type { Note, Rest, Sign, Signature, Voice } from "../page/index.js"
import type { ScoreBracket, ScoreEvent, ScoreNote } from "./types.js"

export interface VoiceFacts {
  readonly notes: ReadonlyMap<SignId, Note>
  readonly rests: ReadonlyMap<SignId, Rest>
  readonly ligatures: readonly ScoreBracket[]
  /** Each signature with the first note or rest that follows it; undefined after the last. */
  readonly signatures: readonly { readonly before: SignId | undefined; readonly signature: Signature }[]
}

export function factsOf(voice: Voice | undefined): VoiceFacts {
  const notes = new Map<SignId, Note>()
  const rests = new Map<SignId, Rest>()
  const ligatures: ScoreBracket[] = []
  const waiting: Signature[] = []
  const signatures: { before: SignId | undefined; signature: Signature }[] = []
  const reach = (before: SignId | undefined) => {
    for (const signature of waiting.splice(0)) signatures.push({ before, signature })
  }
  const take = (sign: Sign) => {
    if (sign.kind === "note" || sign.kind === "rest") reach(sign.id)
    if (sign.kind === "note") notes.set(sign.id, sign)
    else if (sign.kind === "rest") rests.set(sign.id, sign)
    else if (sign.kind === "signature") waiting.push(sign)
    else if (sign.kind === "ligature") {
      sign.members.forEach(take)
      const inside = sign.members.filter(member => member.kind === "note")
      if (inside.length > 1) ligatures.push({ kind: "ligature", from: inside[0]!.id, to: inside.at(-1)!.id })
    }
  }
  voice?.signs.forEach(take)
  reach(undefined)
  return { notes, rests, ligatures, signatures }
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
