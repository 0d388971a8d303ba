/** MusicXML's words for note values, accidentals and clefs. */
import { element, type XmlElement } from "../xml.js"

const TYPES: Readonly<Record<string, string>> = {
  breve: "breve",
  "1": "whole",
  "2": "half",
  "4": "quarter",
  "8": "eighth",
  "16": "16th",
  "32": "32nd",
  "64": "64th",
  "128": "128th",
  "256": "256th",
  "512": "512th",
  "1024": "1024th",
}

/** Undefined for what is shorter than MusicXML's shortest. */
export function typeName(dur: string): string | undefined {
  return TYPES[dur]
}

const ACCIDENTALS: Readonly<Record<string, readonly [name: string, semitones: number]>> = {
  s: ["sharp", 1],
  f: ["flat", -1],
  n: ["natural", 0],
  x: ["double-sharp", 2],
  ss: ["sharp-sharp", 2],
  ff: ["flat-flat", -2],
  ns: ["natural-sharp", 1],
  nf: ["natural-flat", -1],
  ts: ["triple-sharp", 3],
  xs: ["triple-sharp", 3],
  sx: ["triple-sharp", 3],
  tf: ["triple-flat", -3],
}

/** Undefined for an accidental that MusicXML has no name for. */
export function accidentalName(accidental: string): string | undefined {
  return ACCIDENTALS[accidental]?.[0]
}
/** 0 where nothing alters the note, or nobody knows how. */
export function semitones(accidental: string): number {
  return ACCIDENTALS[accidental]?.[1] ?? 0
}

const FIFTHS = ["f", "c", "g", "d", "a", "e", "b"]

/** As fifths where the signature is a modern one, else step by step. */
export function keyElement(accidentals: readonly { readonly step: string; readonly accidental: string }[]): XmlElement {
  const fifths = fifthsOf(accidentals)
  if (fifths !== undefined) return element("key", {}, element("fifths", {}, String(fifths)))
  const steps = accidentals.flatMap(({ step, accidental }) => [
    element("key-step", {}, step.toUpperCase()),
    element("key-alter", {}, String(semitones(accidental))),
    ...(accidentalName(accidental) ? [element("key-accidental", {}, accidentalName(accidental))] : []),
  ])
  return element("key", {}, ...steps)
}

function fifthsOf(accidentals: Parameters<typeof keyElement>[0]): number | undefined {
  if (accidentals.length === 0) return 0
  const alike = (kind: string, order: readonly string[]) => {
    const steps = new Set(accidentals.filter(one => one.accidental === kind).map(one => one.step))
    return accidentals.every(one => one.accidental === kind) &&
      order.slice(0, steps.size).every(step => steps.has(step))
      ? steps.size
      : undefined
  }
  const flats = alike("f", FIFTHS.toReversed())
  return flats === undefined ? alike("s", FIFTHS) : -flats
}
