/** One voice of one stretch as the content of an MEI layer. */
import {
  plicaShare,
  beamGroups,
  bearsPlica,
  isBeamable,
  soundingAccidental,
  type EditorHand,
  type LayerItem,
  type ModernValue,
  type NotatedSign,
  type ScoreEvent,
  type ScoreNote,
  type ScorePitch,
  type ShownAccidental,
} from "../../../score/index.js"
import { percentOf } from "../../plica-share.js"
import { element, type XmlElement } from "../../xml.js"
import { keySignature } from "./clefs.js"
import { partId, plicaId } from "./ids.js"

/** What the layer of a voice needs beside its items. */
export interface VoiceContext {
  readonly verses: ReadonlyMap<ScoreNote, readonly XmlElement[]>
  /** Where notes without a pitch are put: the middle line. */
  readonly middle: ScorePitch
  /** Id for silence that stands for no sign. */
  readonly silence: () => string
  readonly inTuplet?: boolean
  /** A plica without a known share of the time is a small note with a stroke through its stem, or under a slur. */
  readonly slashedPlicas: boolean
  /** What an editor supplied or corrected is small; else in brackets. */
  readonly smallHands: boolean
}

export function layerContent(items: readonly LayerItem[], context: VoiceContext): XmlElement[] {
  return beamGroups(items)
    .map(group => {
      if (Array.isArray(group)) return element("beam", {}, ...group.flatMap(sign => signElements(sign, context)))
      return itemElements(group as LayerItem, context)
    })
    .flat()
}

function itemElements(item: LayerItem, context: VoiceContext): XmlElement[] {
  switch (item.kind) {
    case "sign":
      return signElements(item, context)
    case "tuplet": {
      const { num, numbase, signs } = item
      const bracketed = signs.some(sign => !isBeamable(sign))
      const visible = bracketed || new Set(signs.map(sign => sign.beat)).size > 1
      return [
        element(
          "tuplet",
          {
            num,
            numbase,
            "num.format": num === 3 || num === 6 ? "count" : "ratio",
            "bracket.visible": String(visible),
            // words stand below
            "bracket.place": "above",
            "num.place": "above",
          },
          ...layerContent(signs, { ...context, inTuplet: true }),
        ),
      ]
    }
    case "continued":
      return item.values.map(space)
    case "bar-rest":
      return byHand(item.event, false, [
        element("mRest", { "xml:id": item.event.id === null ? context.silence() : partId(item.event.id, item.part) }),
      ])
    case "line":
      return [element("barLine", { form: "single" })]
    case "meter":
      return [element("meterSig", { count: item.meter.count, unit: item.meter.unit })]
    case "signature":
      return [keySignature(item.accidentals)]
  }
}

function signElements(sign: NotatedSign, context: VoiceContext): XmlElement[] {
  const { event, part, value } = sign
  const id = event.id === null ? context.silence() : partId(event.id, part)
  const dots = value.dots === 0 ? undefined : value.dots
  const small = event.hand !== undefined && context.smallHands
  if (event.kind === "rest")
    return byHand(event, small, [
      element("rest", { "xml:id": id, dur: value.dur, dots, ...(small && { cue: "true" }) }),
    ])
  const [share, ...rest] = sign.share ?? []
  const within = share && { "dur.ges": share.dur, "dots.ges": share.dots }
  const type = showsDotOf(event.dotHand, sign) ? DOT_IN_BRACKETS : undefined
  const attributes = { "xml:id": id, type, dur: value.dur, dots, ...within, tie: tieOf(sign) }
  const note = noteElement(event, sign, attributes, context)
  const sung = [note, ...(bearsPlica(sign) ? [plicaElement(event, context)] : [])]
  return [...byHand(event, small, sung), ...rest.map(space)]
}

/** What an editor supplied or put in place of what the source has; where it is to stand in brackets, its type says so. */
function byHand({ hand }: ScoreEvent, small: boolean, content: XmlElement[]): XmlElement[] {
  return hand ? [element(hand, { type: small ? undefined : IN_BRACKETS }, ...content)] : content
}
/** The engraver draws none around notes, so they are set when its drawing is read. */
export const IN_BRACKETS = "brackets"

/** A dot by itself is no element that the engraver knows: the type of its note tells of it. */
export const DOT_IN_BRACKETS = "dot-in-brackets"

/** Where a note is parted and tied, none of its dots is the one of the page; in brackets itself, its dot is within them. */
function showsDotOf(hand: EditorHand | undefined, { event, part, last, value }: NotatedSign): boolean {
  return hand !== undefined && event.hand === undefined && part === 0 && last && value.dots > 0
}

/** Time that a note written whole, before, goes on through. */
function space({ dur, dots }: ModernValue): XmlElement {
  return element("space", { dur, dots: dots === 0 ? undefined : dots })
}

function noteElement(
  event: ScoreNote,
  sign: NotatedSign,
  attributes: Record<string, string | number | undefined>,
  context: VoiceContext,
): XmlElement {
  const pitch = event.pitch ?? context.middle
  const shape = event.pitch ? {} : { "head.shape": "x" }
  const accidental = event.pitch ? accidentalElement(event, sign.accidental) : undefined
  const verses = sign.part === 0 ? (context.verses.get(event) ?? []) : []
  const isSmall = event.plicaOf !== undefined || (event.hand !== undefined && context.smallHands)
  const size = isSmall ? { cue: "true" } : {}
  const place = { pname: pitch.step, oct: pitch.octave, ...shape, ...size }
  return element("note", { ...attributes, ...place }, accidental, ...verses)
}

function tieOf(sign: NotatedSign): string | undefined {
  if (sign.part === 0) return sign.last ? undefined : "i"
  return sign.last ? "t" : "m"
}

function accidentalElement(note: ScoreNote, shown: ShownAccidental | undefined): XmlElement | undefined {
  const sounding = gestural(soundingAccidental(note))
  if (!shown) return sounding === "n" ? undefined : element("accid", { "accid.ges": sounding })
  const accid = shown.accidental
  switch (shown.kind) {
    case "written":
      return element("accid", { accid, "accid.ges": sounding })
    case "editor":
      return element("accid", { accid, "accid.ges": sounding, func: "edit", place: "above" })
    case "reminder":
    case "caution":
      return element("accid", { accid, "accid.ges": sounding, func: "caution", enclose: "paren" })
  }
}

/** MEI's names for what sounds leave out how it is drawn. */
function gestural(accidental: string): string {
  return ({ x: "ss", nf: "f", ns: "s", xs: "ts", sx: "ts" } as Record<string, string>)[accidental] ?? accidental
}

/**
 * A small note after the main one, to which it is attached: its share of the time stands as a percentage where it is known, and
 * engravers take none for it from the notes around it. Inside a tuplet the engraver leaves a group of small notes out, so there it stands alone.
 */
function plicaElement(note: ScoreNote, context: VoiceContext): XmlElement {
  const pitch = note.plica?.pitch ?? note.pitch ?? context.middle
  const sounding = gestural(pitch.accidental || "n")
  const accid = sounding === "n" ? undefined : element("accid", { "accid.ges": sounding })
  const slash = context.slashedPlicas ? { "stem.mod": "1slash" } : {}
  const share = plicaShare(note)
  const stolen = share ? { "grace.time": `${percentOf(share, note.duration)}%` } : {}
  const place = { pname: pitch.step, oct: pitch.octave }
  const attributes = { "xml:id": plicaId(note.id), dur: 8, ...slash, ...place, ...stolen }
  const grace = context.slashedPlicas ? "unacc" : "unknown"
  const small = element("note", { ...attributes, grace }, accid)
  return context.inTuplet ? small : element("graceGrp", { attach: "pre", grace }, small)
}
