/** Notes and rests of one voice as MusicXML elements, in the order that its schema asks for. */
import type { EditionConventions } from "../../edition/index.js"
import {
  plicaShare,
  bearsPlica,
  type NotatedSign,
  type NotatedTuplet,
  type ScoreEvent,
  type ScoreNote,
  type ScorePitch,
  type ShownAccidental,
} from "../../score/index.js"
import { percentOf } from "../plica-share.js"
import { element, type XmlElement } from "../xml.js"
import type { Divisions } from "./divisions.js"
import type { FileIds } from "./ids.js"
import { accidentalName, semitones, typeName } from "./names.js"

/** What the notes of a voice need beside themselves. */
export interface NoteContext {
  readonly voice: number
  readonly ids: FileIds
  readonly divisions: Divisions
  readonly lyrics: ReadonlyMap<ScoreNote, readonly XmlElement[]>
  readonly conventions: Pick<EditionConventions, "plicas" | "supplied">
  /** Notes after which a plica is a note by itself. */
  readonly bearers: ReadonlySet<string>
  /** Where notes without a pitch are put: the middle line. */
  readonly middle: Pick<ScorePitch, "step" | "octave">
}

/** Where in its tuplet and under which beams a sign stands. */
export interface Grouping {
  readonly tuplet?: NotatedTuplet
  readonly beams?: readonly XmlElement[]
}

/** The note or rest, and after a note with a plica the small slashed note that it becomes. */
export function signElements(sign: NotatedSign, grouping: Grouping, context: NoteContext): XmlElement[] {
  const { event } = sign
  const note = element(
    "note",
    event.id === null ? {} : { id: context.ids.sign(context.voice, event.id, sign.part) },
    event.kind === "rest" ? element("rest") : pitchElement(event.pitch, context),
    element("duration", {}, lastingIn(sign, context.divisions)),
    ...(event.kind === "note" ? ties(sign, "tie") : []),
    levelElement(event, context),
    element("voice", {}, "1"),
    ...valueElements(sign, grouping.tuplet, context),
    ...(grouping.beams ?? []),
    notations(sign, grouping.tuplet, context),
    ...(event.kind === "note" && sign.part === 0 ? (context.lyrics.get(event) ?? []) : []),
  )
  return event.kind === "note" && bearsPlica(sign) ? [note, plicaElement(event, context)] : [note]
}

/** What an editor supplied or corrected, in words and as it is to be shown. */
function levelElement({ hand }: ScoreEvent, { conventions }: Pick<NoteContext, "conventions">): XmlElement | undefined {
  if (!hand) return undefined
  const how = conventions.supplied === "small" ? { size: "cue" } : { bracket: "yes" }
  return element("level", how, hand === "supplied" ? "supplied" : "corrected")
}

/** A rest through the whole stretch. */
export function barRest(
  id: string | undefined,
  duration: number,
  event: ScoreEvent,
  context: Pick<NoteContext, "conventions">,
): XmlElement {
  return element(
    "note",
    { id },
    element("rest", { measure: "yes" }),
    element("duration", {}, String(duration)),
    levelElement(event, context),
    element("voice", {}, "1"),
    event.fermata ? element("notations", {}, element("fermata", { type: "upright" })) : undefined,
  )
}

function lastingIn({ start, end }: NotatedSign, divisions: Divisions): string {
  return String(Math.max(1, divisions.at(end) - divisions.at(start)))
}

/** MusicXML has octaves 0 to 9. */
export function isWritable(pitch: ScorePitch | null): pitch is ScorePitch {
  return pitch !== null && pitch.octave >= 0 && pitch.octave <= 9
}

function pitchElement(pitch: ScorePitch | null, { middle }: NoteContext): XmlElement {
  if (!isWritable(pitch)) {
    const step = element("display-step", {}, middle.step.toUpperCase())
    return element("unpitched", {}, step, element("display-octave", {}, String(middle.octave)))
  }
  const alter = semitones(pitch.accidental)
  return element(
    "pitch",
    {},
    element("step", {}, pitch.step.toUpperCase()),
    alter === 0 ? undefined : element("alter", {}, String(alter)),
    element("octave", {}, String(pitch.octave)),
  )
}

/** Stop before start: a part in the middle has both. */
function ties({ part, last }: NotatedSign, name: "tie" | "tied"): XmlElement[] {
  const stop = part > 0 ? [element(name, { type: "stop" })] : []
  return last ? stop : [...stop, element(name, { type: "start" })]
}

function valueElements(
  sign: NotatedSign,
  tuplet: NotatedTuplet | undefined,
  { conventions }: NoteContext,
): (XmlElement | undefined)[] {
  const { event, value, accidental } = sign
  const type = typeName(value.dur)
  const isPlica = event.kind === "note" && event.plicaOf !== undefined
  const small = isPlica || (event.hand !== undefined && conventions.supplied === "small")
  return [
    type ? element("type", small ? { size: "cue" } : {}, type) : undefined,
    ...Array.from({ length: value.dots }, () => element("dot")),
    event.kind === "note" && isWritable(event.pitch) && accidental ? accidentalElement(accidental) : undefined,
    tuplet
      ? element(
          "time-modification",
          {},
          element("actual-notes", {}, String(tuplet.num)),
          element("normal-notes", {}, String(tuplet.numbase)),
        )
      : undefined,
    event.kind === "note" ? headElement(event, conventions) : undefined,
  ]
}

/** Heads know parentheses only; the level says that they are square. */
function headElement({ pitch, hand }: ScoreNote, { supplied }: NoteContext["conventions"]): XmlElement | undefined {
  const parentheses = hand && supplied === "brackets" ? { parentheses: "yes" } : {}
  if (!isWritable(pitch)) return element("notehead", parentheses, "x")
  return hand && supplied === "brackets" ? element("notehead", parentheses, "normal") : undefined
}

const IN_PARENTHESES = { cautionary: "yes", parentheses: "yes" }

/** An editor's is small; one that only reminds stands in parentheses. */
function accidentalElement({ accidental, kind }: ShownAccidental): XmlElement | undefined {
  const name = accidentalName(accidental)
  if (name === undefined) return undefined
  const how = {
    written: {},
    editor: { editorial: "yes", size: "cue" },
    reminder: IN_PARENTHESES,
    caution: IN_PARENTHESES,
  }[kind]
  return element("accidental", how, name)
}

function notations(sign: NotatedSign, tuplet: NotatedTuplet | undefined, context: NoteContext): XmlElement | undefined {
  const { event } = sign
  const held = event.fermata || (event.kind === "note" && event.held)
  const all = [
    ...(event.kind === "note" ? ties(sign, "tied") : []),
    ...plicaSlur(sign, context),
    ...(tuplet ? tupletEnds(sign, tuplet) : []),
    ...(held && sign.last ? [element("fermata", { type: "upright" })] : []),
  ]
  return all.length > 0 ? element("notations", {}, ...all) : undefined
}

/** From the note that bears a plica to the small one after it. */
function plicaSlur(sign: NotatedSign, { conventions, bearers }: NoteContext): XmlElement[] {
  const { event, part, last } = sign
  if (event.kind !== "note" || conventions.plicas !== "dotted-slur") return []
  const bears = last && (bearsPlica(sign) || bearers.has(event.id))
  return [
    ...(event.plicaOf !== undefined && part === 0 ? [SLUR_END] : []),
    ...(bears ? [element("slur", { type: "start", number: 1, "line-type": "dotted" })] : []),
  ]
}
const SLUR_END = element("slur", { type: "stop", number: 1 })

function tupletEnds(sign: NotatedSign, { num, signs }: NotatedTuplet): XmlElement[] {
  const isUsual = num === 3 || num === 6
  const numbers = isUsual ? "actual" : "both"
  const shown = { bracket: needsBracket(signs) ? "yes" : "no", placement: "above", "show-number": numbers }
  return [
    ...(sign === signs[0] ? [element("tuplet", { type: "start", number: 1, ...shown })] : []),
    ...(sign === signs.at(-1) ? [element("tuplet", { type: "stop", number: 1 })] : []),
  ]
}

/** None where one beam holds the whole tuplet together. */
function needsBracket(signs: readonly NotatedSign[]): boolean {
  const beamed = signs.every(({ event, value }) => event.kind === "note" && Number(value.dur) >= 8)
  return !beamed || new Set(signs.map(sign => sign.beat)).size > 1
}

/** It takes its share of the time, where that is known, from the note before it. */
function plicaElement(note: ScoreNote, context: NoteContext): XmlElement {
  const share = plicaShare(note)
  const slurred = context.conventions.plicas === "dotted-slur"
  const percent = share ? percentOf(share, note.duration) : undefined
  return element(
    "note",
    { id: context.ids.plica(context.voice, note.id) },
    element("grace", {
      slash: slurred ? "no" : "yes",
      "steal-time-previous": percent,
    }),
    pitchElement(note.plica?.pitch ?? note.pitch, context),
    element("voice", {}, "1"),
    element("type", {}, "eighth"),
    slurred ? element("notations", {}, SLUR_END) : undefined,
  )
}

/** MusicXML's beams of a group: one run for each level of flags, hooks where a note stands alone on its level. */
export function beamsOf(group: readonly NotatedSign[]): Map<NotatedSign, XmlElement[]> {
  const levels = group.map(({ value }) => Math.min(8, Math.log2(Number(value.dur)) - 2))
  return new Map(
    group.map((sign, i) => {
      const before = levels[i - 1] ?? 0
      const after = levels[i + 1] ?? 0
      const beams = Array.from({ length: levels[i]! }, (_, level) => {
        const kind = beamKind(before > level, after > level, i > 0)
        return element("beam", { number: level + 1 }, kind)
      })
      return [sign, beams]
    }),
  )
}

function beamKind(before: boolean, after: boolean, canLookBack: boolean): string {
  if (before && after) return "continue"
  if (before) return "end"
  if (after) return "begin"
  return canLookBack ? "backward hook" : "forward hook"
}
