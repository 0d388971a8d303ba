/** From drafts to the page: marks find their signs, signs without an id get one. */
import { signId, voiceId, type SignId } from "../../../base/index.js"
import { everySign, type Alternative, type Sign, type Voice } from "../../../page/index.js"
import {
  pointer,
  type AlternativeDraft,
  type PointingMark,
  type Reader,
  type Source,
  type VoiceDraft,
} from "./reader.js"
import { readMark } from "./signs.js"

/** Each mark goes before the sign it points to; without one, to the end of what its voice has. */
export function placeMarks(reader: Reader): void {
  if (reader.marks.length === 0 && reader.fermatas.length === 0) return
  const voices = [...reader.voices.values()]
  const anchors = new Map<string, { voice: VoiceDraft; top: Sign; sign: Sign }>()
  for (const voice of voices)
    for (const top of voice.signs)
      for (const sign of top.kind === "ligature" ? [top, ...top.members] : [top])
        if (sign.id && !anchors.has(sign.id)) anchors.set(sign.id, { voice, top, sign })
  for (const fermata of reader.fermatas) {
    const anchor = anchors.get(pointer(fermata, "startid") ?? "")
    // The draft is ours alone until the page is made.
    if (anchor && (anchor.sign.kind === "note" || anchor.sign.kind === "rest"))
      (anchor.sign as { fermata?: boolean }).fermata = true
  }
  const before = new Map<Sign, PointingMark[]>()
  for (const mark of reader.marks) {
    const startid = pointer(mark.element, "startid") ?? pointer(mark.element, "plist")
    const anchor = startid === undefined ? undefined : anchors.get(startid)
    if (anchor) before.set(anchor.top, [...(before.get(anchor.top) ?? []), mark])
    else placeLast(reader, mark, startid)
  }
  for (const voice of voices) insertMarks(reader, voice, before)
}

function placeLast(reader: Reader, mark: PointingMark, startid: string | undefined): void {
  if (startid !== undefined)
    reader.report(
      "unknown-sign",
      `startid="#${startid}" points to no sign that is read.`,
      "Point to the xml:id of a sign of this voice.",
      mark.element,
    )
  if (mark.voice) reader.add({ ...mark.voice, sink: mark.voice.signs }, readMark(mark.element), mark.element)
}

function insertMarks(reader: Reader, voice: VoiceDraft, before: ReadonlyMap<Sign, PointingMark[]>): void {
  if (!voice.signs.some(sign => before.has(sign))) return
  const all = voice.signs.flatMap(sign => {
    const marks = (before.get(sign) ?? []).map(({ element }) => {
      const mark = readMark(element)
      reader.sources.set(mark, { element })
      return mark
    })
    return [...marks, sign]
  })
  voice.signs.splice(0, voice.signs.length)
  for (const sign of all) voice.signs.push(sign)
}

/**
 * Gives ids to the signs that have none: number of the voice, point, running number of the sign in the voice
 * (ligatures and their members are all counted), the same at each reading. A second sign with an id that is taken
 * is treated as one without.
 */
export function giveIds(reader: Reader): void {
  if (reader.alternatives.every(({ place }) => place !== undefined))
    reader.alternatives.sort((a, b) => a.place! - b.place!)
  const taken = new Map<string, Sign>()
  const voices = [...reader.voices.values()]
  const alternatives = reader.alternatives.map(one => one.signs)
  for (const signs of [...voices.map(voice => voice.signs), ...alternatives])
    for (const sign of everySign(signs)) if (sign.id) claim(reader, taken, sign)
  for (const voice of voices) nameAll(reader, taken, voice.signs, voice.n)
  reader.alternatives.forEach((one, index) => nameAll(reader, taken, one.signs, `${one.voice.n}.${index + 1}`))
}

function claim(reader: Reader, taken: Map<string, Sign>, sign: Sign): void {
  if (!taken.has(sign.id)) {
    taken.set(sign.id, sign)
    return
  }
  const element = reader.sources.get(sign)?.element
  if (element)
    reader.report(
      "duplicate-id",
      `The id “${sign.id}” is given twice; this sign gets another.`,
      "Give each sign its own xml:id.",
      element,
    )
  setId(sign, signId(""))
}

function nameAll(reader: Reader, taken: Map<string, Sign>, signs: readonly Sign[], n: string): void {
  let running = 0
  for (const sign of everySign(signs)) {
    running++
    if (sign.id) continue
    let id = `${n}.${running}`
    while (taken.has(id)) id += "a"
    taken.set(id, sign)
    setId(sign, signId(id))
  }
}

/** The draft is ours alone until the page is made, so it may still be written to. */
function setId(sign: Sign, id: SignId): void {
  ;(sign as { id: SignId }).id = id
}

export function finishVoice(draft: VoiceDraft): Voice {
  const { id, n, label, lines, staffColour, notation, practice, signs } = draft
  return {
    id: voiceId(id),
    n,
    label,
    lines,
    ...(staffColour === undefined ? {} : { staffColour }),
    notation,
    ...(practice === undefined ? {} : { practice }),
    signs,
  }
}

export function finishAlternative(draft: AlternativeDraft, index: number): Alternative {
  const { voice, insteadOf, insteadOfIds, editorial, what, signs } = draft
  return {
    id: draft.id || `${voice.n}.alternative.${index + 1}`,
    voice: voiceId(voice.id),
    insteadOf: insteadOfIds?.map(id => signId(id)) ?? insteadOf.map(sign => sign.id),
    editorial,
    what,
    signs,
  }
}

/** Where each sign of the finished page came from. */
export function sourcesById(reader: Reader): Map<SignId, Source> {
  return new Map([...reader.sources].map(([sign, source]) => [sign.id, source]))
}
