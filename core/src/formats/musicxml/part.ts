/** One voice as a MusicXML part. */
import { compare, times, ZERO, type Rational } from "../../base/index.js"
import { barsFor, clefFor, pitchAt, type EditionConventions } from "../../edition/index.js"
import {
  beamGroups,
  meterChanges,
  type LayerItem,
  type Meter,
  type NotatedBlock,
  type NotatedScore,
  type NotatedSign,
  type NotatedTuplet,
  type Repeats,
  type ScoreMark,
  type ScoreVoice,
} from "../../score/index.js"
import { element, type XmlElement } from "../xml.js"
import { leftLine, rightLine } from "./bar-lines.js"
import { bracketEnds, markElement, sourceDirections, tempoElement, type BracketEnds } from "./directions.js"
import type { Divisions } from "./divisions.js"
import type { FileIds } from "./ids.js"
import { lyricsOf } from "./lyrics.js"
import { keyElement } from "./names.js"
import { barRest, beamsOf, signElements, type NoteContext } from "./notes.js"

/** What all parts share. */
export interface FileContext {
  readonly notated: NotatedScore
  readonly conventions: EditionConventions
  readonly ids: FileIds
  readonly divisions: Divisions
  readonly repeats: Repeats
  /** Quarter notes a minute. */
  readonly speed: Rational
}

interface PartContext extends NoteContext {
  readonly file: FileContext
  readonly brackets: BracketEnds
  /** Those not yet written, in whole notes from the beginning. */
  readonly marks: { readonly at: Rational; readonly mark: ScoreMark }[]
  /** What the page has before each note or rest. */
  readonly source: ReadonlyMap<string, readonly XmlElement[]>
  /** Speeds not yet written; only the uppermost part has them. */
  readonly tempi: { readonly at: Rational; readonly meter: Meter | null }[]
}

/** The measures of the part, one for each stretch that the voices share; one empty measure where there is no music. */
export function measuresOf(file: FileContext, voice: number): XmlElement[] {
  const own = file.notated.score.voices[voice]!
  const context = contextOf(file, own, voice)
  const { blocks } = file.notated
  if (blocks.length === 0) return [element("measure", { number: 1 }, opening(context, own))]
  return blocks.map((block, i) => {
    const layer = block.layers[voice]!
    const ownLine = !block.shared && layer.at(-1)?.kind === "line"
    const items = ownLine ? layer.slice(0, -1) : layer
    return element(
      "measure",
      { number: block.n },
      leftLine(block, file.repeats),
      i === 0 ? opening(context, own) : undefined,
      ...itemElements(items, block, context),
      ...(i === blocks.length - 1 ? dueMarks(undefined, context) : []),
      rightLine(block, i === blocks.length - 1, { ownLine, tick: hasTicks(context) }, file.repeats),
    )
  })
}

function hasTicks({ file }: PartContext): boolean {
  return barsFor(file.conventions, file.notated.score) === "ticks"
}

function contextOf(file: FileContext, own: ScoreVoice, voice: number): PartContext {
  const { notated } = file
  const first = notated.meters[0] ? [] : [{ at: ZERO, meter: null }]
  return {
    file,
    voice,
    ids: file.ids,
    divisions: file.divisions,
    lyrics: lyricsOf(own),
    middle: pitchAt(clefFor(own, file.conventions.clefs).middle),
    conventions: file.conventions,
    bearers: new Set(own.events.flatMap(event => (event.kind === "note" && event.plicaOf) || [])),
    brackets: bracketEnds(own),
    marks: own.marks.map(mark => ({ at: times(mark.onset, notated.wholesPerUnit), mark })),
    source: sourceDirections(own, file.conventions),
    tempi: voice === 0 ? [...first, ...meterChanges(notated, 0)] : [],
  }
}

/** Divisions, signature, meter and clef at the beginning. */
function opening({ file, voice }: PartContext, own: ScoreVoice): XmlElement {
  const signature = own.signatures.findLast(({ onset }) => onset.num === 0)
  const meter = file.notated.meters[voice]
  const { shape, line, octaveBelow } = clefFor(own, file.conventions.clefs)
  return element(
    "attributes",
    {},
    element("divisions", {}, String(file.divisions.perQuarter)),
    keyElement(signature?.accidentals ?? []),
    meter ? timeElement(meter) : element("time", { "print-object": "no" }, element("senza-misura")),
    element(
      "clef",
      {},
      element("sign", {}, shape),
      element("line", {}, String(line)),
      octaveBelow ? element("clef-octave-change", {}, "-1") : undefined,
    ),
  )
}

function timeElement({ count, unit }: Meter): XmlElement {
  return element("time", {}, element("beats", {}, String(count)), element("beat-type", {}, String(unit)))
}

function itemElements(items: readonly LayerItem[], block: NotatedBlock, context: PartContext): XmlElement[] {
  return beamGroups(items).flatMap(group => {
    if (!Array.isArray(group)) return itemElement(group as LayerItem, block, context)
    return signsUnderBeam(group, undefined, context)
  })
}

function itemElement(item: LayerItem, block: NotatedBlock, context: PartContext): XmlElement[] {
  switch (item.kind) {
    case "sign":
      return signWithDirections(item, {}, context)
    case "tuplet":
      return beamGroups(item.signs).flatMap(group =>
        Array.isArray(group)
          ? signsUnderBeam(group, item, context)
          : signWithDirections(group as NotatedSign, { tuplet: item }, context),
      )
    case "bar-rest": {
      const { event, part } = item
      const id = event.id === null ? undefined : context.ids.sign(context.voice, event.id, part)
      const duration = context.divisions.at(block.end) - context.divisions.at(block.start)
      return [...dueMarks(block.start, context), ...sourceOf(item, context), barRest(id, duration, event, context)]
    }
    case "continued":
      // notes written whole take their time with them
      return []
    case "line": {
      const style = hasTicks(context) ? "tick" : "regular"
      return [element("barline", { location: "middle" }, element("bar-style", {}, style))]
    }
    case "meter":
      return [element("attributes", {}, timeElement(item.meter))]
    case "signature":
      return [element("attributes", {}, keyElement(item.accidentals))]
  }
}

function sourceOf(
  { event, part }: Pick<NotatedSign, "event" | "part">,
  { source }: PartContext,
): readonly XmlElement[] {
  return (part === 0 && event.id !== null && source.get(event.id)) || []
}

function signsUnderBeam(
  group: readonly NotatedSign[],
  tuplet: NotatedTuplet | undefined,
  context: PartContext,
): XmlElement[] {
  const beams = group.length > 1 ? beamsOf(group) : undefined
  return group.flatMap(sign => signWithDirections(sign, { tuplet, beams: beams?.get(sign) }, context))
}

function signWithDirections(
  sign: NotatedSign,
  grouping: Parameters<typeof signElements>[1],
  context: PartContext,
): XmlElement[] {
  return [
    ...dueMarks(sign.start, context),
    ...sourceOf(sign, context),
    ...context.brackets.before(sign),
    ...signElements(sign, grouping, context),
    ...context.brackets.after(sign),
  ]
}

/** Marks and speeds that stand at or before a time, or at the end; each is given once. */
function dueMarks(time: Rational | undefined, context: PartContext): XmlElement[] {
  const due = <T extends { readonly at: Rational }>(waiting: T[]): T[] =>
    waiting.splice(0, time ? waiting.filter(({ at }) => compare(at, time) <= 0).length : waiting.length)
  const tempi = due(context.tempi).map(({ meter }) => tempoElement(context.file.speed, meter))
  const marks = due(context.marks).flatMap(({ mark }) => markElement(mark) ?? [])
  return [...tempi, ...marks]
}
