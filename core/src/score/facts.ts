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
import type { EditorHand, ScoreBracket, ScoreEvent, ScoreNote } from "./types.js"

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
  /** Of notes and rests that an editor supplied or put in place of others, by themselves or in their ligature. */
  readonly hands: ReadonlyMap<SignId, EditorHand>
  /** Of dots, by the note before them. */
  readonly dotHands: ReadonlyMap<SignId, { readonly dot: SignId; readonly hand: EditorHand }>
  readonly ligatures: readonly ScoreBracket[]
  /** In the order of the page. */
  readonly lengthless: readonly Waiting[]
}

export function factsOf(voice: Voice | undefined): VoiceFacts {
  const notes = new Map<SignId, Note>()
  const rests = new Map<SignId, Rest>()
  const hands = new Map<SignId, EditorHand>()
  const dotHands = new Map<SignId, { dot: SignId; hand: EditorHand }>()
  let dotted: SignId | undefined
  const ligatures: ScoreBracket[] = []
  const waiting: Lengthless[] = []
  const lengthless: Waiting[] = []
  const reach = (before: SignId | undefined) => {
    for (const sign of waiting.splice(0)) lengthless.push({ before, sign })
  }
  const take = (sign: Sign, outer?: EditorHand) => {
    const hand = editorHand(sign) ?? outer
    if (sign.kind === "note" || sign.kind === "rest") {
      reach(sign.id)
      if (hand) hands.set(sign.id, hand)
    }
    if (sign.kind === "dot" && hand && dotted !== undefined) dotHands.set(dotted, { dot: sign.id, hand })
    if (sign.kind !== "ligature") dotted = sign.kind === "note" ? sign.id : undefined
    if (sign.kind === "note") notes.set(sign.id, sign)
    else if (sign.kind === "rest") rests.set(sign.id, sign)
    else if (isLengthless(sign)) waiting.push(sign)
    else if (sign.kind === "ligature") {
      sign.members.forEach(member => take(member, hand))
      const inside = sign.members.filter(member => member.kind === "note")
      if (inside.length > 1) ligatures.push({ kind: "ligature", from: inside[0]!.id, to: inside.at(-1)!.id })
    }
  }
  voice?.signs.forEach(sign => take(sign))
  reach(undefined)
  return { notes, rests, hands, dotHands, ligatures, lengthless }
}

/** What another hand added in the source itself, or what is only hard to read there, is no editor's. */
export function editorHand({ editorial }: Sign): EditorHand | undefined {
  return editorial?.kind === "supplied" || editorial?.kind === "corr" ? editorial.kind : undefined
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
