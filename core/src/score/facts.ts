/** What the page says of a voice's signs, found by id. */
import type { SignId } from "../base/index.js"
import type {
  Break,
  Mark,
  MensurationSign,
  Note,
  Proportion,
  Rest,
  Sign,
  Signature,
  Stroke,
  Voice,
} from "../page/index.js"
import type { ScoreBracket, ScoreEvent, ScoreNote } from "./types.js"

/** Signs of the page that last nothing. */
export type Lengthless = Signature | Mark | MensurationSign | Proportion | Break | Stroke

const LENGTHLESS: ReadonlySet<Sign["kind"]> = new Set([
  "signature",
  "mark",
  "mensuration",
  "proportion",
  "break",
  "stroke",
])
const isLengthless = (sign: Sign): sign is Lengthless => LENGTHLESS.has(sign.kind)

/** One of them with the first note or rest that follows it; undefined after the last. */
export interface Waiting {
  readonly before: SignId | undefined
  readonly sign: Lengthless
}

export interface VoiceFacts {
  readonly notes: ReadonlyMap<SignId, Note>
  readonly rests: ReadonlyMap<SignId, Rest>
  readonly ligatures: readonly ScoreBracket[]
  /** In the order of the page. */
  readonly lengthless: readonly Waiting[]
}

export function factsOf(voice: Voice | undefined): VoiceFacts {
  const notes = new Map<SignId, Note>()
  const rests = new Map<SignId, Rest>()
  const ligatures: ScoreBracket[] = []
  const waiting: Lengthless[] = []
  const lengthless: Waiting[] = []
  const reach = (before: SignId | undefined) => {
    for (const sign of waiting.splice(0)) lengthless.push({ before, sign })
  }
  const take = (sign: Sign) => {
    if (sign.kind === "note" || sign.kind === "rest") reach(sign.id)
    if (sign.kind === "note") notes.set(sign.id, sign)
    else if (sign.kind === "rest") rests.set(sign.id, sign)
    else if (isLengthless(sign)) waiting.push(sign)
    else if (sign.kind === "ligature") {
      sign.members.forEach(take)
      const inside = sign.members.filter(member => member.kind === "note")
      if (inside.length > 1) ligatures.push({ kind: "ligature", from: inside[0]!.id, to: inside.at(-1)!.id })
    }
  }
  voice?.signs.forEach(take)
  reach(undefined)
  return { notes, rests, ligatures, lengthless }
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
