/** Clefs and signatures of modern staves. */
import type { ModernClef } from "../../../edition/index.js"
import type { ScoreVoice } from "../../../score/index.js"
import { element, type XmlElement } from "../../xml.js"

export function clefElement({ shape, line, octaveBelow }: ModernClef): XmlElement {
  return element("clef", { shape, line, ...(octaveBelow ? { dis: 8, "dis.place": "below" } : {}) })
}

const FLATS = ["b", "e", "a", "d", "g", "c", "f"]
const SHARPS = [...FLATS].reverse()

type Accidentals = ScoreVoice["signatures"][number]["accidentals"]

/** As "1f" where the signature is a modern one, else accidental by accidental. */
export function keySignature(accidentals: Accidentals): XmlElement {
  const alike = (kind: string, order: readonly string[]) => {
    const steps = new Set(accidentals.filter(one => one.accidental === kind).map(one => one.step as string))
    return accidentals.every(one => one.accidental === kind) &&
      order.slice(0, steps.size).every(step => steps.has(step))
      ? steps.size
      : 0
  }
  const flats = alike("f", FLATS)
  const sharps = alike("s", SHARPS)
  if (accidentals.length === 0 || flats > 0 || sharps > 0)
    return element("keySig", { sig: flats > 0 ? `${flats}f` : sharps > 0 ? `${sharps}s` : "0" })
  return element(
    "keySig",
    {},
    ...accidentals.map(({ step, accidental }) => element("keyAccid", { pname: step, accid: accidental })),
  )
}
