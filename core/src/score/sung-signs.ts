/** The signs of one sounding voice, as they would be written out for it. */
import type { SignId } from "../base/index.js"
import type { Ligature, Note, Pitch, Sign, Signature, Voice } from "../page/index.js"
import { underSign, type SungStatement, type SungVoice } from "../reading/index.js"
import type { Naming } from "./sounding.js"
import { idsOf, type SungReading } from "./sung-reading.js"
import { transposer, type Transposer } from "./transpose.js"

/** Beside notes and rests a voice that is sung from another's part, or again, has only what bears on them. */
export const SUNG_AGAIN: ReadonlySet<Sign["kind"]> = new Set<Sign["kind"]>([
  "note",
  "rest",
  "dot",
  "ligature",
  "mensuration",
  "proportion",
  "accidental",
  "stroke",
])

/** Of the voice of this number, from 0: its signs, statement after statement. */
export function sungSigns(
  voice: Voice,
  sung: SungVoice,
  { statements }: SungReading,
  naming: readonly Naming[],
  number: number,
): Sign[] {
  const transposers = transposersOf(voice, sung)
  return sung.statements.flatMap((statement, at) => {
    const place = { name: naming[at]!, at, isFirst: at === 0 && number === 0 }
    return statementSigns(voice, transposers[at]!, statement, idsOf(statements[at]!), place)
  })
}

const writtenFor = (voice: Voice, { sign }: SungStatement): Voice => (sign ? underSign(voice, sign) : voice)

/** Where pitches go, by statement. */
export function transposersOf(voice: Voice, sung: SungVoice): Transposer[] {
  return sung.statements.map(statement => {
    const { signs } = writtenFor(voice, statement)
    return transposer(sung, signatureOf(signs), statement.inverted ? firstPitch(signs) : undefined)
  })
}

interface Place {
  readonly name: Naming
  readonly at: number
  /** The part itself: what else stands on the page is kept with it. */
  readonly isFirst: boolean
}

function statementSigns(
  voice: Voice,
  to: Transposer,
  statement: SungStatement,
  ids: ReadonlySet<SignId>,
  { name, at, isFirst }: Place,
): Sign[] {
  const { signs } = writtenFor(voice, statement)
  // what the head of the part says holds on when it is sung again
  const start = at > 0 && !statement.sign ? Math.max(0, signs.findIndex(isFigure)) : 0
  const kept = signs.slice(start).flatMap((sign): Sign[] => {
    if (isFirst && sign.kind === "mark") return [sign]
    if (sign.kind === "signature") return at === 0 ? [signatureAt(sign, to, name)] : []
    if (sign.kind === "clef" || (isFirst && !SUNG_AGAIN.has(sign.kind)))
      return at === 0 ? [{ ...sign, id: name(sign.id) }] : []
    return SUNG_AGAIN.has(sign.kind) ? (signAt(sign, to, name, ids) ?? []) : []
  })
  const signed = at === 0 ? withSignature(kept, to, voice, name) : kept
  return statement.backwards ? reversed(signed) : signed
}

const signatureOf = (signs: readonly Sign[]): Signature["accidentals"] =>
  signs.find(sign => sign.kind === "signature")?.accidentals ?? []

function firstPitch(signs: readonly Sign[]): Pitch | undefined {
  for (const sign of signs) {
    const pitch = sign.kind === "note" ? sign.pitch : sign.kind === "ligature" ? firstPitch(sign.members) : undefined
    if (pitch) return pitch
  }
  return undefined
}

const signatureAt = (sign: Signature, to: Transposer, name: Naming): Signature => ({
  ...sign,
  id: name(sign.id),
  accidentals: to.signature(sign.accidentals),
})

/** A part without a signature may need one at another pitch. */
function withSignature(signs: Sign[], to: Transposer, voice: Voice, name: Naming): Sign[] {
  if (signs.some(sign => sign.kind === "signature")) return signs
  const accidentals = to.signature([])
  if (accidentals.length === 0) return signs
  return [{ kind: "signature", id: name(`${voice.id}.signature` as SignId), accidentals, initial: true }, ...signs]
}

/** Undefined for a note or rest that is not sung. */
function signAt(sign: Sign, to: Transposer, name: Naming, ids: ReadonlySet<SignId>): Sign[] | undefined {
  if (sign.kind === "ligature") {
    const members = sign.members.flatMap(member => (signAt(member, to, name, ids) ?? []) as Ligature["members"])
    return members.length > 0 ? [{ ...sign, id: name(sign.id), members }] : undefined
  }
  if ((sign.kind === "note" || sign.kind === "rest") && !ids.has(sign.id)) return undefined
  if (sign.kind === "note") return [noteAt(sign, to, name)]
  return [{ ...sign, id: name(sign.id) }]
}

function noteAt(note: Note, to: Transposer, name: Naming): Note {
  const { pitch, accidental, accidentalInForce: _, ...rest } = note
  if (!to.moves || !pitch) return { ...note, id: name(note.id) }
  const { step, octave } = to.pitch({ ...pitch, accidental: "" })
  return {
    ...rest,
    id: name(note.id),
    pitch: { step, octave },
    ...(accidental !== undefined && { accidental: to.written(pitch, accidental) }),
  }
}

/** What stands at the head stays there; the rest comes from the last to the first, signs of mensuration aside. */
function reversed(signs: readonly Sign[]): Sign[] {
  const first = signs.findIndex(({ kind }) => kind === "note" || kind === "rest" || kind === "ligature")
  const head = signs.slice(0, Math.max(0, first))
  const rest = signs.slice(Math.max(0, first)).filter(isFigure)
  return [
    ...head,
    ...rest.reverse().map((sign): Sign => {
      if (sign.kind === "ligature") return { ...sign, members: sign.members.filter(isFigure).reverse().map(untexted) }
      return untexted(sign)
    }),
  ]
}

function isFigure<T extends Sign>(sign: T): sign is Extract<T, { kind: "note" | "rest" | "ligature" }> {
  return sign.kind === "note" || sign.kind === "rest" || sign.kind === "ligature"
}

/** Words cannot be sung backwards. */
const untexted = <T extends Sign>(sign: T): T => (sign.kind === "note" ? { ...sign, syllables: [] } : sign)
